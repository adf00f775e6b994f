import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { benchAnswer } from "#contract/answers.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { recordBench } from "#services/bench/record-bench.ts";
import { KEEPER, NOW, openWorld, READER, system, type World } from "../world.ts";

let world: World;
beforeEach(async () => {
  world = await openWorld([system("reef"), system("creek", { water: "fresh" })]);
});
afterEach(() => world.dispose());

const body = (results: unknown[], more: Record<string, unknown> = {}) => ({
  clientId: "phone-1",
  system: "reef",
  point: "display",
  sampledAt: new Date(NOW - 10 * MINUTE).toISOString(),
  results,
  ...more,
});
const record = async (sent: unknown) => benchAnswer.parse(await recordBench(world.write, KEEPER, sent));
const stored = async (quantity: string) => {
  const stream = (await world.store.readSetUp()).streams.find(
    (row) => row.quantity === quantity && row.origin === "bench",
  );
  return stream ? world.store.benchBetween([stream.id], 0, NOW + DAY, Number.MAX_SAFE_INTEGER) : [];
};

describe("what is stored", () => {
  test("the result as typed, and in the registry's unit", async () => {
    const answer = await record(
      body([{ quantity: "alkalinity", value: "8.10", unit: "[dKH]", method: "titration" }]),
    );
    expect(answer).toMatchObject({ repeated: false, analyst: "keeper", unionisedAmmonia: null });
    const [row] = await stored("alkalinity");
    expect(row).toMatchObject({
      typed: "8.10",
      unitTyped: "[dKH]",
      qualifier: "=",
      method: "titration",
      at: NOW - 10 * MINUTE,
    });
    // 1 meq/L is 2.80 German degrees: 10 mg/L CaO a degree, 28.04 mg CaO a meq (molar mass of CaO 56.08).
    expect(row?.value).toBeCloseTo(8.1 / 2.804, 2);
  });

  test("what the tester answered, with the question as it was put; the reason is for people's own words", async () => {
    const said = { answer: "again", asked: "That is 4.5 times the usual result. Is it right?" };
    const answer = await record(
      body([
        { quantity: "ph", value: "8.1", unit: "[pH]", ...said },
        { quantity: "nitrite", value: "0.1", unit: "mg{N}/L" },
      ]),
    );
    const nothingAsked = { answer: null, asked: null, reason: null };
    expect(answer.results).toMatchObject([{ ...said, reason: null }, nothingAsked]);
    expect(await stored("ph")).toMatchObject([{ ...said, reason: null }]);
    expect(await stored("nitrite")).toMatchObject([nothingAsked]);
  });

  // Sentences as the form of the version before wrote them into the reason: a test may wait on a phone while the server is brought up to date.
  test.each([
    ["again", "Not sure, test again. That is 4.5 times the usual result. Is it right?"],
    ["right", "Asked and confirmed as right. That is 4.5 times the usual result. Is it right?"],
    ["unanswered", "Asked and not answered. That is 4.5 times the usual result. Is it right?"],
  ])("a test that waited on a phone brings its answer %s in the reason", async (answer, reason) => {
    const { results } = await record(body([{ quantity: "ph", value: "8.1", unit: "[pH]", reason }]));
    const said = { answer, asked: "That is 4.5 times the usual result. Is it right?", reason: null };
    expect(results).toMatchObject([said]);
    expect(await stored("ph")).toMatchObject([said]);
  });

  test.each(["Not sure, test again tomorrow", "Not sure, test again.", "typed wrong"])(
    "the reason %s is kept, or is an answer alone",
    async (reason) => {
      const { results } = await record(body([{ quantity: "ph", value: "8.1", unit: "[pH]", reason }]));
      expect(results).toMatchObject([
        reason.endsWith(".") ? { answer: "again", asked: null, reason: null } : { answer: null, reason },
      ]);
    },
  );

  test("a correction keeps the reason that somebody gave for it", async () => {
    const { results } = await record(body([{ quantity: "ph", value: "8.1", unit: "[pH]" }]));
    const reason = "Not sure, test again. It was read off the wrong line.";
    const corrected = await record(
      body([{ quantity: "ph", value: "8.2", unit: "[pH]", supersedes: results[0]?.id, reason }], {
        clientId: "phone-2",
      }),
    );
    expect(corrected.results).toMatchObject([{ answer: null, reason }]);
  });

  test.each([
    ["<0.02", undefined, "<", 0.02],
    ["0.02", "<", "<", 0.02],
    ["> 4", undefined, ">", 4],
    ["0", undefined, "=", 0],
  ])(
    "%s with qualifier %s is %s %d, never a blank or a bare zero",
    async (value, qualifier, sign, number) => {
      const answer = await record(
        body([{ quantity: "nitrite", value, unit: "mg{N}/L", ...(qualifier ? { qualifier } : {}) }]),
      );
      expect(answer.results[0]).toMatchObject({ qualifier: sign, value: number });
    },
  );

  test("the same client id is stored once", async () => {
    const sent = body([{ quantity: "ph", value: "8.1", unit: "[pH]" }]);
    const [first, second] = [await record(sent), await record(sent)];
    expect(second).toMatchObject({ id: first.id, repeated: true });
    expect(await stored("ph")).toHaveLength(1);
  });

  test("a correction points at the result it corrects, and both stay", async () => {
    await record(body([{ quantity: "nitrate", value: "50", unit: "mg{N}/L" }]));
    const [wrong] = await stored("nitrate");
    await record(
      body(
        [
          {
            quantity: "nitrate",
            value: "50",
            unit: "mg{NO3}/L",
            supersedes: wrong?.id,
            reason: "the kit counts the ion",
          },
        ],
        { clientId: "phone-2" },
      ),
    );
    const now = await stored("nitrate");
    expect(now).toHaveLength(1);
    expect(now[0]).toMatchObject({ supersedes: wrong?.id, reason: "the kit counts the ion" });
    // N is 14.007 of 62.004 g/mol of nitrate (IUPAC standard atomic weights).
    expect(now[0]?.value).toBeCloseTo((50 * 14.007) / 62.004, 6);
  });

  test("correcting a result that does not exist, or twice, is refused", async () => {
    const correction = (id: string | undefined, clientId: string) =>
      record(
        body([{ quantity: "nitrate", value: "5", unit: "mg{N}/L", supersedes: id, reason: "typed wrong" }], {
          clientId,
        }),
      );
    await expect(correction("nothing", "c1")).rejects.toMatchObject({ code: "conflict" });
    await record(body([{ quantity: "nitrate", value: "50", unit: "mg{N}/L" }]));
    const [wrong] = await stored("nitrate");
    await correction(wrong?.id, "c2");
    expect(await correction(wrong?.id, "c2")).toMatchObject({ repeated: true });
    await expect(correction(wrong?.id, "c3")).rejects.toMatchObject({ code: "conflict" });
  });
});

