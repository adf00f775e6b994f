import type { HomeWaterView, RibbonView } from "#contract/home-water.ts";
import { type Cell, csvTable } from "./csv-table.ts";

const HEAD = [
  ...["system", "year", "month", "quantity", "unit", "against", "kind", "range_low", "range_high"],
  ...[
    "water_5_percent",
    "water_median",
    "water_95_percent",
    "share_inside",
    "typical_miss",
    "typical_deviation",
  ],
  ...["widest_miss", "quarter_hours_scored", "quarter_hours_possible", "source", "confidence"],
];

function sourceOf(ribbon: RibbonView | undefined): readonly [string, string] {
  const entries = ribbon?.entries ?? [];
  const each = (values: readonly string[]) => [...new Set(values)].join("; ");
  return [
    each(entries.map(({ source, mark }) => `${source} (${mark})`)),
    each(entries.map(({ confidence }) => confidence)),
  ];
}

/** Home water as CSV (RFC 4180): a row a quantity, range and month; an empty cell is not known, never zero. */
export function homeWaterTable(view: HomeWaterView): string {
  const rows: Cell[][] = [];
  for (const of of view.quantities)
    for (const row of of.fits) {
      const ribbon = of.ribbons.find((each) => row.against.startsWith(each.name) && each.basis === row.kind);
      row.months.forEach((fit, i) => {
        const common = of.common?.[i];
        const isFree = row.kind === "common" && common !== undefined && common.gap === null;
        const own = ribbon?.months[i];
        const range = isFree ? [common.low?.value, common.high?.value] : [own?.low, own?.high];
        const water = of.water[i];
        const [source, confidence] = isFree
          ? [
              [common.low, common.high]
                .flatMap((edge) => (edge ? [`${edge.speciesName}: ${edge.source} (${edge.mark})`] : []))
                .join("; "),
              [common.low, common.high].flatMap((edge) => (edge ? [edge.confidence] : [])).join("; "),
            ]
          : sourceOf(ribbon);
        rows.push([
          ...[view.system, view.year, i + 1, of.quantity, of.unit, row.against, row.kind],
          ...[range[0], range[1]],
          ...[water?.low, water?.median, water?.high, fit?.share, fit?.typicalMiss, fit?.typicalDeviation],
          ...[fit?.widestMiss, fit?.scored, fit?.possible, source, confidence],
        ]);
      });
    }
  return csvTable(HEAD, rows);
}
