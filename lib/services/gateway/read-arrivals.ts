import type { ArrivalsQuery, ArrivalsView } from "#contract/arrivals.ts";
import { clockSkew, type Numbered, sequenceAccount } from "#core/gateway/index.ts";
import { isTimeSuspect } from "#core/quality/gross-range.ts";
import { QUARTER_HOUR, THREE_HOURS } from "#core/quality/rollup.ts";
import { DAY, HOUR, type Instant } from "#core/time/instant.ts";
import type { ArrivalRow, Source, Stream } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { invalid } from "../errors.ts";
import { isHistory } from "../evaluate/inputs.ts";
import { type IndexedSetUp, lookUp, type SystemSetUp, systemOf } from "../set-up.ts";

const LONGEST = 400 * DAY;
/** A clock that runs ahead dates its readings into times to come: as far as that is looked for. */
const AHEAD = 30 * DAY;
/** A clock is judged by the newest it sent: what it kept through an outage and sent late says nothing about it. */
const CLOCK_SPAN = 2 * HOUR;
const NUMBERS = 50_000;
const GAPS = 100;
const COMMITS = 500;

/**
 * How readings came in a span: what is missing of each stream and of each sender's count, whose clock is off, and which times cannot be
 * believed. Only streams of systems that may be seen. Throws AppError "not_found" or "invalid".
 */
export async function readArrivals(
  deps: Pick<ReadDeps, "store" | "clock" | "setUp">,
  query: ArrivalsQuery,
): Promise<ArrivalsView> {
  const { store } = deps;
  const now = deps.clock();
  const { from, to } = spanOf(query, now);
  const index = await deps.setUp.read();
  const systems = query.system === undefined ? index.systems : [await lookedUp(deps, query.system)];
  const streams = systems.flatMap((at) =>
    at.streams.filter((stream) => stream.origin === "probe" || stream.origin === "equipment"),
  );
  const ids = streams.map((stream) => stream.id);
  const width = to - from <= 2 * DAY ? QUARTER_HOUR : to - from <= 60 * DAY ? THREE_HOURS : DAY;
  const rows = await store.readArrivals({
    streams: ids,
    from,
    to: query.to === undefined ? to + AHEAD : to,
    width,
  });
  const sources = await sourcesOf(deps, index, rows, from, to);
  const missing = new Map<number, number>();
  for (const { sequence } of sources)
    for (const gap of sequence?.gaps ?? [])
      if (gap.stream !== null) missing.set(gap.stream, (missing.get(gap.stream) ?? 0) + gap.missing);
  const counts = new Map<number, number>();
  for (const row of rows) if (row.start < to) counts.set(row.stream, (counts.get(row.stream) ?? 0) + row.n);
  return {
    now,
    from,
    to,
    sources: sources.map((source) => ({
      ...source,
      sequence: source.sequence && {
        ...source.sequence,
        gaps: source.sequence.gaps.slice(-GAPS).reverse(),
      },
    })),
    streams: systems.flatMap((at) =>
      at.streams
        .filter((stream) => ids.includes(stream.id))
        .map((stream) =>
          completeness(at, stream, counts.get(stream.id) ?? 0, Math.min(to, now) - from, missing),
        ),
    ),
    suspects: await suspectTimes(deps, index, new Set(ids)),
  };
}

function spanOf(query: ArrivalsQuery, now: Instant): { readonly from: Instant; readonly to: Instant } {
  const to = query.to ?? now;
  const from = query.from ?? to - DAY;
  if (from < to && to - from <= LONGEST) return { from, to };
  throw invalid([
    {
      field: "from",
      value: new Date(from).toISOString(),
      says: "is not within 400 days before `to`",
      remedy: `send an instant between ${new Date(to - LONGEST).toISOString()} and ${new Date(to).toISOString()}`,
    },
  ]);
}

const lookedUp = (deps: Pick<ReadDeps, "setUp">, code: string): Promise<SystemSetUp> =>
  lookUp(deps.setUp, (index) => systemOf(index, code));

