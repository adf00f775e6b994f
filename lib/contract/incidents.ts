/** Incidents: findings that began together, and what may be behind them. */
import * as z from "zod";
import { instantText } from "./api.ts";
import type { Endpoint } from "./endpoint.ts";
import { instant, named } from "./places.ts";

export const incidentsQuery = z.strictObject({
  from: instantText.optional().describe("default: 24 h before `to`"),
  to: instantText.optional().describe("default: now"),
  system: named.optional(),
});
export type IncidentsQuery = z.output<typeof incidentsQuery>;

export const causeView = z.object({
  id: z.string(),
  label: z.string(),
  isFailure: z.boolean().describe("false: an explanation that needs no action"),
  fit: z
    .number()
    .describe(
      "how much of what it would lead one to expect was seen, 0 to 1; for ranking, not a probability",
    ),
  for: z.array(z.string()),
  against: z.array(z.string()),
  notMeasured: z.array(z.string()),
  checkFirst: z.string(),
  caution: z.string().nullable(),
  actWithinMinutes: z.number(),
});
export type CauseView = z.infer<typeof causeView>;
export const incidentView = z.object({
  id: z.string(),
  began: instant,
  systems: z.array(z.object({ system: z.string(), name: z.string() })),
  members: z
    .array(z.object({ finding: z.string(), systemName: z.string(), began: instant, says: z.string() }))
    .describe("every finding of it, earliest first"),
  changed: z
    .array(z.object({ at: instant, says: z.string() }))
    .describe("what people did within thirty minutes"),
  causes: z
    .array(causeView)
    .describe("best fit first; possible causes with the reasons for and against, never certain"),
  estimates: z.array(z.object({ says: z.string(), assumes: z.string() })),
});
export type IncidentView = z.infer<typeof incidentView>;
/** GET /incidents. */
export const incidentsView = z.object({
  now: instant,
  zone: z.string(),
  incidents: z.array(incidentView).describe("newest first"),
  more: z.int().describe("number of older ones whose causes were not worked out"),
});
export type IncidentsView = z.infer<typeof incidentsView>;

export const ENDPOINTS_OF_INCIDENTS = {
  incidents: {
    method: "get",
    path: "/incidents",
    summary: "Findings that began together, what changed then, and what may be behind them, for and against",
    query: incidentsQuery,
    answer: incidentsView,
    media: "application/json",
    open: false,
  },
} as const satisfies Record<string, Endpoint>;
/** Names of these schemas in the OpenAPI document. */
export const NAMED_OF_INCIDENTS: Readonly<Record<string, z.ZodType>> = {
  Cause: causeView,
  Incident: incidentView,
  Incidents: incidentsView,
};
