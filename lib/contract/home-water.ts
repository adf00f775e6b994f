/** Home water of a system: what it is compared with and how near it came. Every number stands beside its unit; instants are UTC milliseconds. */
import * as z from "zod";

const instant = z.number().int();
const number = z.number().nullable();

export const homeWaterQuery = z.strictObject({
  year: z.int().min(1990).max(2200).optional().describe("default: the current year at the site"),
});
export type HomeWaterQuery = z.output<typeof homeWaterQuery>;

export const fitView = z.object({
  scored: z.number().describe("quarter hours with good readings compared with the range"),
  possible: z.number().describe("all quarter hours"),
  share: number.describe("inside the range, 0 to 1; null if nothing was scored"),
  typicalMiss: number.describe("mean miss on the side that missed more often, signed, in the unit"),
  typicalDeviation: number.describe("the same in half widths of the range"),
  widestMiss: number.describe("signed, in the unit"),
});
export type FitView = z.infer<typeof fitView>;

const entry = z.object({
  kind: z.string(),
  means: z.string(),
  depth: z.string().nullable(),
  place: z.string().nullable(),
  years: z.string().nullable(),
  source: z.string(),
  mark: z.string().describe("how the source was obtained"),
  method: z.string().nullable(),
  confidence: z.string(),
});
export type EntryView = z.infer<typeof entry>;

const range = z.object({ low: number, high: number });
const edge = z
  .object({
    value: z.number(),
    species: z.string(),
    speciesName: z.string(),
    stage: z.string(),
    kind: z.string(),
    source: z.string(),
    mark: z.string(),
    confidence: z.string(),
  })
  .nullable();
export type EdgeView = z.infer<typeof edge>;

const ribbon = z.object({
  species: z.string(),
  name: z.string(),
  stage: z.string(),
  basis: z.enum(["native", "advice"]).describe("advice is used where no native range is known"),
  months: z.array(range.extend({ isWidened: z.boolean(), isBetween: z.boolean() }).nullable()).length(12),
  entries: z.array(entry),
});
export type RibbonView = z.infer<typeof ribbon>;

const compromise = z.object({
  low: z.number(),
  high: z.number(),
  reason: z.string(),
  signedBy: z.string(),
  signedAt: instant,
  months: z.array(z.number()),
});

const commonMonth = z.object({
  month: z.number(),
  low: edge,
  high: edge,
  gap: number.describe(
    "size of the gap where no value suits every resident, in the unit; null if there is a common range",
  ),
  compromise: compromise.nullable(),
});
export type CommonMonthView = z.infer<typeof commonMonth>;

const fitRow = z.object({
  against: z.string().describe("a species at a stage, the common range, or the target band"),
  kind: z.enum(["native", "advice", "common", "target"]),
  months: z
    .array(fitView.nullable())
    .length(12)
    .describe("null if there was nothing to compare it with, or the month has not begun"),
  year: fitView,
});
export type FitRowView = z.infer<typeof fitRow>;

/** Set-points that ramp while a breeding watch counts. */
export const watchedRampsView = z.object({
  watch: z.string(),
  who: z.string(),
  kind: z.enum(["gestation", "incubation"]),
  earliest: instant.nullable().describe("early edge of the window as applied; null if it is not known"),
  latest: instant.nullable().describe("late edge; null if it is not bounded"),
  steps: z.number().describe("steps between set-points that change in the window"),
  from: instant,
  to: instant,
  most: z.number().describe("the largest change of such a step, signed, in the unit"),
});
export type WatchedRampsView = z.infer<typeof watchedRampsView>;

const plan = z.object({
  id: z.string(),
  setPoints: z.array(z.tuple([instant, z.number()])),
  adoptedBy: z.string(),
  adoptedAt: instant,
  reason: z.string(),
  source: z.string(),
  standing: z
    .object({
      planned: z.number(),
      actual: z.number(),
      off: z.number(),
      slope: number.describe("units per day over the last week"),
      plannedSlope: z.number(),
      ahead: z.object({ units: z.number(), days: z.number() }).nullable(),
    })
    .nullable(),
  watched: z.array(watchedRampsView).describe("breeding watches in which the rest of it ramps"),
});
export type PlanView = z.infer<typeof plan>;

