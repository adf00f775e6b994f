import type { ProbesView } from "#contract/probes.ts";
import type { Calibration } from "#core/probes/calibration.ts";
import { HEALTH_LETTERS, type HealthLetter } from "#core/probes/health.ts";
import type { Finding } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { USUAL_ROWS } from "../gateway/read-rejected.ts";
import { headSite, MOST_FINDINGS } from "../systems/read-systems.ts";
import { isRunning } from "../systems/system-state.ts";
import { isProbe, PROBE_LOG_KINDS, probeRowOf, twinDaysOf, twinOf, twinVerdictOf } from "./probe-rows.ts";

const MOST_OPEN = 500;

function byStream<T extends { readonly stream: number }>(
  rows: readonly T[],
): ReadonlyMap<number, readonly T[]> {
  const groups = new Map<number, T[]>();
  for (const row of rows) {
    const group = groups.get(row.stream);
    if (group) group.push(row);
    else groups.set(row.stream, [row]);
  }
  return groups;
}

/** Every probe of the running systems with its health and calibrations, most serious first. */
export async function readProbes(deps: ReadDeps): Promise<ProbesView> {
  const { store } = deps;
  const now = deps.clock();
  const currents = await store.readCurrent();
  const index = await deps.setUp.read(currents.map((row) => row.stream));
  const pairs = index.systems
    .filter((at) => isRunning(at, now))
    .flatMap((at) => at.streams.filter(isProbe).map((stream) => ({ at, stream, twin: twinOf(at, stream) })));
  const ids = pairs.map(({ stream }) => stream.id);
  const [findings, calibrations, log, unclaimed] = await Promise.all([
    store.readFindings({ open: true, limit: MOST_FINDINGS }),
    store.readCalibrations(ids),
    store.readLog({ open: true, kinds: PROBE_LOG_KINDS, limit: MOST_OPEN }),
    deps.seesAll ? store.readUnclaimed(USUAL_ROWS) : null,
  ]);
  const [current, found, done] = [
    new Map(currents.map((row) => [row.stream, row])),
    byStream<Finding>(findings),
    byStream<Calibration>(calibrations),
  ];
  const probes = await Promise.all(
    pairs.map(async ({ at, stream, twin }) => {
      const own = done.get(stream.id) ?? [];
      const both = twin ? [...own, ...(done.get(twin.id) ?? [])] : own;
      const days = twin ? await twinDaysOf(store, stream, twin, both, now) : [];
      return probeRowOf(at, stream, {
        index,
        now,
        current: current.get(stream.id),
        findings: found.get(stream.id) ?? [],
        calibrations: own,
        log,
        twin,
        twinMoved: (twinVerdictOf(days, stream.quantity)?.moved ?? null) !== null,
      });
    }),
  );
  const counts = Object.fromEntries(
    HEALTH_LETTERS.map((letter) => [letter, probes.filter((row) => row.letter === letter).length]),
  ) as Record<HealthLetter, number>;
  const rank = (letter: HealthLetter) => HEALTH_LETTERS.indexOf(letter);
  return {
    now,
    zone: headSite(index).zone,
    probes: probes.sort((a, b) => rank(a.letter) - rank(b.letter)),
    counts,
    unclaimed: unclaimed?.length ?? null,
  };
}
