import type { ProbeView } from "#contract/probes.ts";
import { agreement, deming, isSlopeTold } from "#core/probes/agreement.ts";
import { checkRule, isDrifting } from "#core/probes/bench-check.ts";
import type { Calibration } from "#core/probes/calibration.ts";
import { driftPerMonth } from "#core/probes/drift-rate.ts";
import { lastSetRight } from "#core/probes/due.ts";
import { findSteps } from "#core/probes/step.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { DAY, HOUR, type Instant } from "#core/time/instant.ts";
import { signedText } from "#core/units/number-text.ts";
import { forQuantity, type NumberQuantityId } from "#core/units/quantity.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Stream } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { notFound } from "../errors.ts";
import { MOST_FINDINGS } from "../systems/read-systems.ts";
import { calibrationView } from "./calibration-view.ts";
import { chartOf, pairsOf, seesWords } from "./probe-pairs.ts";
import { isProbe, PROBE_LOG_KINDS, probeRowOf, twinDaysOf, twinOf, twinVerdictOf } from "./probe-rows.ts";

const MOST_PAIRS = 60;
const STEP_DAYS = 21;
/** Natural changes of conductivity and temperature are larger than what calibrating does to them: only these show it. */
const STEPS_SHOW: Partial<Record<NumberQuantityId, number>> = { ph: 0.1, orp: 20, dissolved_oxygen: 0.5 };
const RECORDED_NEAR = 3 * HOUR;

async function stepsOf(
  deps: ReadDeps,
  stream: Stream,
  calibrations: readonly Calibration[],
  now: Instant,
): Promise<ProbeView["steps"]> {
  const least = forQuantity(STEPS_SHOW, stream.quantity);
  if (least === undefined) return [];
  const from = now - STEP_DAYS * DAY;
  const rows = await deps.store.readRollups({
    streams: [stream.id],
    from: from - 4 * DAY,
    to: now,
    width: QUARTER_HOUR,
  });
  const points = rows.flatMap((row) =>
    row.good > 0 ? [{ at: row.start + QUARTER_HOUR / 2, value: row.sum / row.good }] : [],
  );
  const { label, unitLabel, decimals } = labelOf(stream.quantity);
  return findSteps(points, from, now, least)
    .filter((step) => !calibrations.some((row) => !row.voided && Math.abs(row.at - step.at) <= RECORDED_NEAR))
    .map(({ at, by }) => ({
      at,
      by,
      says: `${label} stepped by ${signedText(by, decimals, unitLabel)}: was it calibrated?`,
    }));
}

/** One probe: what was done to it, how it agrees with the bench and its twin. Throws AppError "not_found". */
export async function readProbe(deps: ReadDeps, id: number): Promise<ProbeView> {
  const { store } = deps;
  const now = deps.clock();
  // A bench stream is created by its first result, which writes no set-up entry.
  const index = await deps.setUp.readAgain();
  const stream = index.streams.get(id);
  const at = stream && index.byId.get(stream.system);
  if (!stream || !at || !isProbe(stream))
    throw notFound("probe", String(id), "GET /api/v1/probes lists the probes.");
  const twin = twinOf(at, stream);
  const bench = at.streams.filter(
    (row) => row.origin === "bench" && row.quantity === stream.quantity && row.pointCode === stream.pointCode,
  );
  const ids = twin ? [id, twin.id] : [id];
  const [calibrations, corrections, currents, findings, log, pairs] = await Promise.all([
    store.readCalibrations(ids),
    store.readCorrections([id]),
    store.readCurrent([id]),
    store.readFindings({ open: true, system: at.system.id, limit: MOST_FINDINGS }),
    store.readLog({ open: true, kinds: PROBE_LOG_KINDS, systems: [at.system.id], limit: MOST_PAIRS }),
    pairsOf(store, stream, bench, MOST_PAIRS),
  ]);
  const own = calibrations.filter((row) => row.stream === id);
  const days = twin ? await twinDaysOf(store, stream, twin, calibrations, now) : [];
  const verdict = twinVerdictOf(days, stream.quantity);
  const row = probeRowOf(at, stream, {
    index,
    now,
    current: currents[0],
    findings: findings.filter((finding) => finding.stream === id),
    calibrations: own,
    log,
    twin,
    twinMoved: (verdict?.moved ?? null) !== null,
  });
  const rule = checkRule(stream.quantity);
  const set = own.filter((each) => !each.voided && each.kind !== "cleaning").map((each) => each.at);
  const chart = rule ? chartOf(pairs, rule, set) : null;
  const since = lastSetRight(own)?.at ?? Number.NEGATIVE_INFINITY;
  const recent = pairs.filter((pair) => pair.at >= since);
  const words = labelOf(stream.quantity);
  return {
    ...row,
    now,
    zone: at.site.zone,
    calibrations: own.map((each) =>
      calibrationView(
        each,
        stream.quantity,
        corrections.find((correction) => correction.calibration === each.id),
      ),
    ),
    pairs:
      chart?.rows ??
      pairs.map((pair) => ({ ...pair, difference: pair.probe - pair.bench, ewma: null, limit: null })),
    differenceUnit: rule?.isPercent ? "%" : words.unitLabel,
    agreement: agreement(recent),
    regression: isSlopeTold(recent) ? deming(recent, 1) : null,
    drifting:
      rule !== null &&
      chart !== null &&
      chart.state.since === Math.max(-1, ...set) &&
      isDrifting(chart.state, rule),
    perMonth: driftPerMonth((chart?.rows ?? []).filter((pair) => pair.at >= since)),
    says:
      rule && chart
        ? seesWords(pairs, rule, chart.state, stream.quantity, {
            label: words.label,
            unit: rule.isPercent ? "%" : words.unitLabel,
            decimals: words.decimals,
          })
        : "Probes of this quantity are not compared with bench tests.",
    twinDays: days.map((day) => ({ ...day })),
    twinMoved: verdict?.moved ?? null,
    twinSays: twinWords(twin, verdict !== null, verdict?.moved ?? null),
    steps: await stepsOf(deps, stream, own, now),
  };
}

function twinWords(twin: Stream | undefined, isKnown: boolean, moved: Instant | null): string {
  if (!twin) return "";
  if (!isKnown)
    return `Its twin is at ${twin.pointCode}; how the two differ is known five days after a calibration.`;
  if (moved === null)
    return `It and its twin at ${twin.pointCode} still differ as they did after calibration.`;
  return `It and its twin at ${twin.pointCode} have drifted apart: one of them has drifted, and a bench test tells which.`;
}