const quantityOfHome = z.object({
  quantity: z.string(),
  label: z.string(),
  unit: z.string(),
  unitLabel: z.string(),
  decimals: z.number(),
  point: z.string(),
  origin: z.string(),
  water: z
    .array(z.object({ n: z.number(), low: number, median: number, high: number }))
    .length(12)
    .describe("5 %, median and 95 % of the month's three-hour means of good readings"),
  ribbons: z.array(ribbon),
  common: z
    .array(commonMonth)
    .length(12)
    .nullable()
    .describe(
      "as needed by the residents at the end of the part of the year shown; null if nothing is known of them",
    ),
  fits: z.array(fitRow),
  plan: plan.nullable(),
});
export type QuantityOfHome = z.infer<typeof quantityOfHome>;

const lightDay = z.object({
  start: instant,
  hours: number,
  dawn: instant.nullable(),
  dusk: instant.nullable(),
  planned: number,
  native: number,
  phaseOff: number.describe("minutes from the planned middle of the light; negative is early"),
});
export const lightView = z.object({
  point: z.string(),
  quantity: z.string(),
  plan: z
    .object({
      middle: z.string(),
      latitude: number,
      shiftDays: z.number(),
      source: z.string(),
      setBy: z.string(),
    })
    .nullable(),
  days: z.array(lightDay),
  findings: z.array(
    z.object({
      kind: z.enum(["hours", "phase", "clock"]),
      severity: z.enum(["look", "action"]),
      from: instant,
      to: instant.nullable(),
      off: z.number().describe("minutes"),
      says: z.string(),
    }),
  ),
  lengthFit: z.object({ days: z.number(), within: z.number() }),
  phaseFit: z.object({ days: z.number(), within: z.number() }),
});
export type LightView = z.infer<typeof lightView>;

export const homeWaterView = z.object({
  system: z.string(),
  systemName: z.string(),
  siteName: z.string(),
  zone: z.string(),
  now: instant,
  year: z.number(),
  from: instant,
  to: instant.describe("now, or the end of the year"),
  residents: z.array(
    z.object({
      species: z.string(),
      name: z.string(),
      stage: z.string(),
      count: z.number(),
      animals: z.array(z.object({ id: z.string(), name: z.string() })).describe("those with a name"),
    }),
  ),
  homes: z.array(
    z.object({ species: z.string(), name: z.string(), latitude: z.number(), longitude: z.number() }),
  ),
  headline: z.string(),
  quantities: z.array(quantityOfHome),
  light: lightView.nullable(),
  conflicts: z.array(
    z.object({
      quantity: z.string(),
      says: z.string(),
      gap: z.number().describe("widest of the months, in the unit"),
      months: z.array(z.number()),
      compromise: compromise.nullable(),
    }),
  ),
  gaps: z.array(z.string()).describe("the largest misses in words"),
});
export type HomeWaterView = z.infer<typeof homeWaterView>;

export const homeWaterListView = z.object({
  now: instant,
  year: z.number(),
  systems: z.array(
    z.object({
      system: z.string(),
      name: z.string(),
      residents: z.string(),
      fits: z.array(
        z.object({
          quantity: z.string(),
          label: z.string(),
          kind: z
            .enum(["native", "advice", "common", "target"])
            .describe("native: the species that was furthest from home; else no native range is known"),
          against: z.string(),
          month: fitView,
          year: fitView,
          band: z
            .object({
              kind: z.enum(["native", "advice", "common", "target"]),
              against: z.string(),
              year: fitView,
            })
            .nullable()
            .describe("the target band, else the common range, where another range heads the row"),
        }),
      ),
      conflict: z.string().nullable(),
    }),
  ),
});
export type HomeWaterListView = z.infer<typeof homeWaterListView>;
