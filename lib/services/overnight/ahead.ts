/** The courses that forecasts rest on: hourly means of the last weeks and quarter-hour means of the last hours. */
import { traitsOf } from "#core/alarms/kinds.ts";
import type { Crossing } from "#core/forecast/forecast.ts";
import { type Heading, inDays } from "#core/forecast/time-left.ts";
import { isGood } from "#core/quality/flag.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { DAY, HOUR, type Instant, MINUTE } from "#core/time/instant.ts";
import type { Finding, RollupRow, Store, Stream } from "#store/port.ts";
import type { AheadReader, Days } from "../deps.ts";

/** Eight days make the course, fourteen of errors the interval. */
const READ = 24 * DAY;
/** So far back the last hours are looked at; of what changes too fast, since that began. */
const RECENT = 6 * HOUR;

/** One mean an hour up to the hour that is over, from the first that was read; NaN where nothing good was. */
function hourly(rows: readonly RollupRow[], to: Instant): number[] {
  const first = rows.find((row) => row.good > 0);
  if (!first) return [];
  const from = first.start - (first.start % HOUR);
  const count = Math.floor((to - from) / HOUR);
  const [sums, good] = [new Float64Array(count), new Float64Array(count)];
  for (const row of rows) {
    const hour = Math.floor((row.start - from) / HOUR);
    if (hour < 0 || hour >= count) continue;
    sums[hour] = (sums[hour] ?? 0) + row.sum;
    good[hour] = (good[hour] ?? 0) + row.good;
  }
  return Array.from(sums, (sum, i) => (good[i] === 0 ? Number.NaN : sum / (good[i] as number)));
}

/** Hourly means of each stream over the last weeks, the last hour that is over last. */
export async function readHours(
  store: Store,
  streams: readonly number[],
  now: Instant,
): Promise<ReadonlyMap<number, readonly number[]>> {
  const to = now - (now % HOUR);
  const rows = new Map<number, RollupRow[]>(streams.map((stream) => [stream, []]));
  for (const row of await store.readRollups({ streams, from: to - READ, to, width: QUARTER_HOUR }))
    rows.get(row.stream)?.push(row);
  return new Map([...rows].map(([stream, own]) => [stream, hourly(own, to)]));
}

/** Quarter-hour means of each stream since its own moment, at most the last six hours. */
export async function readRecent(
  store: Store,
  since: ReadonlyMap<number, Instant>,
  now: Instant,
): Promise<ReadonlyMap<number, Heading["recent"]>> {
  const from = now - RECENT;
  const rows = await store.readRollups({
    streams: [...since.keys()],
    from,
    to: now + 1,
    width: QUARTER_HOUR,
  });
  const known = new Map<number, (readonly [number, number])[]>();
  for (const row of rows) {
    if (row.good === 0 || row.start < (since.get(row.stream) ?? from)) continue;
    const middle = Math.min(row.start + QUARTER_HOUR / 2, now);
    const own = known.get(row.stream) ?? [];
    own.push([(middle - now) / HOUR, row.sum / row.good]);
    known.set(row.stream, own);
  }
  return known;
}

/** The probe itself is in doubt: what it reads is no course of the water. */
export const isDoubtful = (finding: Pick<Finding, "kind" | "rule">): boolean =>
  traitsOf(finding).isNoEvidence;

/** It changes too fast: its rate needs no other proof. */
export const isFast = (finding: Pick<Finding, "kind" | "rule">): boolean =>
  traitsOf(finding).timeLeft === "by its rate";

/** From when on the last hours of a stream with these open findings speak: of what changes too fast, since that began. */
export function recentSince(own: readonly Pick<Finding, "kind" | "rule" | "began">[], now: Instant): Instant {
  const fast = own.filter(isFast).map((row) => row.began);
  return Math.max(now - RECENT, ...fast);
}

/** Readings of an event that are looked at, the newest. */
const MOST_OF_EVENT = 400;

/** A stream whose change is too fast, and since when. */
export interface Event {
  readonly stream: number;
  readonly origin: Stream["origin"];
  readonly began: Instant;
}

/** When what changes too fast in these open findings began; null where nothing does. */
export function eventBegan(own: readonly Pick<Finding, "kind" | "rule" | "began">[]): Instant | null {
  const fast = own.filter(isFast).map((row) => row.began);
  return fast.length === 0 ? null : Math.max(...fast);
}

/** Good readings of each event since it began, at most of the last six hours. */
export async function readEvents(
  store: Store,
  events: readonly Event[],
  now: Instant,
): Promise<ReadonlyMap<number, NonNullable<Heading["event"]>>> {
  const read = async ({ stream, origin, began }: Event) => {
    const from = Math.max(began, now - RECENT);
    const [rows, flags] = await Promise.all([
      origin === "derived"
        ? store.readDerived(stream, from, now + 1, MANY)
        : store.readingsBetween([stream], from, now + 1, Number.MAX_SAFE_INTEGER),
      store.readFlags(stream, from, now + 1, MANY),
    ]);
    const aside = new Set(flags.filter((row) => !isGood(row.flag)).map((row) => row.at));
    const good = rows.filter((row) => !aside.has(row.at)).slice(-MOST_OF_EVENT);
    return [stream, good.map(({ at, value }) => [(at - now) / HOUR, value] as const)] as const;
  };
  return new Map(await Promise.all(events.map(read)));
}

const MANY = 10_000;
const OLDEST = 10 * MINUTE;

/** Remembers the weeks of the streams that were asked for last, and what was told of them. */
export function createAheadReader(store: Store): AheadReader {
  let kept = new Map<number, { readonly readAt: Instant; readonly days: Days }>();
  return {
    async read(streams, now) {
      const hour = now - (now % HOUR);
      const isFresh = (readAt: Instant) => readAt >= hour && readAt <= now && now - readAt < OLDEST;
      const fresh = new Map(
        streams.flatMap((stream) => {
          const known = kept.get(stream);
          return known && isFresh(known.readAt) ? [[stream, known] as const] : [];
        }),
      );
      const missing = streams.filter((stream) => !fresh.has(stream));
      if (missing.length > 0)
        for (const [stream, hours] of await readHours(store, missing, now))
          fresh.set(stream, { readAt: now, days: remembering(hours) });
      kept = fresh;
      return new Map([...fresh].map(([stream, { days }]) => [stream, days]));
    },
  };
}

/** A forecast costs tens of milliseconds where a trend is proven; a goal stays the same for days. */
function remembering(hours: readonly number[]): Days {
  const told = new Map<string, Crossing | null>();
  return (goal, side) => {
    const key = `${side} ${goal}`;
    const known = told.get(key);
    if (known !== undefined) return known;
    const crossing = inDays(hours, goal, side);
    told.set(key, crossing);
    return crossing;
  };
}
