import { type CalibrationAnswer, calibrationRequest, voidCalibrationRequest } from "#contract/probes.ts";
import type { LogVersion } from "#core/logbook/entry.ts";
import type { LogKindId } from "#core/logbook/kinds.ts";
import type {
  Calibration,
  CalibrationKind,
  NewCalibration,
  NewCorrection,
} from "#core/probes/calibration.ts";
import { foundError, lineFound } from "#core/probes/correct.ts";
import { newest } from "#core/probes/due.ts";
import { DAY, type Instant, MINUTE } from "#core/time/instant.ts";
import { type NumberQuantity, quantity } from "#core/units/index.ts";
import { beside, numberText, rangeText } from "#core/units/number-text.ts";
import { StoreError, type Stream } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, type FieldIssue, invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, type SystemSetUp } from "../set-up.ts";
import { calibrationView, kindLabelOf } from "./calibration-view.ts";

/** A phone's clock may run a little ahead. */
const AHEAD = 2 * MINUTE;
const LONGEST_VISIT = DAY;
const OLDEST = 5 * 366 * DAY;
const LOG_KIND: Readonly<Record<CalibrationKind, LogKindId>> = {
  calibration: "calibration",
  cleaning: "probe-clean",
  replacement: "probe-swap",
};

interface Probe {
  readonly stream: Stream;
  readonly at: SystemSetUp;
  readonly spec: NumberQuantity;
}

/** The probe behind a stream where the actor may calibrate. Throws AppError "not_found", "forbidden" or "invalid". */
async function probeOf(deps: WriteDeps, actor: Actor, id: number): Promise<Probe> {
  const found = await lookUp(deps.setUp, (index) => {
    const stream = index.streams.get(id);
    const at = stream && index.byId.get(stream.system);
    if (!stream || !at) throw notFound("stream", String(id), "GET /api/v1/probes lists the probes.");
    return { stream, at };
  });
  demandAt(actor, "calibrate", found.at);
  const spec = quantity(found.stream.quantity);
  if (found.stream.origin === "bench" || found.stream.origin === "derived" || spec?.kind !== "number")
    throw invalid([
      {
        field: "stream",
        value: String(id),
        says: "is not a probe",
        remedy: "GET /api/v1/probes lists the probes",
      },
    ]);
  return { ...found, spec };
}

const moment = (at: Instant) => new Date(at).toISOString();

function issuesOf(added: NewCalibration, { spec }: Probe, now: Instant): FieldIssue[] {
  const issues: FieldIssue[] = [];
  const add = (field: string, value: string, says: string, remedy: string) =>
    issues.push({ field, value, says, remedy });
  if (added.at > now + AHEAD)
    add(
      "at",
      moment(added.at),
      "is in the future",
      "record it when the probe is back; check the device's clock",
    );
  if (added.at < now - OLDEST) add("at", moment(added.at), "is more than five years ago", "check the year");
  if (added.from > added.at) add("from", moment(added.from), "is after `at`", "say when it was taken out");
  if (added.at - added.from > LONGEST_VISIT)
    add(
      "from",
      moment(added.from),
      "is more than a day before `at`",
      "log the probe as out of service instead",
    );
  const [low, high] = spec.sensor;
  const span = (field: string, value: number | null) => {
    if (value !== null && !(value >= low && value <= high))
      add(
        field,
        String(value),
        `is outside ${beside(rangeText({ low, high }, spec.decimals), spec.unitLabel)}`,
        "check the number and the unit",
      );
  };
  span("before", added.before);
  span("after", added.after);
  for (const [i, standard] of added.standards.entries()) {
    span(`standards.${i}.value`, standard.value);
    span(`standards.${i}.read`, standard.read);
  }
  const worth = added.standards.map((standard) => standard.value);
  if (new Set(worth).size !== worth.length)
    add("standards", worth.join(", "), "lists a standard twice", "give each standard once");
  if (added.kind === "cleaning" && added.standards.length > 0)
    add("kind", added.kind, "uses no standard", "record it as a calibration");
  return issues;
}

/** What the logbook says of it. */
function logText(added: NewCalibration, { spec }: Probe): string {
  const digits = (value: number) => numberText(value, spec.decimals);
  const parts = [`${kindLabelOf(added.kind)} of the ${spec.label} probe`];
  if (added.before !== null && added.after !== null)
    parts.push(`read ${digits(added.before)} before and ${digits(added.after)} after cleaning`);
  for (const { value, read } of added.standards) parts.push(`read ${digits(read)} in ${digits(value)}`);
  if (added.slope !== null) parts.push(`slope ${added.slope} %`);
  if (added.offset !== null) parts.push(`offset ${added.offset} mV`);
  return `${parts.join(", ")}.${added.note === "" ? "" : ` ${added.note}`}`.slice(0, 2_000);
}

