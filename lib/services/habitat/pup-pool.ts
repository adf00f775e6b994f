import type { Proof, PupPoolView } from "#contract/night-counts.ts";
import {
  type BandEdges,
  type BreedingEvent,
  type BreedingWatch,
  censoredDeviation,
  deviation,
  edgesFor,
} from "#core/habitat/index.ts";
import { streamFor } from "#core/light/index.ts";
import { isGood } from "#core/quality/flag.ts";
import { durationText } from "#core/time/duration-text.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { resultText } from "#core/units/bound-text.ts";
import { numberText, rangeText, withUnit } from "#core/units/number-text.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Current, Stream } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import type { IndexedSetUp, SystemSetUp } from "../set-up.ts";

/** A filter is cycled where both are proven low. */
const CYCLED = ["total_ammonia", "nitrite"] as const;
/** The pool is to be at the mother's temperature and salinity; only temperature says whether it is warm. */
const LIKE_MOTHER = ["temperature", "salinity"] as const;

interface Judged {
  readonly proof: Proof;
  readonly says: string;
}
interface Value {
  readonly value: number;
  readonly at: Instant;
  readonly words: string;
  /** Of a bench test: less than, or more than it could tell. */
  readonly qualifier: "=" | "<" | ">";
}

/** A value against its band: "not known" where there is none to compare it with. */
function judged(quantity: string, found: Value, edges: BandEdges | null, now: Instant): Judged {
  const { label, unitLabel, decimals } = labelOf(quantity);
  const value = `${label} ${found.words}${unitLabel === "" ? "" : ` ${unitLabel}`}, ${durationText(now - found.at)} ago`;
  if (edges === null || (edges.low === null && edges.high === null))
    return { proof: "not known", says: `${value}: no band is set for it there` };
  const far =
    found.qualifier === "="
      ? deviation(found.value, edges)
      : censoredDeviation(found.value, found.qualifier === "<" ? "below" : "above", edges);
  if (far === null)
    return {
      proof: "not known",
      says: `${value}: not precise enough for its band, ${rangeText(edges, decimals)}`,
    };
  const says = `${value}: ${far === 0 ? "within" : "outside"} its band, ${rangeText(edges, decimals)}`;
  return { proof: far === 0 ? "yes" : "no", says };
}
const together = (proofs: readonly Proof[]): Proof =>
  proofs.includes("no") ? "no" : proofs.includes("not known") ? "not known" : "yes";

/** Newest bench test of a quantity. A young filter is proven for a day, another for a week, as a test of ammonia counts elsewhere. */
async function tested(
  { store }: Pick<ReadDeps, "store">,
  at: SystemSetUp,
  quantity: string,
  now: Instant,
): Promise<Judged> {
  const streams = at.streams.filter((each) => each.origin === "bench" && each.quantity === quantity);
  const results = await store.lastBench(
    streams.map(({ id }) => id),
    1,
  );
  const newest = results.filter((row) => row.at <= now).toSorted((a, b) => b.at - a.at)[0];
  const { label, decimals } = labelOf(quantity);
  if (!newest) return { proof: "not known", says: `${label} has never been tested there: test it` };
  const point = streams.find(({ id }) => id === newest.stream)?.pointCode ?? "";
  const { value, qualifier } = newest;
  const words = resultText(value, qualifier, decimals);
  const verdict = judged(
    quantity,
    { value, at: newest.at, words, qualifier },
    edgesFor(at, quantity, point, now),
    now,
  );
  if (newest.answer === "again")
    return { proof: "not known", says: `${verdict.says}, but the tester was unsure: test it again` };
  const counts = at.system.youngFilter ? DAY : 7 * DAY;
  return now - newest.at <= counts || verdict.proof === "no"
    ? verdict
    : { proof: "not known", says: `${verdict.says}, but older than ${durationText(counts)}: test it now` };
}

const believed = (stream: Stream | undefined, currents: readonly Current[], now: Instant): Value | null => {
  const row = currents.find((each) => each.stream === stream?.id);
  if (!row || !isGood(row.flag) || (row.silentAt !== null && now >= row.silentAt)) return null;
  const { decimals } = labelOf(stream?.quantity ?? "");
  return { value: row.value, at: row.at, words: numberText(row.value, decimals), qualifier: "=" };
};

/** A probe of the pool against the pool's band, and beside the mother's water. */
function likeMother(
  quantity: string,
  pool: SystemSetUp,
  mother: SystemSetUp,
  currents: readonly Current[],
  now: Instant,
): Judged {
  const { label, unitLabel, decimals } = labelOf(quantity);
  const stream = streamFor(pool.streams, quantity);
  const here = believed(stream, currents, now);
  if (!stream || !here)
    return { proof: "not known", says: `${label} there is not known: no probe there has a good reading now` };
  const verdict = judged(quantity, here, edgesFor(pool, quantity, stream.pointCode, now), now);
  const there = believed(streamFor(mother.streams, quantity), currents, now);
  const beside = there
    ? `; ${mother.system.name} ${there.words}${unitLabel === "" ? "" : ` ${unitLabel}`}, ${withUnit(Math.abs(here.value - there.value), decimals, unitLabel)} apart`
    : `; not known in ${mother.system.name}`;
  return { proof: verdict.proof, says: `${verdict.says}${mother === pool ? "" : beside}` };
}

/** The pool that a person named for the young of a watch: cycled and at temperature, with what that rests on; null where none is named or seen. */
export async function readPupPool(
  deps: Pick<ReadDeps, "store">,
  index: IndexedSetUp,
  watch: BreedingWatch,
  mother: SystemSetUp,
  events: readonly BreedingEvent[],
  now: Instant,
): Promise<PupPoolView | null> {
  const named = events.filter((event) => event.watch === watch.id && event.kind === "pup pool").at(-1);
  const pool = named && index.byId.get(String(named.data.system));
  if (!pool) return null;
  const cycled = await Promise.all(CYCLED.map((quantity) => tested(deps, pool, quantity, now)));
  const streams = [pool, mother].flatMap((at) =>
    LIKE_MOTHER.flatMap((q) => streamFor(at.streams, q)?.id ?? []),
  );
  const currents = streams.length === 0 ? [] : await deps.store.readCurrent(streams);
  const [temperature, salinity] = LIKE_MOTHER.map((quantity) =>
    likeMother(quantity, pool, mother, currents, now),
  );
  const hasSalt = streamFor(pool.streams, "salinity") !== undefined;
  return {
    system: pool.system.code,
    name: pool.system.name,
    cycled: together(cycled.map(({ proof }) => proof)),
    atTemperature: temperature?.proof ?? "not known",
    says: [...cycled, temperature, hasSalt ? salinity : undefined].flatMap((each) => each?.says ?? []),
  };
}
