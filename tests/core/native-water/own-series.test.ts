import { expect, it } from "vitest";
import type { HomeWaterSeries } from "#core/habitat/index.ts";
import { ownSeries } from "#core/native-water/index.ts";

/** One degree along a meridian is about 111 km. */
const at = (id: string, latitude: number, more: Partial<HomeWaterSeries> = {}): HomeWaterSeries => ({
  id,
  name: id,
  latitude,
  longitude: 0,
  quantity: "temperature",
  months: [],
  source: "shore station",
  recordedAt: 0,
  recordedBy: "curator",
  reason: "",
  withdrawnAt: null,
  ...more,
});
const PLACE = { latitude: 0, longitude: 0 };
const idOf = (loaded: readonly HomeWaterSeries[]) => ownSeries(loaded, "temperature", PLACE)?.series.id;

it("takes the nearest series of the quantity", () => {
  const loaded = [at("far", 2), at("near", -1), at("salinity here", 0, { quantity: "salinity" })];
  expect(idOf(loaded)).toBe("near");
  expect(ownSeries(loaded, "temperature", PLACE)?.distance).toBeCloseTo(111.2, 0);
});
it("passes over what is withdrawn, and what is more than 300 km away", () => {
  expect(idOf([at("withdrawn", 0, { withdrawnAt: 1 }), at("stands", 1)])).toBe("stands");
  expect(idOf([at("222 km", 2)])).toBe("222 km");
  expect(ownSeries([at("333 km", 3)], "temperature", PLACE)).toBeNull();
});
it("takes the one loaded last of two at the same place", () => {
  expect(idOf([at("older", 1, { recordedAt: 1 }), at("newer", 1, { recordedAt: 2 })])).toBe("newer");
});
