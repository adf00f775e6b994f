import type { FindingKind, KeptEvidence } from "../alarms/finding.ts";
import type { Instant } from "../time/instant.ts";

const OF_RULE: Readonly<Record<string, "up" | "down">> = {
  high: "up",
  rising: "up",
  up: "up",
  more: "up",
  low: "down",
  falling: "down",
  down: "down",
  fewer: "down",
};

/** Which way a finding says that the water went, or on which side of its band it is; null where it says nothing of that. */
export function wayOf({
  kind,
  rule,
  evidence,
}: {
  readonly kind: FindingKind;
  readonly rule: string;
  readonly evidence: KeptEvidence;
}): "up" | "down" | null {
  if (kind === "drifting" && rule !== "bench") {
    const size = evidence.change ?? evidence.residual;
    return typeof size !== "number" || size === 0 ? null : size > 0 ? "up" : "down";
  }
  return kind === "out of band" || kind === "too fast" || kind === "stepped" ? (OF_RULE[rule] ?? null) : null;
}

interface OnStream {
  readonly kind: FindingKind;
  readonly rule: string;
  readonly stream: number;
  readonly began: Instant;
  readonly ended: Instant | null;
  readonly evidence: KeptEvidence;
}

/** Whether a finding says that water goes back to its band: it went the other way from an excursion that lasted when it began. */
export function isReturn(finding: OnStream, all: readonly OnStream[]): boolean {
  const way = wayOf(finding);
  if (way === null || finding.kind === "out of band") return false;
  return all.some((other) => {
    if (other.kind !== "out of band" || other.stream !== finding.stream) return false;
    const lasted = other.began < finding.began && (other.ended === null || other.ended >= finding.began);
    return lasted && wayOf(other) !== way;
  });
}