function logOf(added: NewCalibration, probe: Probe, id: string): LogVersion {
  return {
    id,
    root: id,
    clientId: `log-of-${added.id}`,
    change: "first",
    supersedes: null,
    reason: null,
    kind: LOG_KIND[added.kind],
    systems: [probe.stream.system],
    point: probe.stream.pointCode,
    quantity: probe.stream.quantity,
    at: added.from,
    until: added.at > added.from ? added.at : null,
    open: false,
    expected: null,
    amount: null,
    unit: null,
    item: added.item,
    animals: [],
    text: logText(added, probe),
    alarm: null,
    by: added.by,
    byId: added.byId,
    entered: added.entered,
  };
}

/** The correction of the readings since the visit before. Throws AppError "invalid" where there is nothing to correct by or from. */
function correctionOf(added: NewCalibration, before: readonly Calibration[], id: string): NewCorrection {
  const previous = newest(before, added.from);
  const refuse = (says: string, remedy: string) =>
    invalid([{ field: "correct", value: "true", says, remedy }]);
  if (!foundError(added))
    throw refuse(
      "needs a measured error to spread",
      "give readings before and after cleaning, or in a standard",
    );
  const line = lineFound(added.standards);
  if (line && !(line.slope > 0))
    throw refuse(
      "has nothing to spread: the probe read no higher in the higher standard",
      "record it without a correction, and replace the probe",
    );
  if (!previous) throw refuse("needs an earlier visit to start from", "record it without a correction");
  return {
    id,
    calibration: added.id,
    stream: added.stream,
    from: previous.at,
    to: added.from,
    fouling: foundError({ ...added, standards: [] })?.fouling ?? 0,
    standards: added.standards,
    by: added.by,
    byId: added.byId,
    reason: "error found at the visit, spread from nothing at the visit before",
  };
}

async function answerOf(
  deps: WriteDeps,
  row: Calibration,
  quantityId: string,
  repeated: boolean,
): Promise<CalibrationAnswer> {
  const corrections = await deps.store.readCorrections([row.stream]);
  const own = corrections.find((correction) => correction.calibration === row.id);
  return { calibration: calibrationView(row, quantityId, own), repeated };
}

/**
 * Records what was done to a probe, once a client id, with its mark in the logbook; the readings of the visit are no evidence about the water
 * and the chart against the bench starts again. Throws AppError "forbidden", "not_found" or "invalid" with every fault named.
 */
export async function recordCalibration(
  deps: WriteDeps,
  actor: Actor,
  stream: number,
  body: unknown,
): Promise<CalibrationAnswer> {
  demandSomewhere(actor, "calibrate");
  const request = parse(calibrationRequest, body);
  const probe = await probeOf(deps, actor, stream);
  const now = deps.clock();
  const added: NewCalibration = {
    id: deps.newId(now),
    clientId: request.clientId,
    stream,
    kind: request.kind,
    from: request.from ?? request.at,
    at: request.at,
    before: request.before ?? null,
    after: request.after ?? null,
    moved: request.moved ?? null,
    standards: request.standards ?? [],
    slope: request.slope ?? null,
    offset: request.offset ?? null,
    item: request.item ?? null,
    note: request.note ?? "",
    by: actor.name,
    byId: actor.id,
    entered: now,
  };
  const known = await deps.store.readCalibration({ clientId: added.clientId });
  if (known) return answerOf(deps, known, probe.stream.quantity, true);
  const issues = issuesOf(added, probe, now);
  if (issues.length > 0) throw invalid(issues);
  const correction = request.correct
    ? correctionOf(added, await deps.store.readCalibrations([stream]), deps.newId(now))
    : null;
  const log = logOf(added, probe, deps.newId(now));
  const audit = audited(actor, now, "record-calibration", `calibration:${added.id}`, {
    added,
    correction,
    log,
  });
  const { stored, repeated } = await deps.store.recordCalibration(
    added,
    { correction, log, rejudgeFrom: added.from },
    now,
    audit,
  );
  return answerOf(deps, stored, probe.stream.quantity, repeated);
}

/** Marks a calibration as entered by mistake, once a client id. Throws AppError "forbidden", "not_found", "invalid"; "conflict" where it was voided already. */
export async function voidCalibration(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<CalibrationAnswer> {
  demandSomewhere(actor, "calibrate");
  const request = parse(voidCalibrationRequest, body);
  const row = await deps.store.readCalibration({ id });
  if (!row) throw notFound("calibration", id, "GET /api/v1/streams/{stream}/probe lists them.");
  const probe = await probeOf(deps, actor, row.stream);
  const now = deps.clock();
  const added = {
    id: deps.newId(now),
    clientId: request.clientId,
    calibration: id,
    by: actor.name,
    byId: actor.id,
    reason: request.reason,
    at: now,
  };
  const { stored, repeated } = await deps.store
    .voidCalibration(
      added,
      row.from,
      now,
      audited(actor, now, "void-calibration", `calibration:${id}`, added),
    )
    .catch((cause: unknown) => {
      if (cause instanceof StoreError && cause.code === "invalid")
        throw new AppError("conflict", "This calibration has already been voided.", { cause });
      throw cause;
    });
  return answerOf(deps, { ...row, voided: stored }, probe.stream.quantity, repeated);
}
