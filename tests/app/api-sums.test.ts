import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { MINUTE } from "../../lib/core/time/instant.ts";
import { ENDPOINTS } from "../../lib/core/wire/endpoints.ts";
import { NOW } from "../services/world.ts";
import { type Api, openApi } from "./api-world.ts";

const [sums, sum, working, derived] = await Promise.all([
  import("../../app/api/v1/sums/route.ts"),
  import("../../app/api/v1/sums/[name]/route.ts"),
  import("../../app/api/v1/systems/[system]/working/route.ts"),
  import("../../app/api/v1/systems/[system]/derived/route.ts"),
]);

let api: Api;
beforeEach(async () => {
  api = await openApi();
});
afterEach(() => api.dispose());

const ask = (name: string, inputs: unknown) =>
  api.ask(sum.POST, `/sums/${name}`, { params: { name }, body: { inputs } });

describe("sums over the API", () => {
  test("are listed with what they ask for, in which units, and every one runs on its own examples", async () => {
    const { body } = await api.ask(sums.GET, "/sums");
    const listed = ENDPOINTS.sums.answer.parse(body);
    expect(listed).toEqual(body);
    expect(listed.sums.length).toBeGreaterThan(20);
    for (const { name, fields, cautions } of listed.sums) {
      const inputs: Record<string, number | string> = {};
      for (const field of fields) {
        const example = field.kind === "choice" ? field.usual : field.example;
        if (example !== null) inputs[field.name] = example;
      }
      const { status, body: answered } = await ask(name, inputs);
      expect(status, name).toBe(200);
      const answer = ENDPOINTS.sum.answer.parse(answered);
      expect(answer).toEqual(answered);
      expect(answer.status, name).toBe("ok");
      expect(answer.outputs[0]?.value, name).not.toBeNull();
      expect(answer.source.length, name).toBeGreaterThan(5);
      expect(cautions.at(-1), name).toMatch(/local codes.*licensed practitioner/);
    }
  });

  test("take units by name, and give what the equation's authors give", async () => {
    const { body } = await ask("salinity", {
      conductivity: { value: "42914", unit: "uS/cm" },
      temperature: { value: 59, unit: "[degF]" },
    });
    // C(35, 15 °C on IPTS-68, 0) is 42.914 mS/cm (UNESCO 44); 59 °F is 15 °C.
    expect(body).toMatchObject({ status: "ok", outputs: [{ name: "salinity" }] });
    const [salinity] = ENDPOINTS.sum.answer.parse(body).outputs;
    expect(Number(salinity?.value)).toBeCloseTo(35, 2);
    expect(salinity?.text).toMatch(/^34\.99\d \(34\.\d+ to 35\.\d+\)$/);
  });

  test("give status invalid with the reason where no number is defensible", async () => {
    const { status, body } = await ask("hydrometer", { reading: 0.99, temperature: 25 });
    expect(status).toBe(200);
    expect(body).toMatchObject({ status: "invalid", outputs: [{ value: null, text: "not known" }] });
    expect(ENDPOINTS.sum.answer.parse(body).note).toContain("lighter than fresh water");
  });

  test("refuse by field: what is missing, not a number, in a wrong unit, unknown", async () => {
    const { status, body } = await ask("ammonia", {
      total_ammonia: { value: 1, unit: "mg{NO3}/L" },
      ph: "eight",
      salinity: 35,
      ph_scale: "seawater",
      copper: 1,
    });
    expect(status).toBe(422);
    const { issues } = body as { issues: { field: string; says: string }[] };
    expect(issues.map(({ field }) => field)).toEqual([
      "inputs.total_ammonia",
      "inputs.ph",
      "inputs.ph_scale",
      "inputs.temperature",
      "inputs.copper",
    ]);
    expect((await ask("salt", {})).status).toBe(404);
    expect(
      (await api.ask(sum.POST, "/sums/salinity", { params: { name: "salinity" }, body: {} })).status,
    ).toBe(422);
  });
});

describe("the working over the API", () => {
  async function measured() {
    const source = await api.store.ensureSource("gateway-1", "gateway");
    const values = { temperature: 25, conductivity: 53, dissolved_oxygen: 6.5 };
    for (const [quantity, value] of Object.entries(values)) {
      const stream = await api.stream("reef", "display", quantity);
      await api.store.append({
        now: NOW,
        readings: [
          { stream: stream.id, at: NOW - MINUTE, value, source: source.id, sequence: null, mark: null },
        ],
        rejected: [],
        unclaimed: [],
      });
    }
  }
  const reef = { params: { system: "reef" } };

  test("is what the document says, at the instant asked for", async () => {
    await measured();
    const { status, body } = await api.ask(
      working.GET,
      `/systems/reef/working?quantity=salinity&point=display&at=${NOW}`,
      reef,
    );
    expect(status).toBe(200);
    const view = ENDPOINTS.working.answer.parse(body);
    expect(view).toEqual(body);
    // C(35, 25 °C, 0) is 53.071 mS/cm (PSS-78, UNESCO 44).
    expect(view.value).toBeCloseTo(34.95, 2);
    expect(view.at).toBe(NOW - MINUTE);
    const now = await api.ask(derived.GET, "/systems/reef/derived", reef);
    const values = ENDPOINTS.derived.answer.parse(now.body);
    expect(values).toEqual(now.body);
    expect(values.values.find((each) => each.quantity === "salinity")?.value).toBe(view.value);
  });

  test("refuses what is not computed, and a time that is none", async () => {
    await measured();
    const unknown = await api.ask(working.GET, "/systems/reef/working?quantity=hardness", reef);
    expect(unknown.status).toBe(404);
    const time = await api.ask(working.GET, "/systems/reef/working?quantity=salinity&at=yesterday", reef);
    expect(time.status).toBe(422);
  });
});