describe("what is refused, each fault by field, value and remedy", () => {
  test.each<[string, unknown, string]>([
    ["a blank", { quantity: "ph", value: "  ", unit: "[pH]" }, "results.0.value"],
    ["a decimal comma", { quantity: "ph", value: "8,1", unit: "[pH]" }, "results.0.value"],
    ["words", { quantity: "ph", value: "about 8", unit: "[pH]" }, "results.0.value"],
    ["null", { quantity: "ph", value: null, unit: "[pH]" }, "results.0.value"],
    ["true", { quantity: "ph", value: true, unit: "[pH]" }, "results.0.value"],
    ["an unknown quantity", { quantity: "pH", value: "8.1", unit: "[pH]" }, "results.0.quantity"],
    ["a state", { quantity: "pump", value: "1", unit: "1" }, "results.0.quantity"],
    [
      "a unit that does not convert exactly",
      { quantity: "nitrate", value: "5", unit: "ppm" },
      "results.0.unit",
    ],
    ["a missing unit", { quantity: "ph", value: "8.1" }, "results.0.unit"],
    ["what no instrument shows", { quantity: "ph", value: "81", unit: "[pH]" }, "results.0.value"],
    [
      "a sign that contradicts the qualifier",
      { quantity: "ph", value: "<8", unit: "[pH]", qualifier: ">" },
      "results.0.qualifier",
    ],
    ["an unknown key", { quantity: "ph", value: "8.1", unit: "[pH]", flag: 1 }, "results.0"],
    [
      "a correction without a reason",
      { quantity: "ph", value: "8.1", unit: "[pH]", supersedes: "x" },
      "results.0.reason",
    ],
    [
      "a question without its answer",
      { quantity: "ph", value: "8.1", unit: "[pH]", asked: "Is it right?" },
      "results.0.answer",
    ],
    [
      "an answer that is none",
      { quantity: "ph", value: "8.1", unit: "[pH]", answer: "perhaps" },
      "results.0.answer",
    ],
  ])("%s", async (_claim, result, field) => {
    const refused = await record(body([result])).catch((error: unknown) => error);
    expect(refused).toMatchObject({
      code: "invalid",
      issues: [{ field, says: expect.stringMatching(/./), remedy: expect.stringMatching(/./) }],
    });
    expect(await stored("ph")).toEqual([]);
  });

  test("a comma's remedy shows the point", async () => {
    await expect(record(body([{ quantity: "ph", value: "8,1", unit: "[pH]" }]))).rejects.toMatchObject({
      issues: [{ value: "8,1", remedy: "use a point: 8.1" }],
    });
  });

  test.each([
    ["an unknown system", { system: "atlantis" }, { code: "not_found" }],
    [
      "an unknown point",
      { point: "attic" },
      { code: "invalid", issues: [{ field: "point", remedy: "use one of display, sump" }] },
    ],
    [
      "a time without an offset",
      { sampledAt: "2026-03-02T06:00:00" },
      {
        code: "invalid",
        issues: [
          {
            field: "sampledAt",
            says: '"2026-03-02T06:00:00" has no offset',
            remedy: "add Z or one like +01:00",
          },
        ],
      },
    ],
    ["a time to come", { sampledAt: NOW + HOUR }, { code: "invalid", issues: [{ field: "sampledAt" }] }],
    ["no results", { results: [] }, { code: "invalid", issues: [{ field: "results" }] }],
    [
      "an unknown key",
      { analyst: "somebody else" },
      { code: "invalid", issues: [{ remedy: 'remove "analyst"' }] },
    ],
  ])("%s", async (_claim, more, refusal) => {
    await expect(record(body([{ quantity: "ph", value: "8.1", unit: "[pH]" }], more))).rejects.toMatchObject(
      refusal,
    );
  });

  test("all faults are told at once, and nothing is stored", async () => {
    const refused = record(
      body([
        { quantity: "ph", value: "8.1", unit: "[pH]" },
        { quantity: "nitrate", value: "", unit: "mg{N}/L" },
        { quantity: "nitrite", value: "1,5", unit: "mg{N}/L" },
      ]),
    );
    await expect(refused).rejects.toMatchObject({
      issues: [{ field: "results.1.value" }, { field: "results.2.value" }],
    });
    expect(await stored("ph")).toEqual([]);
  });

  test("a reader may not record", async () => {
    const sent = body([{ quantity: "ph", value: "8.1", unit: "[pH]" }]);
    await expect(recordBench(world.write, READER, sent)).rejects.toMatchObject({ code: "forbidden" });
  });
});

