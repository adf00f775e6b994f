import { describe, expect, it } from "vitest";
import { runNativeWater } from "#ingest/tables/native-water.ts";

async function run(...args: string[]) {
  const said: string[] = [];
  const told: string[] = [];
  const code = await runNativeWater(args, {
    say: (text) => said.push(text),
    tell: (line) => told.push(line),
  });
  return { code, said: said.join("\n"), told: told.join("\n") };
}

describe("npm run native-water", () => {
  it("prints one JSON object with box, twelve temperatures, salinity, twelve day lengths and sources", async () => {
    const { code, said } = await run("49", "-5");
    const water = JSON.parse(said) as Record<string, unknown>;
    expect(code).toBe(0);
    expect(water).toMatchObject({ box: { latitude: 49, longitude: -5 }, depth: 0 });
    expect(water.temperature).toHaveLength(12);
    expect(water.dayLength).toHaveLength(12);
    expect(water.salinity).toBeCloseTo(35.3, 1);
    expect(water.source).toMatchObject({
      temperature: expect.stringContaining("Comprehensive Ocean-Atmosphere"),
    });
  });
  it("goes below the surface where a depth is given", async () => {
    const { said } = await run("33", "-117", "50");
    expect(JSON.parse(said)).toMatchObject({ depth: 50, spread: null });
  });
  it("says where there is no sea, and ends with 1", async () => {
    const { code, said, told } = await run("47", "90");
    expect(code).toBe(1);
    expect(said).toBe("");
    expect(told).toContain("no complete ocean box within 300 km of 47, 90");
  });
  it("names what it cannot read, and ends with 2", async () => {
    expect(await run("north", "5")).toMatchObject({
      code: 2,
      told: expect.stringContaining('"north" is not a number'),
    });
    expect(await run("95", "5")).toMatchObject({ code: 2, told: expect.stringContaining("latitude 95") });
    expect(await run("5")).toMatchObject({ code: 2 });
  });
});
