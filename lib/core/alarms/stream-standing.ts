/** How a stream and its system stand: health before water, and calm only where it is proven. */
import { type Flag, isGood } from "../quality/flag.ts";
import type { Instant } from "../time/instant.ts";
import { quantity } from "../units/index.ts";
import type { FindingKind, Severity } from "./finding.ts";
import { traitsOf } from "./kinds.ts";
import { rankOf, type Standing } from "./standing.ts";

/** The newest verdict on a stream, as far as its standing rests on it. */
interface Verdict {
  readonly flag: Flag;
  /** Signed, 1 at the action limit; null where no band applies or it is not proven. */
  readonly deviation: number | null;
  /** Expected at latest at this receive instant; null = not scheduled. */
  readonly silentAt: Instant | null;
}
interface OpenFinding {
  readonly kind: FindingKind;
  readonly rule: string;
  readonly severity: Severity;
}
interface Known {
  readonly current: Verdict | undefined;
  /** Open findings of this stream. */
  readonly findings: readonly OpenFinding[];
}

const isWorse = (a: Standing, b: Standing): boolean => rankOf(a) < rankOf(b);
const worstOf = (standings: readonly Standing[], none: Standing): Standing =>
  standings.reduce((worst, next) => (isWorse(next, worst) ? next : worst), none);
const claimOf = ({ severity }: Pick<OpenFinding, "severity">): Standing =>
  severity === "look" ? "look" : "action";

/** A value that says something about the water: good, and not overdue. */
export function isBelievable<V extends Verdict>(current: V | undefined, silent: boolean): current is V {
  return current !== undefined && !silent && isGood(current.flag);
}

/** Whether a stream says nothing now. `interval`: expected milliseconds between its readings, null where it is not scheduled. */
export function isSilent(interval: number | null, { current, findings }: Known, now: Instant): boolean {
  if (findings.some((finding) => traitsOf(finding).isNotKnown)) return true;
  if (!current) return interval !== null;
  return current.silentAt !== null && now >= current.silentAt;
}

function ofDeviation(far: number | null, hasBand: boolean): Standing {
  if (far === null) return hasBand ? "unknown" : "calm";
  if (far === 0) return "calm";
  return Math.abs(far) >= 1 ? "action" : "look";
}

/** The word of a state that is not as it should be stands at once, before its finding's delay has run. */
function ofWord(id: string, word: string | null): Standing {
  const spec = quantity(id);
  if (spec?.kind !== "state" || word === null) return "calm";
  return spec.wrong[word] ?? "calm";
}

/** How one stream stands. `word`: what a quantity that is a state says now, null for numbers. */
export function streamStanding(
  of: {
    readonly quantity: string;
    readonly hasBand: boolean;
    /** False while residents have no range in common: no value of it is calm. Left out: it has one, or none is set. */
    readonly hasTarget?: boolean;
    readonly word: string | null;
  },
  { current, findings }: Known,
  silent: boolean,
): Standing {
  const claimed = findings.map(claimOf);
  // Health before water: what a silent or failed probe last said is no evidence, so only findings speak for it.
  if (!isBelievable(current, silent)) return worstOf(claimed, "unknown");
  return worstOf(
    [...claimed, ofDeviation(current.deviation, of.hasBand), ofWord(of.quantity, of.word)],
    of.hasTarget === false ? "look" : "calm",
  );
}

/**
 * Calm is proven, not assumed: every critical stream present and believable, nothing out of band, no finding open. A system where that
 * cannot be shown, also one without a critical stream, is "unknown".
 */
export function systemStanding(
  streams: readonly { readonly critical: boolean; readonly standing: Standing }[],
  findings: readonly Pick<OpenFinding, "severity">[],
): Standing {
  const water = streams.map(({ standing }) => standing).filter((standing) => isWorse(standing, "unknown"));
  const critical = streams.filter((stream) => stream.critical);
  const proven = critical.length > 0 && critical.every(({ standing }) => standing !== "unknown");
  return worstOf([...findings.map(claimOf), ...water], proven ? "calm" : "unknown");
}
