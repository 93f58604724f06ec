// Generated from core/desk/src/wire by `make bless`; changes here are overwritten.

/**
 * One change.
 */
export type ChangeLine = {
/**
 * Its name: the beginning of it, or the whole, shows the site as it was with it.
 */
change: string,
/**
 * When, in UTC (RFC 3339).
 */
when: string,
/**
 * Who, by its own word.
 */
person: string,
/**
 * The device, by its public key.
 */
device: string,
/**
 * What, in words.
 */
sentence: string, };

/**
 * A device.
 */
export type DeviceLine = {
/**
 * Its public key, in hexadecimal digits.
 */
id: string,
/**
 * What it is called, by its own word.
 */
device: string,
/**
 * Who works on it, by its own word.
 */
person: string,
/**
 * Whether its changes count here.
 */
known: boolean,
/**
 * Whether it is this device.
 */
this: boolean, };

/**
 * The devices that were heard of.
 */
export type DeviceList = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The devices, this one first.
 */
devices: Array<DeviceLine>, };

/**
 * One field that people changed at once to different values.
 */
export type DisagreementLine = {
/**
 * Its name, by which it is settled.
 */
name: string,
/**
 * What it is about, in words.
 */
about: string,
/**
 * Whether it is an answer about safety, which counts as stop until it is settled.
 */
stops: boolean,
/**
 * The values, the one shown meanwhile first.
 */
positions: Array<PositionLine>, };

/**
 * One place.
 */
export type HitLine = {
/**
 * The site's id.
 */
id: string,
/**
 * What people call the site.
 */
label: string,
/**
 * The thing, in words.
 */
thing: string,
/**
 * The field.
 */
field: string,
/**
 * The text.
 */
text: string, };

/**
 * One of the values.
 */
export type PositionLine = {
/**
 * Its number, from 1.
 */
number: number,
/**
 * The value in words.
 */
value: string,
/**
 * Who wrote it.
 */
person: string,
/**
 * When, in UTC (RFC 3339).
 */
when: string, };

/**
 * A change that does not count.
 */
export type SetAsideLine = {
/**
 * Who, by its own word.
 */
person: string,
/**
 * The device, by its public key.
 */
device: string,
/**
 * Why it does not count.
 */
why: string, };

/**
 * Fields over which people disagree.
 */
export type SiteDisagreements = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The site's id.
 */
id: string,
/**
 * The disagreements.
 */
disagreements: Array<DisagreementLine>, };

/**
 * Every change of a site, each after what it builds on.
 */
export type SiteHistory = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The site's id.
 */
id: string,
/**
 * The changes.
 */
changes: Array<ChangeLine>,
/**
 * Changes that do not count, and why.
 */
set_aside: Array<SetAsideLine>, };

/**
 * Places where the words were found.
 */
export type SiteHits = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * What was looked for.
 */
words: string,
/**
 * The places, best first.
 */
hits: Array<HitLine>, };

/**
 * A site in the list.
 */
export type SiteLine = {
/**
 * Its id.
 */
id: string,
/**
 * What people call it.
 */
label: string,
/**
 * Where it is, in words.
 */
address: string,
/**
 * How far the job has come: survey, scheme, price or fit.
 */
stage: string,
/**
 * How many rails it has.
 */
rails: number,
/**
 * How many features its rails have.
 */
features: number,
/**
 * How many photos it has.
 */
photos: number,
/**
 * Findings of the survey and of the record alone. Those of the plan and its rules are not among them: they hang
 * on the catalogue, and `newel site show` counts them all.
 */
findings: SurveyFindings,
/**
 * Fields over which people disagree.
 */
disagreements: number,
/**
 * Values that this release cannot read.
 */
unreadable: number,
/**
 * Changes that do not count, since their device is not known here or they are damaged.
 */
set_aside: number,
/**
 * Whether it is in the archive.
 */
archived: boolean,
/**
 * When it was last changed, in UTC (RFC 3339).
 */
last_change: string, };

/**
 * The sites of a store, last changed first.
 */
export type SiteList = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The sites.
 */
sites: Array<SiteLine>, };

/**
 * Findings of a survey, counted.
 */
export type SurveyFindings = {
/**
 * Those that stop the job.
 */
stop: number,
/**
 * Those to look at: not evaluated, or a caution.
 */
open: number, };
