/** What the API offers about home water: the native range and how near a system is to it. */
import type * as z from "zod";
import type { Endpoint } from "./endpoint.ts";
import { nativeWaterQuery, nativeWaterView } from "./native-water.ts";

const json = { media: "application/json", open: false } as const;

export const ENDPOINTS_OF_HOME_WATER = {
  nativeWater: {
    ...json,
    method: "get",
    path: "/native-water",
    summary:
      "Twelve months of the sea around a place: temperature, salinity, day length, and which box they are of",
    query: nativeWaterQuery,
    answer: nativeWaterView,
  },
} as const satisfies Record<string, Endpoint>;

export const NAMED_OF_HOME_WATER: Readonly<Record<string, z.ZodType>> = {
  NativeWater: nativeWaterView,
};
