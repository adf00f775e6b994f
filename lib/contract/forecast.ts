/** Where a quantity will be, with the coverage measured on its own stream. */
import * as z from "zod";
import type { Endpoint } from "./endpoint.ts";
import { instant, named } from "./places.ts";

export const forecastQuery = z.strictObject({
  quantity: named.describe("id of the registry, e.g. temperature"),
  point: named.optional().describe("default: the exhibit"),
});
export type ForecastQuery = z.output<typeof forecastQuery>;

const aheadView = z.object({
  hours: z.number().describe("from now"),
  value: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  coverage: z
    .number()
    .nullable()
    .describe("share of past forecasts of this stream whose interval held the later value"),
  origins: z.int().describe("how many past forecasts there were"),
  unbounded: z.int(),
  isStated: z.boolean().describe("false: rough, the measured coverage is not 85 to 95 %, or too few"),
});
/** GET /systems/{system}/forecast. */
export const forecastView = z.object({
  now: instant,
  zone: z.string(),
  system: z.string(),
  point: z.string(),
  quantity: z.string(),
  label: z.string(),
  unitLabel: z.string(),
  decimals: z.int(),
  perDay: z.number().describe("proven trend, units per day; 0 if none is proven"),
  ahead: z.array(aheadView),
  limits: z.array(
    z.object({
      limit: z.number(),
      side: z.enum(["high", "low"]),
      earliest: z.number().nullable().describe("hours from now; null: not within seven days"),
      latest: z.number().nullable(),
      isStated: z.boolean(),
      says: z.string(),
    }),
  ),
  says: z.string(),
});
export type ForecastView = z.infer<typeof forecastView>;

export const ENDPOINTS_OF_FORECAST = {
  forecast: {
    method: "get",
    path: "/systems/{system}/forecast",
    summary:
      "Where a probe's quantity will be in 6, 24 and 72 h and when it reaches its limits, with measured coverage",
    query: forecastQuery,
    answer: forecastView,
    media: "application/json",
    open: false,
  },
} as const satisfies Record<string, Endpoint>;
/** Names of these schemas in the OpenAPI document. */
export const NAMED_OF_FORECAST: Readonly<Record<string, z.ZodType>> = { Forecast: forecastView };
