/**
 * Whether a store still answers what it answered before. The rule: every number, instant, id, short name, flag, state and other enumerated
 * word must be the same, at the same place, and lists as long and in the same order; a key that was not there before is let through.
 * Numbers with a fraction may differ by rounding alone. Sentences and labels are the program's own words and are reworded: what stands
 * under the keys named here is left out, where it is text. What people wrote is compared word for word under "stored".
 */

/** Keys that hold words for people to read, wherever they stand. */
const WORDED: ReadonlySet<string> = new Set([
  ...["label", "labels", "quantityLabel", "kindLabel", "words", "headline", "caution", "text", "closingText"],
  ...["says", "twinSays", "why", "note", "reason", "waits", "gaps", "conflict", "checkFirst", "notMeasured"],
  ...["who", "between", "home", "against", "for", "of", "basis", "residents", "animals", "unknown"],
  ...["equation", "expression", "range", "href"],
]);
/** Where a key holds words only at some places: the path, lists left out, ends like this. */
const WORDED_AT: readonly RegExp[] = [
  /^system\.[^.]+\.working\..+\.source$/,
  /\.(steps|uncertainty)\.(name|unit)$/,
  /\.evidence\.rule$/,
];
/**
 * What is told of the stored numbers by rules that have changed since: which findings make a night and an incident, how long is left, which share of
 * home water is read first, why a derived value is not known. The findings themselves are compared under "stored".
 */
const TOLD_ANEW: readonly RegExp[] = [
  /^overnight\.(findings|groups|calmAllNight|summary)\b/,
  /^incidents\.incidents\b/,
  /\.forecast\.[^.]+\.limits\b/,
  /\.homeWater\.quantities\[\d+\]\.fits$/,
  /\.streams\[\d+\]\.reasons$/,
];
/** Of numbers with a fraction, as a part of the greater one: far below anything that is shown. */
const ROUNDING = 1e-12;

const isText = (value: unknown): boolean =>
  typeof value === "string" ||
  (Array.isArray(value) && value.every(isText)) ||
  (isRecord(value) && Object.values(value).every((each) => typeof each === "string"));

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const isStored = (path: string) => path.startsWith("stored.");

function isWorded(path: string, key: string, value: unknown): boolean {
  if (isStored(path) || !isText(value)) return false;
  return WORDED.has(key) || WORDED_AT.some((end) => end.test(path));
}

const under = (path: string, key: string) => (path === "" ? key : `${path}.${key}`);

/** The same without what is worded for people, as it is kept and compared. */
export function withoutWords(value: unknown, path = ""): unknown {
  if (Array.isArray(value)) return value.map((each) => withoutWords(each, path));
  if (!isRecord(value)) return value;
  const kept = Object.entries(value).filter(([key, each]) => !isWorded(under(path, key), key, each));
  return Object.fromEntries(kept.map(([key, each]) => [key, withoutWords(each, under(path, key))]));
}

/** Of an even count the earlier code took the upper of the two middle values for the median, which is between them: up to so much less of it. */
const MIDDLE = 1e-3;
const isMedian = (path: string) => /\.water(\[\d+\])?\.median$/.test(path);
const isTrueMedian = (before: unknown, now: unknown): boolean =>
  typeof before === "number" &&
  typeof now === "number" &&
  now <= before &&
  before - now <= MIDDLE * Math.abs(before);

const isSame = (a: unknown, b: unknown): boolean =>
  Object.is(a, b) ||
  (typeof a === "number" &&
    typeof b === "number" &&
    !(Number.isInteger(a) && Number.isInteger(b)) &&
    Math.abs(a - b) <= ROUNDING * Math.max(Math.abs(a), Math.abs(b)));

/** Each difference as its path with what stood there and what stands there now. */
export function differences(before: unknown, now: unknown, path = ""): string[] {
  if (TOLD_ANEW.some((told) => told.test(path))) return [];
  if (isSame(before, now) || (isMedian(path) && isTrueMedian(before, now))) return [];
  const shown = (value: unknown) => (JSON.stringify(value) ?? "nothing").slice(0, 200);
  const apart = [`${path}: it was ${shown(before)}, it is ${shown(now)}`];
  if (Array.isArray(before)) {
    if (!Array.isArray(now)) return apart;
    if (before.length !== now.length) return [`${path}: ${before.length} rows before, ${now.length} now`];
    return before.flatMap((each, i) => differences(each, now[i], `${path}[${i}]`));
  }
  if (!isRecord(before) || !isRecord(now)) return apart;
  return Object.entries(before).flatMap(([key, each]) => differences(each, now[key], under(path, key)));
}
