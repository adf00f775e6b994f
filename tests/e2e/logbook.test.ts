/** The logbook in a real browser over the real processes: written with one press, ended, corrected, found again by its address. */
import type { Browser, BrowserContext } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, it } from "vitest";
import { makePeople, signInOver } from "../helpers/sign-in.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { axeFaults, WCAG } from "./axe-faults.ts";
import { type Running, startBrowser, startHomewater } from "./harness.ts";
import { seedSite } from "./seed.ts";
import { complaintsOf } from "./signed-in.ts";

const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };
const GROUNDS = ["light", "dark", "night"];

describeWith("chromium", "the logbook", (chromium) => {
  let running: Running;
  let browser: Browser;
  const contexts: BrowserContext[] = [];

  beforeAll(async () => {
    running = await startHomewater(async (store) => {
      await seedSite(store, Date.now());
      await makePeople(store, ["viewer", "aquarist"]);
    });
    browser = await startBrowser(chromium);
  }, 900_000);
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
  });
  afterAll(async () => {
    await browser?.close();
    await running?.stop();
  });

  async function visit(
    path: string,
    {
      ground,
      as = "aquarist",
      ...options
    }: Parameters<Browser["newContext"]>[0] & { ground?: string; as?: string } = {},
  ) {
    const context = await browser.newContext({ locale: "en-GB", timezoneId: "Pacific/Auckland", ...options });
    contexts.push(context);
    await context.addCookies([await signInOver(running.url, as)]);
    if (ground !== undefined)
      await context.addInitScript((g) => localStorage.setItem("homewater-ground", g), ground);
    const page = await context.newPage();
    const complaints = complaintsOf(page);
    await page.goto(running.url + path);
    await page.locator('[data-connection="live"]').waitFor();
    return { page, complaints };
  }

  it("takes a backwash with one press on a phone and its end with two", async () => {
    const { page, complaints } = await visit("/logbook", { ...PHONE, ground: "night" });
    expect(await page.locator("main").textContent()).toContain("No entries in this range");
    const quick = page.getByRole("region", { name: "Quick entry" });
    expect(await quick.getByRole("button", { name: "Backwash started" }).isDisabled()).toBe(true);
    await quick.getByLabel("System").selectOption("kelp-gallery");
    await quick.getByRole("button", { name: "Backwash started" }).tap();
    const going = page.locator("[data-open-entry]");
    await going.waitFor();
    expect(await going.textContent()).toContain("Backwash, Kelp Gallery");
    expect(await page.locator("[data-log-entry]").textContent()).toMatch(/Alarms muted: flow/);
    await going.getByRole("button", { name: /^End Backwash/ }).tap();
    await page.getByRole("dialog").getByRole("button", { name: "End it" }).tap();
    await going.waitFor({ state: "detached" });
    // The system is remembered for the next press.
    await page.reload();
    await expect.poll(() => quick.getByLabel("System").inputValue()).toBe("kelp-gallery");
    const sizes = await page
      .locator("main button:visible, main select:visible")
      .evaluateAll((all) =>
        all.map((one) => ({ name: one.textContent, height: one.getBoundingClientRect().height })),
      );
    expect(sizes.filter(({ height }) => height < 44)).toEqual([]);
    await page.setViewportSize({ width: 320, height: 640 });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
    expect(complaints).toEqual([]);
  });

  it("says what a kind keeps quiet, what is wrong at its field, and keeps what was corrected in sight", async () => {
    const { page, complaints } = await visit("/logbook");
    await page.getByRole("button", { name: "Add an entry" }).focus();
    await page.keyboard.press("Enter");
    const dialog = page.getByRole("dialog");
    await dialog.getByLabel("What was done").selectOption("water-change");
    expect(await dialog.textContent()).toContain(
      "Mutes alarms for at most 2 h: rate of change of temperature",
    );
    await dialog.getByLabel("Amount").fill("8.5");
    await page.keyboard.press("Enter");
    const wrong = dialog.getByRole("alert");
    expect((await wrong.allTextContents()).sort()).toEqual([
      "Choose the system it was done to.",
      "Give the unit of the amount.",
    ]);
    await dialog.getByLabel("System").selectOption("jelly-ring");
    await dialog.getByLabel("Unit").fill("%");
    await dialog.getByLabel("Note").fill("from the blue tank");
    await dialog.getByRole("button", { name: "Save" }).click();
    await dialog.waitFor({ state: "detached" });
    const entry = page.locator('[data-log-entry][data-kind="water-change"]');
    await entry.waitFor();
    expect(await entry.textContent()).toMatch(
      /Water change.*Jelly Ring.*8\.5 %.*from the blue tank.*Test aquarist/,
    );

    await entry.getByRole("button", { name: /^Correct/ }).click();
    await dialog.getByLabel("Amount").fill("9");
    await dialog.getByLabel("Note").fill("from the green tank");
    await dialog.getByLabel("Reason for the correction").fill("wrong tank");
    await page.keyboard.press("Enter");
    await dialog.waitFor({ state: "detached" });
    await entry.getByText("from the green tank").waitFor();
    expect(await entry.locator("s").allTextContents()).toEqual(["8.5 %", "from the blue tank"]);
    expect(await entry.locator("s").first().isVisible()).toBe(true);
    expect(await entry.textContent()).toContain("9 %");
    expect(await entry.textContent()).toContain("wrong tank");
    expect(complaints).toEqual([]);
  });

  it("lists what its address asks for", async () => {
    const { page } = await visit("/logbook");
    await page.getByLabel("Kind").selectOption("water-change");
    await page.waitForURL(/kind=water-change/);
    await page.locator("[data-log-entry]").first().waitFor();
    const kinds = await page
      .locator("[data-log-entry]")
      .evaluateAll((all) => all.map((one) => one.getAttribute("data-kind")));
    expect(new Set(kinds)).toEqual(new Set(["water-change"]));
    const other = await visit("/logbook?kind=water-change&system=rift-terrace");
    expect(await other.page.locator("[data-log-entry]").count()).toBe(0);
  });

  it("a viewer reads it and has nothing to press", async () => {
    const { page } = await visit("/logbook", { as: "viewer" });
    await page.locator("[data-log-entry]").first().waitFor();
    expect(await page.locator("main").getByRole("button").count()).toBe(0);
  });

  it("says that the server is not reached, keeps what was typed and stores it once", async () => {
    const { page } = await visit("/logbook");
    await page.getByRole("button", { name: "Add an entry" }).click();
    const dialog = page.getByRole("dialog");
    await dialog.getByLabel("What was done").selectOption("note");
    await dialog.getByLabel("System").selectOption("kelp-gallery");
    await dialog.getByLabel("Note").fill("written without a network");
    await page.context().setOffline(true);
    await dialog.getByRole("button", { name: "Save" }).click();
    await dialog.getByText(/No connection to Homewater/).waitFor();
    await page.context().setOffline(false);
    await dialog.getByRole("button", { name: "Save" }).click();
    await dialog.waitFor({ state: "detached" });
    await page.getByText("written without a network").first().waitFor();
    expect(await page.getByText("written without a network").count()).toBe(1);
  });

  for (const ground of GROUNDS) {
    it(`has no accessibility faults on the ${ground} ground, dialog included`, async () => {
      const { page } = await visit("/logbook", { ground });
      const found = await axeFaults(page, WCAG);
      await page.getByRole("button", { name: "Add an entry" }).click();
      await page.getByRole("dialog").getByLabel("What was done").selectOption("calibration");
      found.push(...(await axeFaults(page, WCAG)));
      expect(found).toEqual([]);
    });
  }
});
