import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { ENDPOINTS } from "#contract/endpoints.ts";
import { MINUTE } from "#core/time/instant.ts";
import { NOW } from "#tests/services/world.ts";
import { type Api, openApi } from "./api-world.ts";

const [sums, sum, working, derived] = await Promise.all([
  import("#app/api/v1/sums/route.ts"),
  import("#app/api/v1/sums/[name]/route.ts"),
  import("#app/api/v1/systems/[system]/working/route.ts"),
  import("#app/api/v1/systems/[system]/derived/route.ts"),
]);

let api: Api;
beforeEach(async () => {
  api = await openApi();
});
afterEach(() => api.dispose());

const ask = (name: string, inputs: unknown) =>
  api.ask(sum.POST, `/sums/${name}`, { params: { name }, body: { inputs } });

/** What a sum that can kill asks for before it answers. */
const WHERE_ASKED: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  copper: { veterinarian: "Test Veterinarian", reason: "protozoa on the gills" },
};

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
      Object.assign(inputs, WHERE_ASKED[name]);
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

describe("the sum of copper", () => {
  const day = { volume: 4, measured: 0, wanted: 0.1, stock: { value: 10, unit: "g/L" } };
  const outputsOf = (body: unknown) =>
    Object.fromEntries(ENDPOINTS.sum.answer.parse(body).outputs.map(({ name, value }) => [name, value]));

  test("stops where others than bony fish live on the water or may do, until a name and a reason stand", async () => {
    for (const water of [undefined, "unknown", "others"]) {
      const { status, body } = await ask("copper", { ...day, water, veterinarian: " " });
      expect(status).toBe(422);
      const { issues } = body as { issues: { field: string; says: string; remedy: string }[] };
      expect(issues.map(({ field }) => field)).toEqual(["inputs.veterinarian", "inputs.reason"]);
      expect(issues[0]?.says).toContain("sharks, rays or invertebrates");
    }
    expect((await ask("copper", { ...day, veterinarian: "Test Veterinarian" })).status).toBe(422);
    const told = { veterinarian: "Test Veterinarian", reason: "protozoa on the gills" };
    expect((await ask("copper", { ...day, water: "others", ...told })).status).toBe(200);
    expect((await ask("copper", { ...day, water: "bony-fish" })).status).toBe(200);
  });

  test("is a balance of mass, and says what a smaller volume would make of it", async () => {
    // 0.10 mg/L over 4.0 m³ are 0.4 g; over nine tenths of it 0.111 mg/L (arithmetic).
    const { body } = await ask("copper", { ...day, water: "bony-fish" });
    const { copper, stock, sulfate, smaller } = outputsOf(body) as Record<string, number>;
    expect(copper).toBeCloseTo(0.4, 12);
    expect(stock).toBeCloseTo(40, 9);
    // CuSO4·5H2O is 249.685 g/mol, 25.45 % of it copper (IUPAC abridged standard atomic weights 2021: Cu 63.546, S 32.06, O 15.999, H 1.008).
    expect(sulfate).toBeCloseTo((0.4 * (63.546 + 32.06 + 9 * 15.999 + 10 * 1.008)) / 63.546, 3);
    expect(smaller).toBeCloseTo(0.1 / 0.9, 12);
  });

  test("gives nothing where nothing is to be added, and marks a level above the published course", async () => {
    const there = await ask("copper", { ...day, water: "bony-fish", measured: 0.13 });
    expect(there.body).toMatchObject({ status: "invalid", outputs: [{ value: null }, {}, {}, {}] });
    expect(ENDPOINTS.sum.answer.parse(there.body).note).toContain("the water already has 0.13 mg/L");
    for (const wrong of [{ volume: 0 }, { stock: 0 }, { wanted: -0.1 }])
      expect((await ask("copper", { ...day, water: "bony-fish", ...wrong })).body).toMatchObject({
        status: "invalid",
      });
    // Zec 2017: 0.18 to 0.20 mg/L for about 21 days.
    const status = async (wanted: number) =>
      ENDPOINTS.sum.answer.parse((await ask("copper", { ...day, water: "bony-fish", wanted })).body).status;
    expect([await status(0.2), await status(0.21)]).toEqual(["ok", "extrapolated"]);
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
