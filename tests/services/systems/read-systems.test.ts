import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { systemState, systemsView } from "#contract/views.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { readSystem } from "#services/systems/read-system.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import type { Stream } from "#store/port.ts";
import {
  alarm,
  BAND,
  band,
  current,
  EVENING,
  finding,
  NOW,
  openWorld,
  rollup,
  system,
  type World,
} from "../world.ts";

let world: World;
beforeEach(async () => {
  world = await openWorld(
    [system("reef"), system("kelp", { volume: 400 }), system("den"), system("creek", { volume: 30 })],
    ["reef", "kelp", "den", "creek"].map((code) => band(code)),
  );
});
afterEach(() => world.dispose());

const temperature = (code: string) => world.stream(code, "display", "temperature");

describe("where systems stand", () => {
  test("systems that need action come first, then a look, then not known, then calm", async () => {
    const [reef, kelp, den, creek] = await Promise.all(["reef", "kelp", "den", "creek"].map(temperature));
    await world.evaluated({
      current: [
        current(reef as Stream, 25),
        current(kelp as Stream, 29.5, { deviation: 1.25 }),
        current(den as Stream, 27.4, { deviation: 0.2 }),
        current(creek as Stream, 25, { flag: 4, reasons: ["out_of_sensor_span"], deviation: null }),
      ],
    });
    const view = systemsView.parse(await readSystems(world.read));
    expect(view.systems.map((row) => [row.system, row.standing])).toEqual([
      ["kelp", "action"],
      ["den", "look"],
      ["creek", "unknown"],
      ["reef", "calm"],
    ]);
    expect(view.systems.map((row) => row.worst)).toEqual([1.25, 0.2, null, 0]);
  });

  test("among equals the worst deviation comes first, then the larger volume", async () => {
    const [reef, kelp, den, creek] = await Promise.all(["reef", "kelp", "den", "creek"].map(temperature));
    await world.evaluated({
      current: [
        current(reef as Stream, 27.2, { deviation: 0.1 }),
        current(kelp as Stream, 27.2, { deviation: 0.1 }),
        current(den as Stream, 23, { deviation: -0.5 }),
        current(creek as Stream, 25),
      ],
    });
    const view = await readSystems(world.read);
    expect(view.systems.map((row) => row.system)).toEqual(["den", "kelp", "reef", "creek"]);
  });

  test("a system without any reading is not known, and so is one without a critical stream", async () => {
    const reef = await temperature("reef");
    const level = await world.stream("kelp", "sump", "level", "probe", false);
    await world.evaluated({ current: [current(level, 100, { band: null, deviation: null })] });
    const view = await readSystems(world.read);
    expect(view.systems.map((row) => row.standing)).toEqual(["unknown", "unknown", "unknown", "unknown"]);
    const never = view.systems.find((row) => row.system === "reef")?.streams[0];
    expect(never).toMatchObject({
      stream: reef.id,
      value: null,
      at: null,
      flag: 9,
      silent: true,
      standing: "unknown",
      band: BAND,
    });
  });

  test("a silent probe's last good value does not make its system calm, nor out of band", async () => {
    const [reef, kelp] = [await temperature("reef"), await temperature("kelp")];
    await world.evaluated({
      current: [
        current(reef, 25, { silentAt: NOW - MINUTE }),
        current(kelp, 29.5, { deviation: 1.2, silentAt: NOW }),
      ],
    });
    const view = await readSystems(world.read);
    for (const code of ["reef", "kelp"]) {
      const state = view.systems.find((row) => row.system === code);
      expect(state).toMatchObject({ standing: "unknown", worst: null });
      expect(state?.streams[0]).toMatchObject({ silent: true, deviation: null });
    }
  });

  test("a value that is neither in nor out of its band is not proven calm", async () => {
    const reef = await temperature("reef");
    await world.evaluated({ current: [current(reef, 25, { deviation: null })] });
    expect((await readSystem(world.read, "reef")).standing).toBe("unknown");
  });

  test("a silent finding of a critical stream demands action", async () => {
    const reef = await temperature("reef");
    const quiet = finding(reef, {
      kind: "silent",
      rule: "silent",
      severity: "action",
      evidence: { lastAt: NOW - HOUR, interval: 5 * MINUTE },
    });
    await world.evaluated({
      current: [current(reef, 25, { silentAt: NOW - 50 * MINUTE })],
      findings: [quiet],
    });
    const state = await readSystem(world.read, "reef");
    expect(state.standing).toBe("action");
    expect(state.findings[0]?.says).toBe("No reading of temperature since 05:30, expected every 5 min");
  });

  test("a state's wrong word stands at once, in words", async () => {
    const [reef, pump] = [
      await temperature("reef"),
      await world.stream("reef", "sump", "pump", "equipment", false),
    ];
    await world.evaluated({
      current: [current(reef, 25), current(pump, 3, { band: null, deviation: null })],
    });
    const state = await readSystem(world.read, "reef");
    expect(state.streams.find((row) => row.quantity === "pump")).toMatchObject({
      word: "tripped",
      standing: "action",
      unitLabel: "",
    });
    expect(state.standing).toBe("action");
  });

  test("open findings come with their alarm and a sentence; ended ones stay away", async () => {
    const reef = await temperature("reef");
    const open = finding(reef);
    const over = finding(reef, { id: "over", began: NOW - 9 * HOUR, ended: NOW - 8 * HOUR });
    await world.evaluated({
      current: [current(reef, 27.9, { deviation: 0.45 })],
      findings: [open, over],
      alarms: [alarm(open)],
    });
    const state = systemState.parse(await readSystem(world.read, "reef"));
    expect(state.findings.map((row) => row.id)).toEqual([open.id]);
    expect(state.findings[0]).toMatchObject({
      says: "Temperature 27.9 °C, above its band (27.0) since 01:30, highest 28.1 °C at 04:30",
      alarm: { id: `alarm-${open.id}`, state: "UNACK" },
    });
  });

  test("an unknown system is refused by name", async () => {
    await expect(readSystem(world.read, "atlantis")).rejects.toMatchObject({
      code: "not_found",
      message: expect.stringContaining("atlantis"),
    });
  });
});

