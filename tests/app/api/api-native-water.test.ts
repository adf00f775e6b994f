import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { problem } from "#contract/answers.ts";
import { ENDPOINTS } from "#contract/endpoints.ts";
import { type Api, openApi } from "./api-world.ts";

const nativeWater = await import("#app/api/v1/native-water/route.ts");

let api: Api;
beforeEach(async () => {
  api = await openApi();
});
afterEach(() => api.dispose());

describe("GET /native-water", () => {
  test("answers twelve months of the nearest box, exactly as the document says", async () => {
    const { status, body } = await api.ask(nativeWater.GET, "/native-water?latitude=36.6&longitude=-122.5");
    expect(status).toBe(200);
    const view = ENDPOINTS.nativeWater.answer.parse(body);
    expect(view).toEqual(body);
    expect(view).toMatchObject({
      box: { latitude: 37, longitude: -123 },
      asked: { latitude: 36.6, longitude: -122.5 },
    });
  });
  test("says 404 with the reason where no sea is near", async () => {
    const { status, body } = await api.ask(nativeWater.GET, "/native-water?latitude=47&longitude=90");
    expect(status).toBe(404);
    expect(problem.parse(body).detail).toContain("within 300 km");
  });
  test.each(["latitude=91&longitude=0", "latitude=north&longitude=0", "latitude=5"])(
    "refuses %s by field",
    async (query) => {
      const { status, body } = await api.ask(nativeWater.GET, `/native-water?${query}`);
      expect(status).toBe(422);
      expect(problem.parse(body).issues?.[0]?.field).toMatch(/latitude|longitude/);
    },
  );
});