function completeness(
  at: SystemSetUp,
  stream: Stream & { readonly pointCode: string },
  readings: number,
  span: number,
  missing: ReadonlyMap<number, number>,
): ArrivalsView["streams"][number] {
  const { interval } = stream;
  const expected = interval === null || interval <= 0 ? null : Math.floor(span / interval);
  return {
    stream: stream.id,
    system: at.system.code,
    point: stream.pointCode,
    quantity: stream.quantity,
    readings,
    expected,
    share: expected === null || expected === 0 ? null : Math.min(1, readings / expected),
    missingNumbers: missing.get(stream.id) ?? 0,
  };
}

async function sourcesOf(
  { store }: Pick<ReadDeps, "store">,
  index: IndexedSetUp,
  rows: readonly ArrivalRow[],
  from: Instant,
  to: Instant,
): Promise<ArrivalsView["sources"]> {
  const bySource = new Map<number, ArrivalRow[]>();
  for (const row of rows) {
    const own = bySource.get(row.source);
    if (own) own.push(row);
    else bySource.set(row.source, [row]);
  }
  const known = new Map<number, Source>(index.setUp.sources.map((source) => [source.id, source]));
  const views: ArrivalsView["sources"] = [];
  for (const [id, own] of bySource) {
    const source = known.get(id);
    const isLive = source?.kind === "gateway" || source?.kind === "token";
    const last = Math.max(...own.map((row) => row.last));
    const recent = own.filter((row) => row.start > last - CLOCK_SPAN);
    const skew = isLive ? clockSkew(recent.map((row) => row.shortest)) : null;
    const streams = [...new Set(own.map((row) => row.stream))];
    views.push({
      source: source?.code ?? `source ${id}`,
      kind: source?.kind ?? "not known",
      streams: streams.length,
      readings: own.reduce((sum, row) => sum + row.n, 0),
      last,
      skew: skew?.skew ?? null,
      clock: skew?.health ?? null,
      longestDelay: isLive ? Math.max(...own.map((row) => row.longest)) : null,
      sequence: own.some((row) => row.numbered > 0) ? await sequenceOf(store, id, streams, from, to) : null,
    });
  }
  return views.sort((a, b) => a.source.localeCompare(b.source));
}

async function sequenceOf(
  store: ReadDeps["store"],
  source: number,
  streams: readonly number[],
  from: Instant,
  to: Instant,
): Promise<ArrivalsView["sources"][number]["sequence"]> {
  const numbered: readonly Numbered[] = await store.readNumbered({
    source,
    streams,
    from,
    to,
    limit: NUMBERS,
  });
  const { gaps, ...account } = sequenceAccount(numbered);
  const since = numbered.length < NUMBERS ? from : (numbered.at(-1)?.at ?? from);
  return { ...account, since, gaps: [...gaps] };
}

/**
 * The newest span of each stream, among the newest commits, that holds a time too far from its receipt to be believed. Recorded files are old by
 * nature, and a commit does not say who sent it: so one reading of the span does.
 */
async function suspectTimes(
  { store }: Pick<ReadDeps, "store">,
  index: IndexedSetUp,
  streams: ReadonlySet<number>,
): Promise<ArrivalsView["suspects"]> {
  const { journal } = await store.status();
  if (journal === null) return [];
  const entries = await store.journalAfter(Math.max(0, journal.seq - COMMITS), COMMITS);
  const newest = new Map<number, ArrivalsView["suspects"][number]>();
  for (const { spans, received } of entries)
    for (const [stream, from, to] of spans?.readings ?? [])
      if (streams.has(stream) && (isTimeSuspect(from, received) || isTimeSuspect(to, received)))
        newest.set(stream, { stream, from, to, received });
  const sources = new Map(index.setUp.sources.map((source) => [source.id, source]));
  const found = [...newest.values()];
  const recorded = await Promise.all(
    found.map(async ({ stream, from, to, received }) => {
      const at = isTimeSuspect(to, received) ? to : from;
      const [sent] = await store.readingsBetween([stream], at, at + 1, received);
      return sent !== undefined && isHistory(sources.get(sent.source));
    }),
  );
  return found.filter((_, n) => recorded[n] !== true).sort((a, b) => a.received - b.received);
}
