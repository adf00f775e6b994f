/** Which failures fit what was seen: each with what speaks for it and against it. Never certain; not measured is said, not assumed. */

import type { FindingKind } from "../alarms/finding.ts";
import { type PointRole, pointRole } from "../set-up/point-role.ts";
import type { Instant } from "../time/instant.ts";
import type { QuantityId } from "../units/quantity.ts";
import type { Does, Expectation, Failure } from "./failure.ts";
import { FAILURES } from "./failures.ts";
import type { Sign, Way } from "./sign.ts";

/** Everything seen around an incident. */
export interface Seen {
  readonly onset: Instant;
  /** Of the incident's own systems. */
  readonly signs: readonly Sign[];
  /** Of systems that share no loop with them: which way each quantity went there. */
  readonly elsewhere: readonly { readonly quantity: QuantityId; readonly way: Way }[];
  /** Of each system on their loops, their own included; empty where there is no loop. */
  readonly sharing: readonly { readonly quantity: QuantityId; readonly way: Way }[];
  /** Kinds of log entries within six hours before it. */
  readonly logged: ReadonlySet<string>;
  readonly findings: readonly {
    readonly kind: FindingKind;
    readonly rule: string;
    readonly quantity: QuantityId;
    /** Which way it says the water went; null where it says nothing of that. */
    readonly way: "up" | "down" | null;
    /** It says that the water goes back to its band. */
    readonly isReturn: boolean;
  }[];
  readonly stopped: number;
  /** Silent streams of which readings come whose time cannot be believed. */
  readonly held?: number;
}

const WAY_OF = { rises: "up", falls: "down", steady: "steady" } as const;

type Held = "seen" | "contrary" | "not measured";

const isWay = (does: Does, sign: Sign, over: "hours" | "days"): boolean | null => {
  const way = over === "days" ? sign.days : sign.hours;
  if (way === null) return null;
  switch (does) {
    case "rises":
      return way === "up";
    case "falls":
      return way === "down";
    case "moves":
      return way !== "steady";
    case "steady":
      return way === "steady";
    case "steps up":
      return way === "up" && sign.isStep;
    case "steps down":
      return way === "down" && sign.isStep;
  }
};

function isAt(
  role: PointRole,
  wanted: Extract<Expectation, { readonly of: readonly string[] }>["at"],
): boolean {
  const point = pointRole(role);
  if (wanted === "anywhere") return true;
  if (wanted === "loop") return point.water === "loop";
  if (wanted !== undefined) return point[wanted];
  return point.water === "system" && !point.followsOzoneController;
}

const isOf = (
  row: Seen["findings"][number],
  { finding, of, rules }: Extract<Expectation, { readonly finding: FindingKind }>,
): boolean =>
  row.kind === finding &&
  rules.some((rule) => rule === row.rule) &&
  (of === undefined || row.quantity === of);

function held(expectation: Expectation, seen: Seen): Held {
  if ("logged" in expectation)
    return expectation.logged.some((kind) => seen.logged.has(kind)) ? "seen" : "contrary";
  if ("returns" in expectation) return seen.findings.some((row) => row.isReturn) ? "seen" : "contrary";
  if ("isHeld" in expectation) return (seen.held ?? 0) > 0 ? "seen" : "contrary";
  if ("stopped" in expectation) return seen.stopped >= expectation.stopped ? "seen" : "contrary";
  if ("finding" in expectation)
    return seen.findings.some((row) => isOf(row, expectation)) ? "seen" : "contrary";
  if ("elsewhere" in expectation) {
    const others = seen.elsewhere.filter((row) => row.quantity === expectation.elsewhere);
    if (others.length === 0) return "not measured";
    const same = others.filter((row) => row.way === WAY_OF[expectation.does]).length;
    return same * 2 > others.length ? "seen" : "contrary";
  }
  if ("sharing" in expectation) {
    const members = seen.sharing.filter((row) => row.quantity === expectation.sharing);
    if (members.length < 2) return "not measured";
    const same = members.filter((row) => row.way === WAY_OF[expectation.does]).length;
    return same >= 2 && same * 2 > members.length ? "seen" : "contrary";
  }
  if ("state" in expectation) {
    const states = seen.signs.filter(
      (sign) => sign.track.quantity === expectation.state && sign.track.word !== null,
    );
    if (states.length === 0) return "not measured";
    return states.some((sign) => expectation.words.includes(sign.track.word ?? "")) ? "seen" : "contrary";
  }
  if ("onPlan" in expectation) {
    const planned = seen.signs.filter(
      (sign) => sign.track.quantity === expectation.onPlan && sign.track.planned !== null,
    );
    if (planned.length === 0) return "contrary";
    return planned.some(
      (sign) => Math.abs(sign.change - (sign.track.planned ?? 0)) <= 0.3 * Math.abs(sign.change),
    )
      ? "seen"
      : "contrary";
  }
  if ("confirmed" in expectation) {
    const tested = seen.signs.filter(
      ({ track }) => track.isBench && expectation.confirmed.includes(track.quantity),
    );
    if (!tested.some(({ track }) => track.methods > 1)) return "not measured";
    return tested.some(({ track }) => track.methodsAgree) ? "seen" : "contrary";
  }
  if ("methodOf" in expectation)
    return seen.signs.some(
      (sign) => sign.track.methodChanged && expectation.methodOf.includes(sign.track.quantity),
    )
      ? "seen"
      : "contrary";
  const said = seen.signs
    .filter(
      ({ track }) =>
        expectation.of.includes(track.quantity) &&
        isAt(track.role, expectation.at) &&
        (expectation.origin === undefined || (expectation.origin === "bench") === track.isBench),
    )
    .map((sign) => isWay(expectation.does, sign, expectation.over ?? "hours"));
  if (said.every((one) => one === null)) return "not measured";
  // Steady means that all of them are; anything else, that one of them does it.
  const yes =
    expectation.does === "steady" ? said.every((one) => one !== false) : said.some((one) => one === true);
  return yes ? "seen" : "contrary";
}

