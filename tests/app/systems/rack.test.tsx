import fc from "fast-check";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { Rack } from "#app/systems/_parts/rack/rack.tsx";
import { elsewhere, RACK_COLUMNS, rackCell } from "#app/systems/_parts/rack/rack-columns.ts";
import { byLoop, byStanding } from "#app/systems/_parts/rack/rack-groups.ts";
import { forRack } from "#app/systems/_parts/rack/rack-view.ts";
import { stateStreams } from "#app/systems/_parts/system/state-streams.ts";
import { trendRows } from "#app/systems/_parts/trend/trend-rows.ts";
import type { Standing, StreamState, SystemState } from "#contract/views.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { edges, NOW, stream, system } from "../views.ts";

const column = (id: string) => {
  const found = RACK_COLUMNS.find((c) => c.id === id);
  if (found === undefined) throw new Error(`no column ${id}`);
  return found;
};
const drawn = (...systems: SystemState[]) =>
  renderToStaticMarkup(
    <Rack groups={byStanding(systems, new Map())} clock={clockOf("UTC")} minute={Math.floor(NOW / 60_000)} />,
  );
const oxygen = {
  quantity: "dissolved_oxygen",
  label: "Dissolved oxygen",
  unit: "mg/L",
  unitLabel: "mg/L",
  decimals: 2,
};
const percent = {
  quantity: "oxygen_saturation",
  label: "Oxygen saturation",
  unit: "%",
  unitLabel: "%",
  decimals: 0,
};

describe("cells of the rack", () => {
  it("take conductance for fresh water and salinity for the sea", () => {
    const both = [
      stream({ quantity: "salinity", value: 33 }),
      stream({ quantity: "specific_conductance", value: 620 }),
    ];
    expect(rackCell(system("a", both, { water: "marine" }), column("salinity"))?.main.quantity).toBe(
      "salinity",
    );
    expect(rackCell(system("a", both, { water: "fresh" }), column("salinity"))?.main.quantity).toBe(
      "specific_conductance",
    );
  });

  it("show the display first, unless another point is in trouble", () => {
    const display = stream();
    const sump = stream({ point: "sump" });
    expect(rackCell(system("a", [sump, display]), column("temperature"))?.main).toBe(display);
    const hot = stream({ point: "sump", standing: "action", deviation: 1.2 });
    const cell = rackCell(system("a", [display, hot]), column("temperature"));
    expect(cell?.main).toBe(hot);
    expect(cell?.others).toEqual([display]);
  });

  it("say oxygen in mg/L and percent, and draw the one that has a band", () => {
    const html = drawn(
      system("a", [
        stream({ ...oxygen, value: 8.09, band: null }),
        stream({ ...percent, value: 99.2, band: edges(90, 105, 85, null) }),
      ]),
    );
    expect(html).toContain("8.09");
    expect(html).toContain("99 %");
    expect(html).toContain("Oxygen saturation 99 %, in band. Target 90 to 105 %.");
  });

  it("say the ORP of a contact chamber after the exhibit's, whatever the two are called", () => {
    const orp = RACK_COLUMNS.find((column) => column.id === "orp");
    if (!orp) throw new Error("the rack has no ORP");
    const at = (point: string, role: StreamState["role"]) =>
      stream({ quantity: "orp", label: "ORP", unit: "mV", decimals: 0, point, role });
    const cell = (...streams: StreamState[]) => rackCell(system("a", streams), orp);
    const said = cell(at("treatment-loop", "contact-chamber"), at("contact-lens-pool", "exhibit"));
    expect([said?.main.point, said?.beside?.point]).toEqual(["contact-lens-pool", "treatment-loop"]);
    const alone = cell(at("basin", "sump"), at("contact-lens-pool", "exhibit"));
    expect([alone?.main.point, alone?.beside]).toEqual(["contact-lens-pool", null]);
  });

  it("show the level of a sump before another, whatever it is called", () => {
    const level = RACK_COLUMNS.find((column) => column.id === "level");
    if (!level) throw new Error("the rack has no level");
    const at = (point: string, role: StreamState["role"]) => stream({ quantity: "level", point, role });
    const state = system("a", [at("a-tank", "exhibit"), at("z-basin", "sump")]);
    expect(rackCell(state, level)?.main.point).toBe("z-basin");
  });

  it("carry what a test or a script finds a value by", () => {
    const html = drawn(system("kelp", [stream({ value: 17.1, deviation: 0.5, flag: 1, standing: "look" })]));
    expect(html).toMatch(
      /data-system="kelp" data-quantity="temperature" data-point="display" data-origin="probe" data-value="17.1" data-flag="1" data-deviation="0.5"/,
    );
    expect(html.match(/no probe/g)).toHaveLength(RACK_COLUMNS.length - 1);
  });

  it("leave no stream unseen that asks for somebody", () => {
    const quantities = [
      "temperature",
      "ph",
      "orp",
      "flow",
      "nitrite",
      "turbidity",
      "pump",
      "oxygen_saturation",
      "dissolved_oxygen",
    ];
    const one = fc.record({
      quantity: fc.constantFrom(...quantities),
      point: fc.constantFrom("display", "sump", "contact-chamber", "pump-1"),
      origin: fc.constantFrom<StreamState["origin"]>("probe", "bench", "equipment", "derived"),
      standing: fc.constantFrom<Standing>("action", "look", "calm", "unknown"),
    });
    fc.assert(
      fc.property(fc.array(one, { maxLength: 12 }), (given) => {
        const state = system(
          "a",
          given.map((g) => stream(g)),
        );
        const cells = RACK_COLUMNS.map((c) => rackCell(state, c));
        const seen = new Set([
          ...cells.flatMap((c) => (c === null ? [] : [c.main, c.with, c.beside, ...c.others])),
          ...elsewhere(state, cells),
        ]);
        for (const s of state.streams)
          if (s.standing === "action" || s.standing === "look") expect(seen.has(s)).toBe(true);
      }),
    );
  });
});

