import { expect, it } from "vitest";
import type { TargetBand } from "#store/port.ts";
import { eachWith, type OpenSubject, SET_UP, T, withParts } from "./subject.ts";

const EDGES = { low: 10, high: 14, actionLow: 8, actionHigh: 16, urgentLow: null, urgentHigh: 18 };
const BAND: TargetBand = {
  id: "band-1",
  system: "system-kelp",
  quantity: "temperature",
  point: null,
  months: [EDGES],
  validFrom: T,
  validTo: null,
  recordedAt: T,
  setBy: "Ada",
  reason: "residents",
  source: "curator",
};

export function describeSetUp(open: OpenSubject): void {
  const subject = eachWith(open);

  it("reads back everything that was set up", async () => {
    const { store, temperature } = await withParts(subject().store);
    const change = {
      loops: [
        {
          id: "loop-1",
          site: "site-1",
          code: "chilled",
          name: "Chilled water",
          members: ["system-kelp", "system-rays"],
        },
      ],
      bands: [{ ...BAND, months: Array.from({ length: 12 }, () => EDGES), point: "display" }],
      plans: [
        {
          id: "plan-1",
          system: "system-kelp",
          quantity: "level",
          shape: { kind: "tide" as const, mean: 2_000, amplitude: 300, periodMs: 44_712_000, highAt: T },
          validFrom: T,
          validTo: null,
          setBy: "Ada",
          reason: "tidal exhibit",
        },
      ],
      residents: [
        {
          id: "resident-1",
          system: "system-kelp",
          species: "species-1",
          speciesName: "Wolf eel",
          name: null,
          animal: "animal-1",
          population: "Puget Sound",
          sex: "female" as const,
          ended: null,
          stage: "adult" as const,
          count: 2,
          from: T,
          to: null,
          mass: 21.5,
          massAt: T - 1_000,
          massSource: "weighed",
        },
      ],
    };
    await store.writeSetUp(change, [], T);
    const read = await store.readSetUp();
    expect(read).toMatchObject({ ...SET_UP, ...change });
    expect(read.streams[0]).toEqual({
      id: temperature,
      system: "system-kelp",
      point: "point-kelp",
      pointCode: "display",
      pointRole: "exhibit",
      quantity: "temperature",
      origin: "probe",
      interval: null,
      critical: false,
    });
    expect(read.sources).toEqual([{ id: 1, code: "gateway-1", kind: "gateway" }]);
  });

  it("keeps what a probe's numbers stand on, and takes it away again", async () => {
    const { store, temperature } = await withParts(subject().store);
    const at = (await store.readSetUp()).streams.find((row) => row.id === temperature);
    if (!at) throw new Error("the stream is gone");
    const basis = [{ from: T, phScale: "total", phOffset: -0.02, electrode: "ag-agcl-3.5m" }] as const;
    const read = async () => (await store.readSetUp()).streams.find((row) => row.id === temperature);
    await store.writeSetUp({ streams: [{ ...at, basis }] }, [], T);
    expect(await read()).toEqual({ ...at, basis });
    expect(await store.ensureStream(at.point, at.quantity, at.origin)).toEqual({ ...at, basis });
    await store.writeSetUp({ streams: [at] }, [], T);
    expect(await read()).toEqual(at);
  });

  it("replaces by id, and a loop's members whole", async () => {
    const { store } = await withParts(subject().store);
    const loop = {
      id: "loop-1",
      site: "site-1",
      code: "chilled",
      name: "Chilled",
      members: ["system-kelp", "system-rays"],
    };
    await store.writeSetUp({ loops: [loop] }, [], T);
    await store.writeSetUp({ loops: [{ ...loop, name: "Cold", members: ["system-rays"] }] }, [], T);
    const [kelp] = SET_UP.systems;
    await store.writeSetUp(
      { systems: kelp === undefined ? [] : [{ ...kelp, closed: T + 5, youngFilter: true }] },
      [],
      T,
    );
    const { loops, systems } = await store.readSetUp();
    expect(loops).toEqual([{ ...loop, name: "Cold", members: ["system-rays"] }]);
    expect(systems.find((row) => row.code === "kelp")).toEqual({ ...kelp, closed: T + 5, youngFilter: true });
  });

  it("names what to judge again in journal rows of the same commit", async () => {
    const { store } = subject();
    const rejudge = [
      { system: "system-kelp", from: T - 5 },
      { system: "system-rays", from: T - 9 },
    ];
    await store.writeSetUp(SET_UP, rejudge, T);
    expect(await store.journalAfter(0, 10)).toEqual([
      { seq: 1, kind: "set-up", ref: null, rejudge: rejudge[0], spans: null, received: T },
      { seq: 2, kind: "set-up", ref: null, rejudge: rejudge[1], spans: null, received: T + 1 },
    ]);
    expect(await store.journalAfter(1, 10)).toHaveLength(1);
    expect(await store.journalAfter(0, 1)).toHaveLength(1);
  });

  it("writes nothing of a change that fails half way", async () => {
    const { store } = subject();
    const points = [
      {
        id: "point-1",
        system: "no such system",
        code: "display",
        role: "exhibit" as const,
        roleGuessed: false,
        twinOf: null,
      },
    ];
    await expect(store.writeSetUp({ ...SET_UP, points }, [], T)).rejects.toMatchObject({ code: "invalid" });
    expect((await store.readSetUp()).sites).toEqual([]);
    expect(await store.journalAfter(0, 10)).toEqual([]);
    await store.writeSetUp(SET_UP, [], T);
    expect((await store.readSetUp()).systems).toHaveLength(2);
  });

  it("refuses two systems with one short name", async () => {
    const { store } = await withParts(subject().store);
    const [kelp] = SET_UP.systems;
    const twin = kelp === undefined ? [] : [{ ...kelp, id: "system-other" }];
    const failure = store.writeSetUp({ systems: twin }, [], T);
    await expect(failure).rejects.toMatchObject({ name: "StoreError", code: "invalid" });
  });

  it("lets a target band end but never change", async () => {
    const { store } = await withParts(subject().store);
    await store.writeSetUp({ bands: [BAND] }, [], T);
    await store.writeSetUp({ bands: [{ ...BAND, validTo: T + 100 }] }, [], T);
    expect((await store.readSetUp()).bands).toEqual([{ ...BAND, validTo: T + 100 }]);
    for (const changed of [
      { ...BAND, months: [{ ...EDGES, high: 15 }] },
      { ...BAND, setBy: "Grace" },
      { ...BAND, validFrom: T - 1 },
    ]) {
      await expect(store.writeSetUp({ bands: [changed] }, [], T)).rejects.toMatchObject({ code: "invalid" });
    }
    expect((await store.readSetUp()).bands).toEqual([{ ...BAND, validTo: T + 100 }]);
  });

  it("makes a stream and a source once, whoever asks", async () => {
    const one = subject().store;
    const two = await subject().another();
    await one.writeSetUp(SET_UP, [], T);
    const wanted = { interval: 60_000, critical: true };
    const streams = await Promise.all(
      [one, two, one, two].map((store) => store.ensureStream("point-kelp", "temperature", "probe", wanted)),
    );
    expect(new Set(streams.map((stream) => stream.id)).size).toBe(1);
    expect(streams[0]).toMatchObject({ ...wanted, system: "system-kelp", pointCode: "display" });
    expect(await one.ensureStream("point-kelp", "temperature", "probe")).toEqual(streams[0]);
    const bench = await two.ensureStream("point-kelp", "temperature", "bench");
    expect(bench.id).not.toBe(streams[0]?.id);
    const sources = await Promise.all([one, two].map((store) => store.ensureSource("import-7", "import")));
    expect(sources[0]).toEqual(sources[1]);
    await expect(one.ensureStream("nowhere", "ph", "probe")).rejects.toMatchObject({ code: "invalid" });
  });

  it("takes more rows than one statement can carry", async () => {
    const { store } = await withParts(subject().store);
    const points = Array.from({ length: 20_000 }, (_, n) => ({
      id: `many-${String(n).padStart(5, "0")}`,
      system: "system-rays",
      code: `p${String(n).padStart(5, "0")}`,
      role: "make-up" as const,
      roleGuessed: true,
      twinOf: null,
    }));
    await store.writeSetUp({ points }, [], T);
    const read = (await store.readSetUp()).points.filter((point) => point.id.startsWith("many"));
    expect(read).toEqual(points);
  });
}
