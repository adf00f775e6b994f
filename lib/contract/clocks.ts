import * as z from "zod";
import type { Endpoint } from "./endpoint.ts";

const instant = z.number().int().describe("UTC milliseconds");
const length = z.number().int().describe("milliseconds");

/** A sender's clock that is wrong, and what became of the readings it stamped. */
export const clockView = z.object({
  id: z.string(),
  source: z.string(),
  way: z.enum(["ahead", "behind"]),
  offset: length.describe("how far it is off, at least"),
  uncertainty: length.describe("how much more it may be"),
  since: instant.describe("receipt of the first message under it, or the earliest that was looked at"),
  until: instant.nullable().describe("null: it goes on"),
  streams: z.array(z.number().int()),
  systems: z.array(z.string()),
  state: z
    .enum(["held", "placed", "told"])
    .describe("held: kept, flagged and not judged until somebody says; told: nothing is held"),
  placement: z.object({ id: z.string(), offset: length, by: z.string(), at: instant }).nullable(),
  mayPlace: z.boolean().describe("the caller may place its readings, or take that back"),
  says: z.string(),
});
export type ClockView = z.infer<typeof clockView>;
/** GET /clocks. */
export const clocksView = z.object({ now: instant, zone: z.string(), clocks: z.array(clockView) });
export type ClocksView = z.infer<typeof clocksView>;

const clientId = z.string().min(1).max(80);
/** POST /clocks/{clock}/place. */
export const placeClockRequest = z.strictObject({
  clientId,
  offset: length.min(1).optional().describe("by how much the stamps are ahead; default: as estimated"),
});
/** POST /clock-placements/{placement}/withdraw. */
export const withdrawPlacementRequest = z.strictObject({
  clientId,
  reason: z.string().min(1).max(2_000).optional(),
});
export const placementAnswer = z.object({ placement: z.string(), offset: length, repeated: z.boolean() });
export type PlacementAnswer = z.infer<typeof placementAnswer>;

const common = { media: "application/json", open: false } as const;
export const ENDPOINTS_OF_CLOCKS = {
  clocks: {
    ...common,
    method: "get",
    path: "/clocks",
    summary: "Senders whose clock is wrong, by how much and since when, and what became of their readings",
    answer: clocksView,
  },
  placeClock: {
    ...common,
    method: "post",
    path: "/clocks/{clock}/place",
    summary:
      "Place what came under a clock that ran ahead at the corrected time, and judge it there; the readings stay as they were sent",
    body: placeClockRequest,
    answer: placementAnswer,
  },
  withdrawPlacement: {
    ...common,
    method: "post",
    path: "/clock-placements/{placement}/withdraw",
    summary: "Take a placement back: the readings are held again",
    body: withdrawPlacementRequest,
    answer: placementAnswer,
  },
} as const satisfies Record<string, Endpoint>;

/** Names of these schemas in the OpenAPI document. */
export const NAMED_OF_CLOCKS: Readonly<Record<string, z.ZodType>> = {
  Clock: clockView,
  Clocks: clocksView,
  PlaceClockRequest: placeClockRequest,
  WithdrawPlacementRequest: withdrawPlacementRequest,
  PlacementAnswer: placementAnswer,
};