describe("what the rack is first drawn from", () => {
  it("draws the same rack as the whole view", () => {
    const magnesium = stream({
      quantity: "magnesium",
      label: "Magnesium",
      unit: "mg/L",
      origin: "bench",
      critical: false,
    });
    const asks = stream({
      quantity: "nitrite",
      label: "Nitrite",
      origin: "bench",
      standing: "action",
      critical: false,
    });
    const whole = system(
      "a",
      [stream({ value: 15.612345678901 }), magnesium, asks, stream({ ...percent, value: 99.2 })],
      {
        standing: "action",
        residents: ["a whale"],
      },
    );
    const view = { now: NOW, zone: "UTC", siteName: "North", seq: 1, systems: [whole], oldest: null };
    const slim = forRack(view);
    expect(drawn(...slim.systems).replaceAll("15.61235", "15.612345678901")).toBe(drawn(whole));
    expect(slim.systems[0]?.streams.map((s) => s.quantity)).toEqual([
      "temperature",
      "nitrite",
      "oxygen_saturation",
    ]);
  });
});

describe("parts of the rack", () => {
  const of = (code: string, standing: Standing, loops: string[] = []) =>
    system(code, [stream({ standing })], { standing, loops });
  const parts = (groups: ReturnType<typeof byLoop>) =>
    groups.map((g) => `${g.title}: ${g.systems.map((s) => s.system).join(" ")}`);

  it("keep what is not known apart from what is calm", () => {
    const all = [of("a", "action"), of("b", "look"), of("c", "unknown"), of("d", "calm"), of("e", "calm")];
    expect(parts(byStanding(all, new Map()))).toEqual([": a b", "Not known: c", "Calm: d e"]);
  });

  it("hold a row where it stood until the order is made again", () => {
    const all = [of("a", "calm"), of("b", "look")];
    const held = new Map<string, Standing>([
      ["a", "calm"],
      ["b", "calm"],
    ]);
    expect(parts(byStanding(all, held))).toEqual(["Calm: a b"]);
    expect(parts(byStanding(all, new Map()))).toEqual([": b", "Calm: a"]);
  });

  it("by loop begin with the loop that has the worst, name a system in each of its loops, and lose none", () => {
    const all = [of("a", "action", ["ozone-b"]), of("b", "calm", ["chilled", "ozone-b"]), of("c", "unknown")];
    expect(parts(byLoop(all))).toEqual(["Ozone b: a b", "Chilled: b", "Not on a loop: c"]);
  });
});

describe("rows of the System page", () => {
  it("keep probe and bench of a quantity on one chart, and words out of charts", () => {
    const probe = stream();
    const bench = stream({ origin: "bench" });
    const pump = stream({
      quantity: "pump",
      label: "Pump",
      unit: "",
      word: "running",
      value: 0,
      origin: "equipment",
    });
    const state = system("a", [
      bench,
      probe,
      pump,
      stream({ quantity: "nitrite", label: "Nitrite", unit: "mg{N}/L", origin: "bench" }),
    ]);
    const rows = trendRows(state);
    expect(rows.map((r) => r.main.quantity)).toEqual(["temperature", "nitrite"]);
    expect([rows[0]?.main, rows[0]?.bench]).toEqual([probe, bench]);
    expect(stateStreams(state)).toEqual([pump]);
  });
});