describe("what stands beside a value", () => {
  test("the sweep takes good values since 18:00 site time from both widths of rollup, and the current value", async () => {
    const reef = await temperature("reef");
    const three = 3 * HOUR;
    await world.evaluated({
      current: [current(reef, 26.8)],
      rollups: [
        rollup(reef, 900_000, EVENING - 15 * MINUTE, [20, 30]),
        rollup(reef, three, EVENING - three, [19, 31]),
        rollup(reef, three, EVENING, [25.1, 26]),
        rollup(reef, three, EVENING + three, [24.4, 25]),
      ],
    });
    const [stream] = (await readSystem(world.read, "reef")).streams;
    expect(stream).toMatchObject({ sweepLow: 24.4, sweepHigh: 26.8 });
  });

  test("a plan shows where the quantity should be now", async () => {
    await temperature("reef");
    await world.store.writeSetUp(
      {
        plans: [
          {
            id: "plan-1",
            system: "s-reef",
            quantity: "temperature",
            shape: {
              kind: "points",
              points: [
                [NOW - HOUR, 24],
                [NOW + HOUR, 26],
              ],
            },
            validFrom: NOW - HOUR,
            validTo: null,
            setBy: "curator",
            reason: "warming",
          },
        ],
      },
      [],
      NOW,
    );
    expect((await readSystem(world.read, "reef")).streams[0]?.plan).toBe(25);
  });

  test("the oldest critical reading is named", async () => {
    const [reef, kelp] = [await temperature("reef"), await temperature("kelp")];
    const level = await world.stream("den", "sump", "level", "probe", false);
    await world.evaluated({
      current: [
        current(reef, 25),
        current(kelp, 25, { at: NOW - HOUR }),
        current(level, 1, { at: NOW - 9 * HOUR }),
      ],
    });
    expect((await readSystems(world.read)).oldest).toEqual({
      system: "kelp",
      quantity: "temperature",
      at: NOW - HOUR,
    });
  });

  test("residents are told in words, only those who are here now", async () => {
    const resident = {
      system: "s-reef",
      species: "sphyrna-tiburo",
      speciesName: "bonnethead shark",
      stage: "adult" as const,
      population: null,
      sex: null,
      ended: null,
    };
    await world.store.writeSetUp(
      {
        residents: [
          { ...resident, id: "r1", animal: "r1", name: null, count: 3, from: NOW - HOUR, to: null },
          { ...resident, id: "r2", animal: "r2", name: "Mabel", count: 1, from: NOW - HOUR, to: null },
          { ...resident, id: "r3", animal: "r3", name: null, count: 9, from: NOW - 2 * HOUR, to: NOW - HOUR },
        ],
      },
      [],
      NOW,
    );
    expect((await readSystem(world.read, "reef")).residents).toEqual([
      "3 bonnethead shark (adult)",
      "Mabel, bonnethead shark (adult)",
    ]);
  });

  test("a system set up a moment ago is there; one that closed is gone from the rack", async () => {
    expect((await readSystems(world.read)).systems).toHaveLength(4);
    await world.store.writeSetUp(
      { systems: [system("tub"), system("den", { closed: NOW - HOUR })] },
      [{ system: "s-tub", from: NOW }],
      NOW,
    );
    const codes = (await readSystems(world.read)).systems.map((row) => row.system);
    expect(codes).toContain("tub");
    expect(codes).not.toContain("den");
  });
});
