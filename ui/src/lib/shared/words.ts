/** How it stands with the shared folder, in words. */
import { grouped } from '../figures';
import type { AskingLine, ExchangeStatus, WaitingLine } from '../generated/exchange';
import type { SharedProgress, SharedSign } from '../generated/types';
import { clock, moment } from '../moments';

/** What a state is told with beside its words: a shape and a colour. */
export type Shape = 'done' | 'moving' | 'waits' | 'away' | 'stop' | 'none';

export interface State {
  shape: Shape;
  /** For the head of the window. */
  short: string;
  /** For the page. */
  long: string;
}

/** What came from others is shown as typed: what would steer a line or turn its direction stands as a sign for it. */
export function plain(text: string): string {
  // eslint-disable-next-line no-control-regex
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, '\ufffd');
}

export function count(number: number, word: string, more = `${word}s`): string {
  return `${grouped(number)} ${number === 1 ? word : more}`;
}

/** Bytes as people read them, by steps of a thousand. */
export function bytes(number: number): string {
  const units = ['B', 'kB', 'MB', 'GB', 'TB'];
  let [value, step] = [number, 0];
  while (value >= 1000 && step < units.length - 1) [value, step] = [value / 1000, step + 1];
  return `${grouped(value, step === 0 || value >= 100 ? 0 : 1)} ${units[step]}`;
}

/** Digits of a device's key that are enough to compare by eye. */
export function digits(id: string): string {
  return (id.slice(0, 16).match(/.{1,4}/g) ?? []).join(' ');
}

export function called(person: string | null | undefined, device: string | null | undefined): string {
  if (person == null || device == null) return 'somebody whose name this device cannot read';
  return `${plain(person)} on ${plain(device)}`;
}

/** What is here and not in the folder yet; empty where nothing is. */
export function unshared(items: number, files: number, size: number | null = null): string {
  const photos = size === null ? count(files, 'photo file') : `${count(files, 'photo file')} (${bytes(size)})`;
  return [items > 0 ? count(items, 'change') : '', files > 0 ? photos : ''].filter((part) => part !== '').join(' and ');
}

export function progress({ took, gave, photo_bytes }: SharedProgress): string {
  const photos = photo_bytes > 0 ? `, ${bytes(photo_bytes)} of photos carried` : '';
  return `${count(took, 'item')} came, ${grouped(gave)} given${photos}`;
}

/** How it stands; `size` is that of the photo files that are not shared yet, where the page knows it [B]. */
export function stateOf(sign: SharedSign, size: number | null = null): State {
  const waiting = unshared(sign.unshared_items, sign.unshared_photo_files, size);
  const things = sign.unshared_items + sign.unshared_photo_files;
  const kept = waiting === '' ? '' : ` ${waiting} ${things === 1 ? 'waits here and goes' : 'wait here and go'} with the next round.`;
  if (sign.state === 'alone') return { shape: 'none', short: 'not shared', long: 'This device shares with nobody yet' };
  if (sign.state === 'removed') return { shape: 'stop', short: 'removed', long: 'This device was removed from the team' };
  if (sign.read_only) return { shape: 'none', short: 'read only', long: 'Nothing is shared from this window: another program has the sites open' };
  if (sign.sharing !== null) return { shape: 'moving', short: 'sharing…', long: `Sharing now: ${progress(sign.sharing)}` };
  if (sign.failing_since !== null) {
    const since = clock(sign.failing_since);
    return sign.passing
      ? { shape: 'away', short: `offline since ${since}`, long: `The folder cannot be reached since ${since}.${kept}` }
      : { shape: 'stop', short: `not shared since ${since}`, long: `Sharing does not work since ${since}.${kept}` };
  }
  if (sign.failure !== null && sign.state === 'member') return { shape: 'waits', short: things > 0 ? `${grouped(things)} wait` : 'sharing waits', long: `Sharing waits.${kept}` };
  if (sign.state === 'waiting') return { shape: 'waits', short: 'asks to be let in', long: 'This device asks to be let in' };
  if (sign.stopped) return { shape: 'waits', short: things > 0 ? `stopped, ${grouped(things)} wait` : 'stopped', long: `Stopped by you; it goes on in some minutes, or when you share now.${kept}` };
  if (things > 0) return { shape: 'waits', short: `${grouped(things)} not yet shared`, long: `Not yet shared: ${waiting}` };
  if (sign.last_round === null) return { shape: 'waits', short: 'not looked yet', long: 'Nothing was shared yet' };
  return { shape: 'done', short: 'up to date', long: `Up to date as of ${moment(sign.last_round)}` };
}

/** Whose invitation it is, by the device that made it. */
export function invitationOf(status: ExchangeStatus, device: string): string {
  if (device === status.device) return 'an invitation of yours';
  const by = [...status.members, ...status.removed].find((member) => member.id === device);
  return by === undefined ? 'an invitation of the team' : `an invitation of ${called(by.person, by.device)}`;
}

/** Why a device that asks cannot simply be let in; null where it can. */
export function whyNot(line: AskingLine): string | null {
  if (line.person === null) return 'It asks without an invitation of this team. Do not let it in; if somebody you know waits, invite them anew.';
  if (line.used_by !== null) return `Its invitation was used by device ${digits(line.used_by)} before, so somebody else may have read the code. If it is yours, invite it anew.`;
  return null;
}

/** Changes that do not count, why, and what can be done; the sites by what people call them. */
export function waits(line: WaitingLine, label: (site: string) => string): string {
  const who = called(line.person, line.device_name);
  const sites = line.sites.map((site) => `${grouped(site.changes)} in ${site.id === 'team' ? 'the firm’s catalogues and settings' : plain(label(site.id))}`).join(', ');
  const changes = count(line.changes, 'change');
  const verb = line.changes === 1;
  switch (line.waits_for) {
    case 'unknown_device':
      return `${changes} (${sites}) ${verb ? 'waits' : 'wait'} for ${who}, a device that nobody let in.`;
    case 'removed_device':
      return `${changes} (${sites}) ${verb ? 'does' : 'do'} not count: ${verb ? 'it comes' : 'they come'} from ${who}, written after that device was removed.`;
    case 'missing_change':
      return `${changes} (${sites}) ${verb ? 'waits' : 'wait'} for others on which ${verb ? 'it builds' : 'they build'} and which are not here yet.`;
    case 'damaged':
      return `${changes} (${sites}) ${verb ? 'is' : 'are'} damaged and ${verb ? 'does' : 'do'} not count.`;
  }
}
