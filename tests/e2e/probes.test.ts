/** A probe that has left its bench tests, in a real browser over the real processes: found, looked into, calibrated, over. */
import { AxeBuilder } from "@axe-core/playwright";
import type { Browser, BrowserContext } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, it } from "vitest";
import { HOUR, MINUTE } from "../../lib/core/time/instant.ts";
import { uuidV7 } from "../../lib/services/new-id.ts";
import { recordBench } from "../../lib/services/record-bench.ts";
import { createSetUpReader } from "../../lib/services/set-up.ts";
import type { Store } from "../../lib/store/port.ts";
import { makePeople, signInOver } from "../helpers/sign-in.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { KEEPER } from "../services/world.ts";
import { type Running, startBrowser, startHomewater } from "./harness.ts";
import { seedSite } from "./seed.ts";

const WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };

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
  let running: Running;
  let browser: Browser;
  const contexts: BrowserContext[] = [];

  beforeAll(async () => {
    const now = Date.now();
    running = await startHomewater(async (store) => {
      await seedSite(store, now);
      await makePeople(store, ["viewer", "technician"]);
      await seedBench(store, now);
    });
    browser = await startBrowser(chromium);
  }, 400_000);
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
  });
  afterAll(async () => {
    await browser?.close();
    await running?.stop();
  });

  async function visit(
    path: string,
    as: string,
    options: Parameters<Browser["newContext"]>[0] = {},
    ground?: string,
  ) {
    const context = await browser.newContext({ locale: "en-GB", ...options });
    contexts.push(context);
    await context.addCookies([await signInOver(running.url, as)]);
    if (ground !== undefined)
      await context.addInitScript((g) => localStorage.setItem("homewater-ground", g), ground);
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on("console", (message) => {
      if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
    });
    page.on("pageerror", (error) => complaints.push(error.message));
    await page.goto(running.url + path);
    await page.waitForLoadState("load");
    return { page, complaints };
  }
  const PROBE = '[data-probe="kelp-gallery/display/ph"]';

  it("a drifting probe stands first on its page, which fits every screen and every ground", {
    timeout: 120_000,
  }, async () => {
    await expect
      .poll(
        async () => {
          const { page } = await visit("/probes", "viewer");
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
        "/probes",
        "technician",
        width === 360 ? PHONE : { viewport: { width, height: 1000 } },
        ground,
      );
      await page
        .locator(PROBE)
        .getByRole("button", { name: /^More of/ })
        .click();
      await page.getByRole("region", { name: "Against the bench" }).locator("svg").waitFor();
      const shots = process.env.HOMEWATER_SHOTS;
      if (shots !== undefined)
        await page.screenshot({ path: `${shots}/probes-${width}.png`, fullPage: true });
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
      const axe = await new AxeBuilder({ page }).withTags(WCAG).analyze();
      expect(axe.violations.map(({ id, nodes }) => [id, nodes.map((node) => node.target)])).toEqual([]);
      expect(complaints).toEqual([]);
    }
  });

  it("who may only read sees no button to calibrate", async () => {
    const { page } = await visit("/probes", "viewer");
    await page.locator(PROBE).waitFor();
    expect(await page.getByRole("button", { name: /^Record a calibration/ }).count()).toBe(0);
  });
});
