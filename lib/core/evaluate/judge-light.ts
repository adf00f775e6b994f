/** The light of a system against its schedule: dark when it should be lit, and each finished day's length and phase. */
import { type EvidenceOf, type Level, levelOf } from "../alarms/finding.ts";
import { followLight, type JudgedDay, type LightFinding, lightFindings, NO_LIGHT } from "../light/index.ts";
import { type Instant, MINUTE } from "../time/instant.ts";
import { stepImmediateCondition } from "./immediate-condition.ts";
import type { JudgeContext } from "./judge.ts";
import type { Outputs } from "./outputs.ts";

/** Dark in planned light for so long: somebody looks, somebody acts. Common practice, no source. */
const DARK_LOOK = 30 * MINUTE;
const DARK_ACT = 60 * MINUTE;
/** A day that is off is looked at; somebody acts when the next one is too. */
const TO_ACT = 2;

/** Instants between samples are fractions of a millisecond; what is kept is whole. */
const whole = (at: Instant | null | undefined): Instant | null => (at == null ? null : Math.round(at));

export function judgeLight(judged: JudgeContext, out: Outputs): void {
  const { state, context, at, value } = judged;
  const before = state.light ?? NO_LIGHT;
  const light = followLight(before, at, value, context.light);
  if (light === before) return;
  state.light = light;
  judgeDark(judged, light.darkSince, light.day, out);
  if (light.days === before.days) return;
  const found = lightFindings(light.days).filter((each) => each.to === null);
  const newest = light.days.at(-1);
  if (!newest) return;
  // A day of which nothing is known neither begins nor ends anything.
  if (newest.lengthOff !== null)
    judgeDays(
      judged,
      "hours",
      found.find((each) => each.kind === "hours"),
      newest,
      light.days,
      out,
    );
  if (newest.phaseOff !== null)
    judgeDays(
      judged,
      "phase",
      found.find((each) => each.kind !== "hours"),
      newest,
      light.days,
      out,
    );
}

function judgeDark(judged: JudgeContext, since: Instant | null, day: Instant, out: Outputs): void {
  const span = since === null ? 0 : judged.at - since;
  const level: Level = span >= DARK_ACT ? 2 : span >= DARK_LOOK ? 1 : 0;
  const planned = judged.context.light.plannedOn(day);
  const evidence = () => ({ from: whole(planned?.from), to: whole(planned?.to) });
  stepImmediateCondition(judged, "dark", "dark", level, span, 0, evidence, out, since ?? judged.at);
}

function judgeDays(
  judged: JudgeContext,
  name: "hours" | "phase",
  found: LightFinding | undefined,
  newest: JudgedDay,
  days: readonly JudgedDay[],
  out: Outputs,
): void {
  const level: Level = !found ? 0 : found.days >= TO_ACT ? levelOf(found.severity) : 1;
  const first = days.find((day) => day.start === found?.from);
  const evidence = (): EvidenceOf<"light off"> => ({
    off: found?.off ?? null,
    hours: newest.hours,
    planned: newest.planned,
    dawn: whole(newest.dawn),
    dusk: whole(newest.dusk),
    days: found?.days ?? null,
    change: found?.clockChange ?? null,
  });
  const since = whole(first?.dawn) ?? found?.from ?? judged.at;
  stepImmediateCondition(
    judged,
    name,
    found?.kind ?? name,
    level,
    Math.abs(found?.off ?? 0),
    0,
    evidence,
    out,
    since,
  );
}
