/** A probe that has left its bench tests, in a real browser over the real processes: found, looked into, calibrated, over. */
import { expect, it } from "vitest";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { recordBench } from "#services/bench/record-bench.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createSetUpReader } from "#services/set-up.ts";
import type { Store } from "#store/port.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { KEEPER } from "../services/world.ts";
import { axeFaults, WCAG } from "./axe-faults.ts";
import { holdScripts, journeysOf, PHONE } from "./signed-in.ts";

/** The bench finds 0.3 more than the probe shows, six times over two days. */
async function seedBench(store: Store, now: number): Promise<void> {
  for (const hours of [40, 33, 28, 16, 9, 3]) {
    const at = now - hours * HOUR;
    const clock = () => at + 5 * MINUTE;
    const deps = { store, clock, setUp: createSetUpReader(store, clock), newId: uuidV7 };
    await recordBench(deps, KEEPER, {
      clientId: `seed-${hours}`,
      system: "kelp-gallery",
      point: "display",
      sampledAt: new Date(at).toISOString(),
      results: [
        {
          quantity: "ph",
          value: (8.3 + 0.06 * Math.sin((hours / 24) * 2 * Math.PI)).toFixed(2),
          unit: "[pH]",
        },
      ],
    });
  }
}

describeWith("chromium", "probes", (chromium) => {
  const { running, visit } = journeysOf(chromium, ["viewer", "technician"], seedBench);
  const PROBE = '[data-probe="kelp-gallery/display/ph"]';

  it("a drifting probe stands first on its page, which fits every screen and every ground", {
    timeout: 120_000,
  }, async () => {
    await expect
      .poll(
        async () => {
          const { page } = await visit("viewer", "/probes");
          return page.locator(PROBE).getAttribute("data-letter");
        },
        { timeout: 60_000 },
      )
      .toBe("S");
    for (const [width, ground] of [
      [360, "light"],
      [1440, "dark"],
      [2560, "night"],
    ] as const) {
      const { page, complaints } = await visit(
        "technician",
        "/probes",
        width === 360 ? PHONE : { viewport: { width, height: 1000 } },
        ground,
      );
      await page
        .locator(PROBE)
        .getByLabel(/^More about/)
        .click();
      await page.getByRole("region", { name: "Against bench tests" }).locator("svg").waitFor();
      const shots = process.env.HOMEWATER_SHOTS;
      if (shots !== undefined)
        await page.screenshot({ path: `${shots}/probes-${width}.png`, fullPage: true });
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
      expect(await axeFaults(page, WCAG)).toEqual([]);
      expect(complaints).toEqual([]);
    }
  });

  it("from the night to its grounds, its chart, and a calibration that ends it", {
    timeout: 120_000,
  }, async () => {
    const { page, complaints } = await visit("technician", "/overnight", {
      viewport: { width: 1440, height: 1000 },
    });
    const item = page.locator('li[data-finding*=".drifting.bench."]');
    await expect.poll(() => item.textContent()).toMatch(/pH probe reads .* below the bench/);
    await item.locator("details[data-incident] summary").click();
    await item.locator('[data-cause="probe-fouled"]').waitFor();
    await item.scrollIntoViewIfNeeded();
    await item.locator("[data-probe-evidence] svg").waitFor();
    await item.getByRole("link", { name: "Calibrate it on the Probes page" }).click();
    await page
      .locator(PROBE)
      .getByRole("button", { name: /^Record a calibration/ })
      .click();
    const form = page.getByRole("dialog");
    await form.getByLabel("First buffer or standard").fill("8.30");
    await form.getByLabel("Probe reading in it").first().fill("8.00");
    await form.getByRole("button", { name: "Record" }).click();
    await page.getByText("Calibration of Kelp Gallery, pH recorded.").waitFor();
    // What ends a finding is event time passing the calibration: the probe's next reading.
    await running().publish("kelp-gallery/display/ph", { at: Date.now(), value: 8.3 });
    await expect
      .poll(
        async () => {
          await page.reload();
          return page.locator(PROBE).getAttribute("data-letter");
        },
        { timeout: 40_000 },
      )
      .toBe("good");
    await page.goto(`${running().url}/overnight`);
    await expect.poll(() => item.textContent()).toMatch(/was reading/);
    expect(complaints).toEqual([]);
  });

  it("a press before the page's script has come is carried out when it has", async () => {
    const { page, context, complaints } = await visit("technician", "/probes");
    const release = await holdScripts(context);
    await page.goto(`${running().url}/probes`, { waitUntil: "commit" });
    await page
      .locator(PROBE)
      .getByRole("button", { name: /^Record a calibration/ })
      .click();
    release();
    await page.getByRole("dialog").getByLabel("First buffer or standard").fill("7.00");
    expect(complaints).toEqual([]);
  });

  it("who may only read sees no button to calibrate", async () => {
    const { page } = await visit("viewer", "/probes");
    await page.locator(PROBE).waitFor();
    expect(await page.getByRole("button", { name: /^Record a calibration/ }).count()).toBe(0);
  });
});
