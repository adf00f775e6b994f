/** What was measured around an incident, in the terms that causes are described in. */

import { traitsOf } from "#core/alarms/kinds.ts";
import { planAt } from "#core/habitat/index.ts";
import type { Seen } from "#core/incidents/cause.ts";
import { isReturn, wayOf } from "#core/incidents/finding-way.ts";
import { matters, signOf, type Track, type Way } from "#core/incidents/sign.ts";
import { inForce, type LogEntry } from "#core/logbook/entry.ts";
import { isGood } from "#core/quality/flag.ts";
import { QUARTER_HOUR, THREE_HOURS } from "#core/quality/rollup.ts";
import { isKnownStream, type KnownStream } from "#core/set-up/known-stream.ts";
import { mainPoint } from "#core/set-up/point-role.ts";
import { DAY, HOUR, type Instant, MINUTE } from "#core/time/instant.ts";
import { type QuantityId, quantity, stateWord } from "#core/units/index.ts";
import type { BenchResult, Current, Finding, RollupRow, Store } from "#store/port.ts";
import type { IndexedSetUp, SystemSetUp } from "../set-up.ts";

const NEAR_BEFORE = 7 * HOUR;
/** A cause is recognised by the hours after the beginning, not by what was fixed since. */
const LOOKS = 6 * HOUR;
const DAYS = 8 * DAY;
const LOG_BEFORE = 6 * HOUR;
const LOG_AFTER = 30 * MINUTE;
const RESULTS = 5;
/** Degrees an hour that say another system warms or cools too. */
const ELSEWHERE = 0.08;

function trackOfProbe(
  stream: KnownStream,
  at: SystemSetUp,
  rows: readonly RollupRow[],
  onset: Instant,
  until: Instant,
): Track {
  const good = rows.filter((row) => row.stream === stream.id && row.good > 0 && row.start <= until);
  const plan = at.plans.find(
    (row) =>
      row.quantity === stream.quantity &&
      row.validFrom <= onset &&
      (row.validTo === null || until < row.validTo),
  );
  const planned = plan ? planAt(plan.shape, until) - planAt(plan.shape, onset - HOUR) : Number.NaN;
  return {
    ...common(stream, at),
    isBench: false,
    at: good.map((row) => row.start + row.width / 2),
    value: good.map((row) => row.sum / row.good),
    word: null,
    methodChanged: false,
    methods: 0,
    methodsAgree: false,
    planned: Number.isFinite(planned) ? planned : null,
  };
}

const common = (stream: KnownStream, at: SystemSetUp) => ({
  system: at.system.code,
  point: stream.pointCode,
  role: stream.pointRole,
  quantity: stream.quantity,
});

function trackOfBench(
  stream: KnownStream,
  at: SystemSetUp,
  results: readonly BenchResult[],
  until: Instant,
): Track {
  const own = results
    .filter((row) => row.stream === stream.id && row.at <= until)
    .sort((a, b) => a.at - b.at);
  const [before, last] = own.slice(-2);
  const isOther = last !== undefined && before !== undefined && last.method !== before.method;
  const isAlike =
    last !== undefined &&
    before !== undefined &&
    Math.abs(last.value - before.value) < matters(stream.quantity, before.value);
  return {
    ...common(stream, at),
    isBench: true,
    at: own.map((row) => row.at),
    // Below what the method can tell is as good as nothing for a direction.
    value: own.map((row) => (row.qualifier === "<" ? 0 : row.value)),
    word: null,
    methodChanged: isOther && !isAlike,
    methods: new Set(own.slice(-2).map((row) => row.method)).size,
    methodsAgree: isOther && isAlike,
    planned: null,
  };
}

function trackOfState(stream: KnownStream, at: SystemSetUp, current: Current | undefined): Track[] {
  const spec = quantity(stream.quantity);
  const word =
    spec?.kind === "state" && current && isGood(current.flag) ? stateWord(spec, current.value) : undefined;
  if (word === undefined || !current) return [];
  return [
    {
      ...common(stream, at),
      isBench: false,
      at: [current.at],
      value: [current.value],
      word,
      methodChanged: false,
      methods: 0,
      methodsAgree: false,
      planned: null,
    },
  ];
}

export interface Around {
  readonly store: Store;
  readonly index: IndexedSetUp;
  readonly now: Instant;
  readonly currents: ReadonlyMap<number, Current>;
  readonly log: readonly LogEntry[];
  /** Every finding of the range, of other incidents too. */
  readonly findings: readonly Finding[];
}

