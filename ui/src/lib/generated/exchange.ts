// Generated from core/desk/src/wire by `make bless`; changes here are overwritten.

/**
 * A file in the folder that was set aside: it is never used, and nothing else suffers from it.
 */
export type AsideLine = {
/**
 * Its path within the folder.
 */
path: string,
/**
 * What is the matter with it.
 */
why: string, };

/**
 * A device that asks to be let in.
 */
export type AskingLine = {
/**
 * Its public key.
 */
id: string,
/**
 * Who works on it, by its own word; nothing where it asks without an invitation of this team.
 */
person: string | null,
/**
 * What it is called.
 */
device: string | null,
/**
 * The device whose invitation it has.
 */
invited_by: string | null,
/**
 * The device that came with the same invitation before.
 */
used_by: string | null, };

/**
 * An invitation. The code lets one device ask; it is for one person's eyes.
 */
export type ExchangeInvitation = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The code.
 */
code: string,
/**
 * Where the team's files lie, as this device names it.
 */
address: string, };

/**
 * Where a team's files lie, with nothing secret in it.
 */
export type ExchangePlace = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The path of a folder, `https://host/path` of a WebDAV drive, or `s3://bucket/prefix` of an object store.
 */
address: string,
/**
 * The name for a drive on the web, or the id of the key for an object store.
 */
user: string | null,
/**
 * Whether a password, or the secret of the key, is kept for it.
 */
has_password: boolean,
/**
 * Of an object store: the address of its server.
 */
server: string | null,
/**
 * Of an object store: its region; `us-east-1` where absent.
 */
region: string | null,
/**
 * A file with certificates of authorities that count beside those that this machine knows.
 */
ca: string | null,
/**
 * The address of a proxy, without name and password.
 */
proxy: string | null,
/**
 * Whether a name and a password are kept for the proxy.
 */
has_proxy_login: boolean,
/**
 * So many bytes a second at most, both ways together.
 */
bytes_per_second: number | null,
/**
 * Rounds run on these networks alone, each by the hardware address of its gateway; on every one where there is none.
 */
only_on: Array<string>,
/**
 * The network that this device is on, by the hardware address of its gateway; nothing where that cannot be told.
 */
network: string | null,
/**
 * For what rounds wait, where they are held back because of the network, and what to do about it with the command.
 */
held_back: string | null,
/**
 * The same for whoever sits at the window.
 */
held_back_in_window: string | null, };

/**
 * What a round did.
 */
export type ExchangeRound = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * How this device stands to the team.
 */
state: ExchangeState,
/**
 * Whether it was stopped before its end.
 */
stopped: boolean,
/**
 * Changes, and what belongs to them, that came.
 */
took: number,
/**
 * Those that were given.
 */
gave: number,
/**
 * Photo files, smaller copies included, that came whole.
 */
photo_files_took: number,
/**
 * Those that were put into the folder.
 */
photo_files_gave: number,
/**
 * Bytes of photos that were carried, either way.
 */
photo_bytes: number,
/**
 * What was set aside in the folder.
 */
set_aside: Array<AsideLine>,
/**
 * Devices outside the team that write into the folder.
 */
strangers: Array<string>,
/**
 * How many devices ask to be let in.
 */
asking: number,
/**
 * Changes that are here and do not count.
 */
waiting: Array<WaitingLine>,
/**
 * Files that were written again because they were missing or damaged.
 */
mended: number,
/**
 * Files that could not be read yet.
 */
lacking: number,
/**
 * What there is to say of the team's clocks.
 */
clock: string | null, };

/**
 * How this device stands to a team.
 */
export type ExchangeState = "alone" | "waiting" | "member" | "removed";

/**
 * How things stand with the shared folder.
 */
export type ExchangeStatus = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * How this device stands to the team.
 */
state: ExchangeState,
/**
 * This device, by its public key.
 */
device: string,
/**
 * Who works on it.
 */
person: string,
/**
 * What it is called.
 */
device_name: string,
/**
 * Where its key and the password of its place lie.
 */
keys: KeysIn,
/**
 * Where the team's files lie.
 */
address: string | null,
/**
 * The settings of that place, without what is secret.
 */
place: ExchangePlace | null,
/**
 * The team, by the SHA-256 of the first entry of its log.
 */
team: string | null,
/**
 * Whether its files are sealed, so that nobody outside the team can read them.
 */
sealed: boolean | null,
/**
 * The devices of the team.
 */
