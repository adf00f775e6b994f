import { describe, expect, it } from "vitest";
import { ehFromOrp, REFERENCE_ELECTRODES } from "#core/chemistry/index.ts";
import { degC, millivolts } from "#core/units/index.ts";

describe("Eh from ORP", () => {
  it("adds the electrode's own potential", () => {
    // Source: sensor maker's table for 3 M KCl; 199 mV for saturated KCl at 25 °C is in any handbook (from memory).
    expect(ehFromOrp(millivolts(330), "ag-agcl-3m", degC(25))).toMatchObject({ value: 537, status: "ok" });
    expect(ehFromOrp(millivolts(330), "ag-agcl-saturated", degC(25)).reference).toBe(199);
  });

  it("goes on along the end slope outside the table, with a mark", () => {
    const cold = ehFromOrp(millivolts(0), "ag-agcl-3.5m", degC(10));
    expect(cold).toMatchObject({ value: 216, status: "extrapolated" });
    const warm = ehFromOrp(millivolts(0), "ag-agcl-3m", degC(45));
    expect(warm).toMatchObject({ value: 192, status: "extrapolated" });
  });

  it("falls with temperature for every electrode", () => {
    for (const electrode of REFERENCE_ELECTRODES) {
      for (let t = 5; t < 40; t += 1) {
        const here = ehFromOrp(millivolts(0), electrode, degC(t)).value as number;
        expect(ehFromOrp(millivolts(0), electrode, degC(t + 1)).value, `${electrode} at ${t}`).toBeLessThan(
          here,
        );
      }
    }
  });
});