export interface Cause {
  readonly id: string;
  readonly label: string;
  readonly isFailure: boolean;
  /** Share of what the failure leads one to expect that was seen, less what was not though measured; 0 to 1. For ranking, no probability. */
  readonly fit: number;
  readonly for: readonly string[];
  readonly against: readonly string[];
  readonly notMeasured: readonly string[];
  readonly checkFirst: string;
  readonly caution: string | null;
  readonly actWithinMinutes: number;
}
const CONTRARY = 0.7;
const LEAST_FIT = 0.25;
const MOST = 4;

/** A sign that could have been looked for and was not there speaks against; what people did not log speaks only where it had to. */
const counts = (expectation: Expectation, failure: Failure): boolean =>
  expectation.needed
    ? !failure.any
    : !(
        "logged" in expectation ||
        "finding" in expectation ||
        "methodOf" in expectation ||
        "confirmed" in expectation
      );

/** Less than this of a failure is a side effect, which is not what somebody was called for. */
const MAIN = 1;

/** Whether what a failure does to a quantity is what the finding says of it: no failure that warms explains water below its band. */
function explains(does: Does, way: "up" | "down" | null): boolean {
  if (does === "steady") return false;
  if (way === null || does === "moves") return true;
  return (way === "up") === (does === "rises" || does === "steps up");
}

/** A cause must explain what was found, and the way it went; what merely moved at the same time is no reason for it. */
function isAbout(failure: Failure, findings: Seen["findings"]): boolean {
  if (findings.length === 0) return true;
  const quantities = new Set(findings.map((row) => row.quantity));
  // Logged work alone explains whatever it is near, unless the water must have done something besides.
  const asksWater = failure.expect.some((each) => each.needed === true && "does" in each);
  return failure.expect.some((expectation) => {
    if ("does" in expectation && "of" in expectation)
      return (
        expectation.weight >= MAIN &&
        findings.some((row) => expectation.of.includes(row.quantity) && explains(expectation.does, row.way))
      );
    if ("state" in expectation) return quantities.has(expectation.state);
    if ("finding" in expectation) return findings.some((row) => isOf(row, expectation));
    if ("elsewhere" in expectation) return false;
    if ("sharing" in expectation)
      return findings.some(
        (row) => row.quantity === expectation.sharing && explains(expectation.does, row.way),
      );
    if ("confirmed" in expectation) return expectation.confirmed.some((id) => quantities.has(id));
    if ("onPlan" in expectation) return quantities.has(expectation.onPlan);
    if ("methodOf" in expectation) return expectation.methodOf.some((id) => quantities.has(id));
    if ("logged" in expectation) return expectation.needed === true && !asksWater;
    return "stopped" in expectation || "isHeld" in expectation;
  });
}

function judged(failure: Failure, seen: Seen): (Cause & { readonly score: number }) | null {
  const told = failure.expect.map((expectation) => ({ expectation, is: held(expectation, seen) }));
  const needed = told.filter(({ expectation }) => expectation.needed);
  const has = needed.filter(({ is }) => is === "seen").length;
  if (needed.length > 0 && (failure.any ? has === 0 : has < needed.length)) return null;
  const own = told.filter(({ expectation }) => expectation.own);
  if (own.length > 0 && !own.some(({ is }) => is === "seen")) return null;
  const refuted = (failure.against ?? []).filter((expectation) => held(expectation, seen) === "seen");
  const total = failure.expect.reduce((sum, { weight }) => sum + weight, 0);
  let score = 0;
  for (const { expectation, is } of told) {
    if (is === "seen") score += expectation.weight;
    else if (is === "contrary" && counts(expectation, failure)) score -= CONTRARY * expectation.weight;
  }
  for (const { weight } of refuted) score -= weight;
  const says = (which: Held) =>
    told
      .filter(({ is, expectation }) => is === which && (which !== "contrary" || counts(expectation, failure)))
      .map(({ expectation }) => expectation.says);
  return {
    id: failure.id,
    label: failure.label,
    isFailure: failure.isFailure,
    fit: Math.max(0, Math.min(1, score / total)),
    score,
    for: says("seen"),
    against: [
      ...says("contrary").map((text) => `not seen: ${text}`),
      ...refuted.map(({ says: text }) => text),
    ],
    notMeasured: says("not measured"),
    checkFirst: failure.checkFirst,
    caution: failure.caution ?? null,
    actWithinMinutes: failure.actWithinMinutes,
  };
}

/** The causes that fit best, at most four, the best first; empty where nothing known fits. They are guesses with their grounds. */
export function likelyCauses(seen: Seen): Cause[] {
  const news = seen.findings.filter((row) => !row.isReturn);
  // Where all that was found is the way back, the failures that lead there explain nothing.
  const isAllReturn = seen.findings.length > 0 && news.length === 0;
  return FAILURES.filter((failure) => failure.isReturn === isAllReturn && isAbout(failure, news))
    .flatMap((failure) => judged(failure, seen) ?? [])
    .filter((cause) => cause.score > 0 && cause.fit >= LEAST_FIT)
    .sort((a, b) => b.score - a.score || b.fit - a.fit)
    .slice(0, MOST)
    .map(({ score: _score, ...cause }) => cause);
}