/** What was seen around an incident of these systems; reads their rollups and newest bench results. */
export async function seenAround(
  around: Around,
  systems: readonly SystemSetUp[],
  members: readonly Finding[],
  onset: Instant,
): Promise<Seen> {
  const { store, now, currents } = around;
  const until = Math.min(now, onset + LOOKS);
  const streams = systems.flatMap((at) => at.streams.filter(isKnownStream).map((stream) => ({ at, stream })));
  const numbers = streams.filter(({ stream }) => quantity(stream.quantity)?.kind === "number");
  const probes = numbers.filter(({ stream }) => stream.origin !== "bench");
  const bench = numbers.filter(({ stream }) => stream.origin === "bench");
  const ids = probes.map(({ stream }) => stream.id);
  const near = onset - NEAR_BEFORE;
  const [days, hours, results] = await Promise.all([
    store.readRollups({ streams: ids, from: until - DAYS, to: near, width: THREE_HOURS }),
    store.readRollups({ streams: ids, from: near, to: until + 1, width: QUARTER_HOUR }),
    store.lastBench(
      bench.map(({ stream }) => stream.id),
      RESULTS,
      until,
    ),
  ]);
  const rows = [...days, ...hours];
  const tracks = [
    ...probes.map(({ at, stream }) => trackOfProbe(stream, at, rows, onset, until)),
    ...bench.map(({ at, stream }) => trackOfBench(stream, at, results, until)),
    ...streams.flatMap(({ at, stream }) => trackOfState(stream, at, currents.get(stream.id))),
    ...members.flatMap((finding) => wordThen(finding, around.index)),
  ];
  const signs = tracks.filter((track) => track.value.length > 0).map((track) => signOf(track, onset, until));
  return {
    onset,
    signs,
    ...beside(around, systems),
    logged: new Set(loggedNear(around.log, systems, onset).map((entry) => inForce(entry).kind)),
    findings: members
      .filter(({ evidence }) => evidence.withdrawn === undefined)
      .map((row) => ({
        kind: row.kind,
        rule: row.rule,
        quantity: row.quantity,
        way: wayOf(row),
        isReturn: isReturn(row, around.findings),
      })),
    held: members.filter(isHeld).length,
    stopped: Math.max(
      members.filter((row) => traitsOf(row).hasStopped && !isHeld(row)).length,
      signs.filter((sign) => sign.isFrozen).length,
    ),
  };
}

const isHeld = ({ evidence }: Pick<Finding, "evidence">): boolean => evidence.held === "held";

/** A wrong state of the incident is evidence also after it was put right. */
function wordThen(finding: Finding, index: IndexedSetUp): Track[] {
  const stream = index.streams.get(finding.stream);
  const at = index.byId.get(finding.system);
  if (!traitsOf(finding).tellsWord || !stream || !isKnownStream(stream) || !at) return [];
  return [
    {
      ...common(stream, at),
      isBench: false,
      at: [finding.began],
      value: [0],
      word: finding.rule,
      methodChanged: false,
      methods: 0,
      methodsAgree: false,
      planned: null,
    },
  ];
}

/** Which way temperature goes in the systems of the same loops, these included, and in those that share no loop with them. */
function beside(around: Around, systems: readonly SystemSetUp[]): Pick<Seen, "elsewhere" | "sharing"> {
  const own = new Set(systems.map((at) => at.system.id));
  const loops = new Set(systems.flatMap((at) => at.loops.map((loop) => loop.id)));
  const elsewhere: { quantity: QuantityId; way: Way }[] = [];
  const sharing: { quantity: QuantityId; way: Way }[] = [];
  for (const at of around.index.systems) {
    const main = mainPoint(at.points)?.code;
    const stream = at.streams.find(
      (row) => row.quantity === "temperature" && row.origin === "probe" && row.pointCode === main,
    );
    const current = stream && around.currents.get(stream.id);
    if (!current || current.rate === null || !isGood(current.flag)) continue;
    const way = current.rate >= ELSEWHERE ? "up" : current.rate <= -ELSEWHERE ? "down" : "steady";
    if (at.loops.some((loop) => loops.has(loop.id))) sharing.push({ quantity: "temperature", way });
    else if (!own.has(at.system.id)) elsewhere.push({ quantity: "temperature", way });
  }
  return { elsewhere, sharing };
}

/** Entries about these systems from six hours before to half an hour after. */
export function loggedNear(
  log: readonly LogEntry[],
  systems: readonly SystemSetUp[],
  onset: Instant,
): LogEntry[] {
  const ids = new Set(systems.map((at) => at.system.id));
  return log.filter((entry) => {
    const version = inForce(entry);
    const end = version.until ?? (version.open ? Number.POSITIVE_INFINITY : version.at);
    return (
      version.systems.some((id) => ids.has(id)) &&
      version.at <= onset + LOG_AFTER &&
      end >= onset - LOG_BEFORE
    );
  });
}
