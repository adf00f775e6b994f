/** Derived numbers open to their working, and sums compute as they are typed, in a real browser over the real processes. */
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, it } from "vitest";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import type { NewReading, Store } from "#store/port.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { axeFaults } from "./axe-faults.ts";
import { type Running, startBrowser, startHomewater } from "./harness.ts";
import { holdScripts } from "./signed-in.ts";

const PROBES = { temperature: 25, conductivity: 53.07, dissolved_oxygen: 6.6, ph: 8.1 };
const BENCH = { total_ammonia: 0.1, alkalinity: 2.4 };

/** A reef system with four probes for two hours and two bench results of this morning. */
async function seed(store: Store): Promise<void> {
  const now = Date.now();
  const opened = now - 400 * DAY;
  const place = { zone: "Europe/London", latitude: 51, longitude: 0, elevation: 20 };
  await store.writeSetUp(
    {
      sites: [{ id: "site", code: "north", name: "North House", ...place }],
      systems: [
        {
          id: "reef",
          site: "site",
          code: "reef",
          name: "Reef",
          kind: "tropical marine",
          water: "marine",
          volume: 10,
          duty: null,
          opened,
          closed: null,
          type: "exhibit",
          startingBands: null,
          youngFilter: false,
        },
      ],
      points: [
        {
          id: "reef/display",
          system: "reef",
          code: "display",
          role: "exhibit",
          roleGuessed: false,
          twinOf: null,
        },
      ],
    },
    [],
    now,
  );
  const source = await store.ensureSource("gateway-1", "gateway");
  const readings: NewReading[] = [];
  for (const [quantity, value] of Object.entries(PROBES)) {
    const { id } = await store.ensureStream("reef/display", quantity, "probe", {
      interval: 5 * MINUTE,
      critical: false,
    });
    for (let at = now - 2 * HOUR; at < now - MINUTE; at += 5 * MINUTE)
      readings.push({ stream: id, at, value, source: source.id, sequence: null, mark: null });
  }
  const results = [];
  for (const [quantity, value] of Object.entries(BENCH)) {
    const { id } = await store.ensureStream("reef/display", quantity, "bench");
    results.push({
      id: `result-${quantity}`,
      stream: id,
      quantity,
      typed: String(value),
      qualifier: "=" as const,
      unitTyped: "",
      value,
      method: null,
      replicate: 1,
      supersedes: null,
      reason: null,
      answer: null,
      asked: null,
    });
  }
  await store.recordBench(
    {
      id: "test",
      clientId: "client",
      system: "reef",
      point: "reef/display",
      sampledAt: now - 3 * HOUR,
      enteredAt: now - 3 * HOUR,
      analyst: "keeper",
      note: null,
      results,
    },
    now - 3 * HOUR,
  );
  await store.append({ now, readings, rejected: [], unclaimed: [] });
}

/** Button, equation, an input that must be named, and what the number must be near. */
const OPENED = [
  // 53.07 mS/cm at 25 °C is S 35 (PSS-78, UNESCO 44).
  ["salinity", "Salinity", "PSS-78", "Conductivity", [34.9, 35.1]],
  // S 35, 25 °C: 6.772 mg/L at one atmosphere (Benson & Krause 1984), so 6.6 mg/L is a little below.
  ["oxygen_saturation", "Oxygen saturation", "Benson & Krause", "Dissolved oxygen", [96, 99]],
  // NBS 8.1 at S 35 and 25 °C is about 5 % NH3 (Clegg & Whitfield 1995), of 0.1 mg/L.
  ["unionised_ammonia", "Un-ionised ammonia", "Clegg & Whitfield", "Total ammonia", [0.004, 0.006]],
  // From PyCO2SYS: aragonite 3.1 at total pH 8.0 and 2300 µeq/kg, S 35, 25 °C.
  ["aragonite_saturation", "Aragonite saturation", "Lueker", "Alkalinity", [2.6, 3.8]],
] as const;

describeWith("chromium", "the working of a number", (chromium) => {
  let running: Running;
  let browser: Browser;
  const contexts: BrowserContext[] = [];
  beforeAll(async () => {
    running = await startHomewater(seed);
    browser = await startBrowser(chromium);
  }, 900_000);
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
  });
  afterAll(async () => {
    await browser?.close();
    await running?.stop();
  });

  async function visit(path: string, size = { width: 1440, height: 900 }): Promise<Page> {
    const context = await browser.newContext({ locale: "en-GB", viewport: size });
    contexts.push(context);
    const page = await context.newPage();
    await page.goto(running.url + path);
    await page.waitForLoadState("load");
    return page;
  }
  for (const [quantity, label, equation, input, [low, high]] of OPENED) {
    it(`${label} opens by keyboard to its equation, inputs and source, and gives the focus back`, async () => {
      const page = await visit("/systems/reef");
      const row = page.locator(`[data-computed="${quantity}"]`);
      await row.waitFor({ timeout: 30_000 });
      const button = row.getByRole("button", { name: `Working of ${label}` });
      await button.focus();
      await page.keyboard.press("Enter");
      const dialog = page.getByRole("dialog", { name: `Working: ${label}` });
      const sheet = dialog.locator(`[data-working="${quantity}"]`);
      await sheet.waitFor();
      const value = Number(await sheet.getAttribute("data-value"));
      expect(value).toBeGreaterThan(low);
      expect(value).toBeLessThan(high);
      const text = await sheet.textContent();
      for (const words of [equation, input, "Inputs", "Steps", "Source", "flag 1", "Valid for"])
        expect(text).toContain(words);
      if (quantity === "salinity") expect(await axeFaults(page)).toEqual([]);
      await page.keyboard.press("Escape");
      await dialog.waitFor({ state: "detached" });
      expect(await button.evaluate((element) => element === document.activeElement)).toBe(true);
    });
  }

  it("a sum computes as it is typed, in the unit chosen, and says what is wrong at the field", async () => {
    const page = await visit("/sums", { width: 360, height: 740 });
    expect(await axeFaults(page)).toEqual([]);
    await page.getByRole("link", { name: "Salinity from conductivity" }).click();
    const salinity = page.locator('[data-output="salinity"]');
    await salinity.waitFor();
    await page.getByLabel("Conductivity (raw)", { exact: true }).fill("42914");
    await page.getByLabel("Unit of Conductivity (raw)").selectOption("uS/cm");
    await page.getByLabel("Temperature", { exact: true }).fill("15");
    // C(35, 15 °C, 0) is 42.914 mS/cm by definition of PSS-78 (UNESCO 44).
    expect(Number(await salinity.getAttribute("data-value"))).toBeCloseTo(35, 2);
    await page.getByLabel("Temperature", { exact: true }).fill("warm");
    await page.getByText("is not a number").waitFor();
    await page.getByText("Fill in the fields").waitFor();
    expect(await axeFaults(page)).toEqual([]);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(wide).toBeLessThanOrEqual(0);
    await page.getByText(/local codes, product labels and the licensed practitioner/).waitFor();
  });

  it("what is typed before the page's script has come is computed when it has", async () => {
    const page = await visit("/sums", { width: 1440, height: 900 });
    await page.getByRole("link", { name: "Salinity from conductivity" }).click();
    await page.locator('[data-output="salinity"]').waitFor();
    const release = await holdScripts(page.context());
    await page.goto(page.url(), { waitUntil: "commit" });
    await page.getByLabel("Temperature", { exact: true }).fill("15,2 or so");
    release();
    await page.getByText("is not a number").waitFor();
    expect(await page.getByLabel("Temperature", { exact: true }).inputValue()).toBe("15,2 or so");
  });
});
