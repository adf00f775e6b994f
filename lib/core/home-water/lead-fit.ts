/** Which of the fits of a quantity is read first: home water before what people aim at. */

interface Fit {
  readonly kind: "native" | "advice" | "common" | "target";
  readonly year: { readonly share: number | null };
}
export interface LeadFits<Row> {
  /** Against native ranges, the species that was least at home first; empty where no native range is known. */
  readonly native: readonly Row[];
  /** Against a range that only advice is known for: the native range of these is not known. */
  readonly advice: readonly Row[];
  /** What people aim at: the target band in force, else the range that the residents have in common. */
  readonly band: Row | null;
  /** The row that heads them all: native where it was scored, else what the residents have in common, advice, the band. */
  readonly lead: Row | null;
}

const byShare = (a: Fit, b: Fit) => (a.year.share ?? 2) - (b.year.share ?? 2);

/** The fits of one quantity in the order they are read in. A band that is met proves nothing of home where home is another water. */
export function leadFits<Row extends Fit>(rows: readonly Row[]): LeadFits<Row> {
  const of = (kind: Fit["kind"]) => rows.filter((row) => row.kind === kind).toSorted(byShare);
  const [native, advice, common, target] = [of("native"), of("advice"), of("common"), of("target")];
  return {
    native,
    advice,
    band: target[0] ?? common[0] ?? null,
    lead: native[0] ?? common[0] ?? advice[0] ?? target[0] ?? null,
  };
}
