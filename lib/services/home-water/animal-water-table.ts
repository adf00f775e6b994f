import type { AnimalWaterView } from "#contract/animal-water.ts";
import { type Cell, csvTable } from "./csv-table.ts";

const HEAD = [
  ...["animal", "species", "system", "year", "month", "quantity", "unit", "water_5_percent", "water_median"],
  ...["water_95_percent", "quarter_hours_read", "quarter_hours_lived", "stage", "against", "range_low"],
  ...["range_high", "share_inside", "typical_miss", "widest_miss", "quarter_hours_scored"],
];

/** The water of one animal as CSV (RFC 4180): a row a system, quantity and month (and stage); an empty cell is not known, never zero. */
export function animalWaterTable(view: AnimalWaterView): string {
  const units = new Map(view.quantities.map(({ quantity, unit }) => [quantity, unit]));
  const who = view.name ?? view.speciesName;
  const rows: Cell[][] = [];
  for (const visit of view.visits)
    for (const of of visit.quantities)
      for (const { year, month, water, read, held } of of.months) {
        const known = [
          ...[who, view.species, visit.system, year, month, of.quantity, units.get(of.quantity)],
          ...[water.low, water.median, water.high, read.good, read.possible],
        ];
        if (held.length === 0) rows.push([...known, ...Array<null>(8).fill(null)]);
        for (const { stage, basis, range, fit } of held)
          rows.push([
            ...[...known, stage, basis, range?.low, range?.high],
            ...[fit.share, fit.typicalMiss, fit.widestMiss, fit.scored],
          ]);
      }
  return csvTable(HEAD, rows);
}