members: Array<MemberLine>,
/**
 * The devices that were removed from it.
 */
removed: Array<RemovedLine>,
/**
 * The devices that ask to be let in.
 */
asking: Array<AskingLine>,
/**
 * Changes that are here and do not count.
 */
waiting: Array<WaitingLine>,
/**
 * What others gave that this release cannot use; it is kept and passed on.
 */
kept_aside: Array<KeptAsideLine>,
/**
 * Changes, and what belongs to them, that are not in the folder yet.
 */
unshared_items: number,
/**
 * Photo files, smaller copies included, that are not in the folder yet.
 */
unshared_photo_files: number,
/**
 * How many bytes these have.
 */
unshared_photo_bytes: number,
/**
 * The sites that are kept here with the originals of their photos.
 */
kept_sites: Array<string>,
/**
 * Whether every site is kept so.
 */
keeps_every_site: boolean,
/**
 * When a round last came to its end, in UTC (RFC 3339).
 */
last_round: string | null,
/**
 * Since when none has, in UTC (RFC 3339).
 */
failing_since: string | null,
/**
 * Why, and what to do about it with the command.
 */
failure: string | null,
/**
 * The same for whoever sits at the window.
 */
failure_in_window: string | null,
/**
 * What there is to say of the team's clocks.
 */
clock: string | null, };

/**
 * What others gave that this release cannot use.
 */
export type KeptAsideLine = {
/**
 * Why.
 */
why: string,
/**
 * How many items.
 */
items: number, };

/**
 * Where the key of this device and the password of its place lie.
 */
export type KeysIn = "file" | "keyring";

/**
 * A device of the team.
 */
export type MemberLine = {
/**
 * Its public key.
 */
id: string,
/**
 * Who works on it, by its own word; nothing where this device has no key to read it.
 */
person: string | null,
/**
 * What it is called.
 */
device: string | null,
/**
 * Whether it is this device.
 */
this: boolean,
/**
 * When it last wrote into the folder, by its own clock, in UTC (RFC 3339).
 */
last_shared: string | null, };

/**
 * A password or a secret key. It is never printed, and no answer holds one.
 */
export type Password = string;

/**
 * What a person says about the place where a team's files lie.
 */
export type PlaceForm = {
/**
 * The path of a folder, `https://host/path` of a WebDAV drive, or `s3://bucket/prefix` of an object store.
 */
address: string,
/**
 * The name for a drive on the web, or the id of the key for an object store.
 */
user: string | null,
/**
 * The password, or the secret of the key. Where absent, the one that is kept stays, as long as the same server asks for
 * it under the same name; an empty one is forgotten.
 */
password: Password | null,
/**
 * Of an object store: the address of its server, as `https://host`.
 */
server: string | null,
/**
 * Of an object store: its region; `us-east-1` where absent.
 */
region: string | null,
/**
 * A file with certificates, in PEM form, of authorities that count beside those that this machine knows.
 */
ca: string | null,
/**
 * The address of a proxy, as `http://host:port`, perhaps with `name:password@` before the host; without, a login that is
 * kept for the same proxy stays. Where absent, what the machine says.
 */
proxy: string | null,
/**
 * So many bytes a second at most, both ways together.
 */
bytes_per_second: number | null,
/**
 * Rounds run on these networks alone, each by the hardware address of its gateway; on every one where there is none.
 */
only_on: Array<string>, };

/**
 * A device that was removed.
 */
export type RemovedLine = {
/**
 * Its public key.
 */
id: string,
/**
 * Who worked on it.
 */
person: string | null,
/**
 * What it is called.
 */
device: string | null, };

/**
 * How many changes of one site wait.
 */
export type SiteWaits = {
/**
 * The site's id; `team` is the firm's own document.
 */
id: string,
/**
 * How many.
 */
changes: number, };

/**
 * Changes that are here and do not count.
 */
export type WaitingLine = {
/**
 * For what they wait.
 */
waits_for: WaitsFor,
/**
 * The device.
 */
device: string | null,
/**
 * Who works on it, by its own word.
 */
person: string | null,
/**
 * What it is called.
 */
device_name: string | null,
/**
 * How many changes.
 */
changes: number,
/**
 * In which sites.
 */
sites: Array<SiteWaits>, };

/**
 * For what a change waits.
 */
export type WaitsFor = "unknown_device" | "removed_device" | "missing_change" | "damaged";
