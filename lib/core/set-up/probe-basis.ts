/** What the numbers of a pH or ORP probe stand on: a property of its calibration, and so of a time. */
import type { PhScale } from "../chemistry/ph-scale.ts";
import type { ReferenceElectrode } from "../chemistry/redox.ts";
import type { Instant } from "../time/instant.ts";

/** The scales an electrode can be calibrated on: in ordinary buffers, or in tris made up in sea water. */
export const CALIBRATION_SCALES = ["nbs", "total"] as const satisfies readonly PhScale[];
export type CalibrationScale = (typeof CALIBRATION_SCALES)[number];

export interface ProbeBasis {
  readonly from: Instant;
  /** Of pH: the scale of the buffers it was calibrated in. */
  readonly phScale: CalibrationScale;
  /** Of pH: what to add to a reading to have the pH on its scale, as found against a buffer; -1 to 1. */
  readonly phOffset: number;
  /** Of ORP: the electrode its reading is against. */
  readonly electrode: ReferenceElectrode;
}

/** Before anybody has said otherwise: ordinary buffers, no offset, silver chloride in 3 M potassium chloride (common practice, no source). */
export const USUAL_BASIS: ProbeBasis = {
  from: Number.NEGATIVE_INFINITY,
  phScale: "nbs",
  phOffset: 0,
  electrode: "ag-agcl-3m",
};

/** What held at a moment: the newest of a stream's bases (oldest first) that begins at or before it, else the usual one. */
export function basisAt(bases: readonly ProbeBasis[] | undefined, at: Instant): ProbeBasis {
  let held = USUAL_BASIS;
  if (bases) for (const basis of bases) if (basis.from <= at) held = basis;
  return held;
}

/** A stream's bases with one more, oldest first: it holds from its date to the next one's, in place of one of the same date. */
export function withBasis(bases: readonly ProbeBasis[] | undefined, basis: ProbeBasis): ProbeBasis[] {
  return [...(bases ?? []).filter((old) => old.from !== basis.from), basis].sort((a, b) => a.from - b.from);
}

/** The first moment at which two lists of bases say different things; null where they never do. */
export function firstDifference(
  a: readonly ProbeBasis[] | undefined,
  b: readonly ProbeBasis[] | undefined,
): Instant | null {
  const dates = [...(a ?? []), ...(b ?? [])].map((basis) => basis.from).sort((x, y) => x - y);
  const differs = (at: Instant) => {
    const [one, other] = [basisAt(a, at), basisAt(b, at)];
    return (
      one.phScale !== other.phScale || one.phOffset !== other.phOffset || one.electrode !== other.electrode
    );
  };
  return dates.find(differs) ?? null;
}

const SCALE_WORDS: Readonly<Record<CalibrationScale, string>> = { nbs: "NBS scale", total: "total scale" };
const ELECTRODE_WORDS: Readonly<Record<ReferenceElectrode, string>> = {
  "ag-agcl-3m": "Ag/AgCl in 3 M KCl",
  "ag-agcl-3.5m": "Ag/AgCl in 3.5 M KCl",
  "ag-agcl-saturated": "Ag/AgCl in saturated KCl",
};
export const electrodeWords = (electrode: ReferenceElectrode): string => ELECTRODE_WORDS[electrode];
export const scaleWords = (scale: CalibrationScale): string => SCALE_WORDS[scale];

/** Streams whose numbers mean little without it. */
export const hasBasis = ({
  quantity,
  origin,
}: {
  readonly quantity: string;
  readonly origin: string;
}): boolean => origin === "probe" && (quantity === "ph" || quantity === "orp");

/** In few words, what a number of this quantity is on; null for quantities that have no such thing. */
export function basisWords(quantity: string, basis: ProbeBasis): string | null {
  if (quantity === "ph") {
    const { phScale, phOffset } = basis;
    if (phOffset === 0) return scaleWords(phScale);
    return `${scaleWords(phScale)}, probe's own offset ${phOffset > 0 ? "+" : "−"}${Math.abs(phOffset)}`;
  }
  return quantity === "orp" ? `against ${electrodeWords(basis.electrode)}` : null;
}