describe("questions at the field", () => {
  test("what is unusual is stored and asked about", async () => {
    const answer = await record(body([{ quantity: "ph", value: "11", unit: "[pH]" }]));
    expect(answer.questions).toEqual([
      expect.objectContaining({ code: "outside_plausible_span", field: "results.0.value" }),
    ]);
    expect(await stored("ph")).toHaveLength(1);
  });

  test("a unit that does not say what it counts, and an entry a day late", async () => {
    const answer = await record(
      body([{ quantity: "nitrate", value: "5", unit: "mg/L" }], { sampledAt: NOW - 25 * HOUR }),
    );
    expect(answer.questions.map((row) => row.code)).toEqual(["basis_assumed", "entered_late"]);
  });
});

describe("un-ionised ammonia at once", () => {
  const tan = { quantity: "total_ammonia", value: "0.50", unit: "mg{N}/L" };

  test("from the test's own pH, temperature and salinity", async () => {
    const results = [
      tan,
      { quantity: "ph", value: "8.0", unit: "[pH]" },
      { quantity: "temperature", value: "25", unit: "Cel" },
    ];
    const { unionisedAmmonia } = await record(body(results, { system: "creek" }));
    // Emerson et al. 1975: pKa = 0.09018 + 2729.92 / T, so 5.37 % of total ammonia is NH3 at 25 °C and pH 8.0.
    expect(unionisedAmmonia?.value).toBeCloseTo(0.5 * 0.0537, 4);
    expect(unionisedAmmonia).toMatchObject({ status: "ok", missing: [], phScale: "nbs" });
    expect(unionisedAmmonia?.inputs.map((row) => row.origin)).toEqual([
      "this test",
      "this test",
      "this test",
      "fresh water",
    ]);
    expect(unionisedAmmonia?.says).toMatch(/^Un-ionised ammonia 0\.027 mg\/L as N \(0\.0\d+ to 0\.0\d+\)/);
  });

  test("from the probes around the time of sampling, a failed reading left out", async () => {
    const source = await world.store.ensureSource("gateway-1", "gateway");
    const streams = await Promise.all(
      ["ph", "temperature", "salinity"].map((quantity) => world.stream("reef", "display", quantity)),
    );
    const [ph] = streams;
    const reading = (stream: number, value: number, at: number) => ({
      stream,
      at,
      value,
      source: source.id,
      sequence: null,
      mark: null,
    });
    await world.store.append({
      now: NOW,
      readings: [
        ...streams.map((stream, i) => reading(stream.id, [8.1, 25, 35][i] ?? 0, NOW - 12 * MINUTE)),
        reading(ph?.id ?? 0, 13, NOW - 10 * MINUTE),
      ],
      rejected: [],
      unclaimed: [],
    });
    await world.evaluated({
      flags: [{ stream: ph?.id ?? 0, at: NOW - 10 * MINUTE, flag: 4, reasons: ["out_of_plausible_span"] }],
    });
    const { unionisedAmmonia } = await record(body([tan]));
    expect(unionisedAmmonia?.inputs).toMatchObject([
      { quantity: "total_ammonia" },
      { quantity: "ph", value: 8.1, origin: "probe", at: NOW - 12 * MINUTE },
      { quantity: "temperature", value: 25, origin: "probe" },
      { quantity: "salinity", value: 35, origin: "probe" },
    ]);
    expect(unionisedAmmonia?.value).toBeGreaterThan(0.015);
    expect(unionisedAmmonia?.value).toBeLessThan(0.035);
  });

  test("says what is missing instead of guessing", async () => {
    const { unionisedAmmonia } = await record(body([tan, { quantity: "ph", value: "8.1", unit: "[pH]" }]));
    expect(unionisedAmmonia).toMatchObject({
      value: null,
      status: "not known",
      missing: ["temperature", "salinity"],
    });
  });

  test("a total below the detection limit gives a less than, and a tiny value is never 0.000", async () => {
    const inputs = [
      { quantity: "ph", value: "6.5", unit: "[pH]" },
      { quantity: "temperature", value: "20", unit: "Cel" },
    ];
    const below = await record(body([{ ...tan, value: "<0.05" }, ...inputs], { system: "creek" }));
    expect(below.unionisedAmmonia).toMatchObject({
      qualifier: "<",
      says: "Un-ionised ammonia < 0.001 mg/L as N",
    });
  });
});
