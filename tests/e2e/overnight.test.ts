/** The night in a real browser over the real processes: read, answered by keyboard alone, signed, printed; on a phone in a dark room. */
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, it } from "vitest";
import type { AlarmsView } from "#contract/answers.ts";
import { makePeople, signInOver, TEST_PASSWORD } from "../helpers/sign-in.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { axeFaults, WCAG } from "./axe-faults.ts";
import { type Running, startBrowser, startHomewater } from "./harness.ts";
import { seedSite } from "./seed.ts";
import { complaintsOf } from "./signed-in.ts";

const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };
const GROUNDS = ["light", "dark", "night"];
const MOST_TABS = 60;

describeWith("chromium", "the night", (chromium) => {
  let running: Running;
  let browser: Browser;
  const contexts: BrowserContext[] = [];

  /** The pump's flow falls to a fifth, in readings of the last minutes: on-delay of flow is two minutes at most. */
  async function loseFlow(pump: string): Promise<void> {
    const now = Date.now();
    const readings = Array.from({ length: 9 }, (_, i) => ({ at: now - (8 - i) * 30_000, value: 12 }));
    await running.publish(`kelp-gallery/${pump}/flow`, readings);
  }
  async function alarmsOf(point: string): Promise<AlarmsView["alarms"]> {
    const { name, value } = await signInOver(running.url, "viewer");
    const answer = await fetch(`${running.url}/api/v1/alarms?active=false`, {
      headers: { cookie: `${name}=${value}` },
    });
    return ((await answer.json()) as AlarmsView).alarms.filter((alarm) => alarm.point === point);
  }
  const stateOf = async (point: string) => (await alarmsOf(point))[0]?.state;

  beforeAll(async () => {
    running = await startHomewater(async (store) => {
      await seedSite(store, Date.now());
      await makePeople(store, ["viewer", "aquarist", "technician"]);
    });
    browser = await startBrowser(chromium);
    await loseFlow("pump-1");
    const until = performance.now() + 60_000;
    while ((await stateOf("pump-1")) !== "UNACK") {
      if (performance.now() > until) throw new Error(`no alarm of the lost flow:\n${running.errors()}`);
      await new Promise((resolve) => setTimeout(resolve, 300));
    }
  }, 900_000);
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
  });
  afterAll(async () => {
    await browser?.close();
    await running?.stop();
  });

  async function open({
    ground,
    as = "technician",
    ...options
  }: Parameters<Browser["newContext"]>[0] & { ground?: string; as?: string | null } = {}) {
    const context = await browser.newContext({ locale: "en-GB", timezoneId: "Pacific/Auckland", ...options });
    contexts.push(context);
    if (as !== null) await context.addCookies([await signInOver(running.url, as)]);
    if (ground !== undefined)
      await context.addInitScript((g) => localStorage.setItem("homewater-ground", g), ground);
    return context;
  }
  async function visit(context: BrowserContext, path: string) {
    const page = await context.newPage();
    const complaints = complaintsOf(page);
    await page.goto(running.url + path);
    await page.waitForLoadState("load");
    return { page, complaints };
  }
  const nameOfFocus = (page: Page) =>
    page.evaluate(() => {
      const at = document.activeElement;
      return at?.getAttribute("aria-label") ?? at?.textContent ?? "";
    });
  /** Tab until the focus stands on what is named so; fails where no key leads there. */
  async function tabTo(page: Page, name: RegExp): Promise<void> {
    for (let i = 0; i < MOST_TABS; i++) {
      if (name.test(await nameOfFocus(page))) return;
      await page.keyboard.press("Tab");
    }
    throw new Error(`${MOST_TABS} tabs do not lead to ${name}; the focus is on "${await nameOfFocus(page)}"`);
  }

  it("is read on a phone in a dark room: three lines a finding, the rest behind one press", async () => {
    const { page, complaints } = await visit(await open({ ...PHONE, ground: "night" }), "/overnight");
    const item = page.locator('[data-night-group="unanswered"] [data-finding]').filter({ hasText: "pump 1" });
    await item.waitFor();
    expect(await item.locator("h3").textContent()).toMatch(/^Flow \(pump-1\) 12/);
    expect(await item.getByText(/^Flow, pump 1 12/).isVisible()).toBe(true);
    expect(
      await item
        .getByText(/past its action limit \(40/)
        .last()
        .isVisible(),
    ).toBe(true);
    expect(await item.locator("[data-evidence]").isVisible()).toBe(false);
    await item.getByLabel(/^More about Kelp Gallery/).tap();
    await item.locator('[data-evidence="ready"] svg').waitFor();
    const sizes = await page
      .locator("main button:visible, main summary:visible")
      .evaluateAll((all) =>
        all.map((one) => ({ name: one.textContent, height: one.getBoundingClientRect().height })),
      );
    expect(sizes.filter(({ height }) => height < 44)).toEqual([]);
    // A narrow phone, or any at 200 %: nothing is cut off sideways (WCAG 2.2, 1.4.10).
    await page.setViewportSize({ width: 320, height: 640 });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
    expect(complaints).toEqual([]);
  });

  it("shows what a viewer may see and nothing to press", async () => {
    const { page } = await visit(await open({ as: "viewer" }), "/overnight");
    await page.locator('[data-night-group="unanswered"]').waitFor();
    expect(await page.getByRole("button", { name: /^(Acknowledge|Sign)/ }).count()).toBe(0);
  });

  it("a technician signs in, lands here, answers by keyboard alone and signs the handover", async () => {
    const { page, complaints } = await visit(await open({ as: null }), "/");
    await page.getByLabel("User name or e-mail address").fill("technician");
    await page.getByLabel("Password", { exact: true }).fill(TEST_PASSWORD);
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/overnight$/);
    await page.locator('[data-evidence="ready"]').first().waitFor();
    expect(await page.locator("main").textContent()).toMatch(/unacknowledged alarms?/);
    // Wait for the live feed: from then on what is written is heard.
    await page.locator('[data-connection="live"]').waitFor();
    complaints.length = 0;

    await tabTo(page, /^Acknowledge: Kelp Gallery, flow/);
    await page.keyboard.press("Enter");
    await page.getByRole("dialog", { name: "Acknowledge" }).waitFor();
    await page.keyboard.press("Escape");
    await page.getByRole("dialog").waitFor({ state: "detached" });
    expect(await nameOfFocus(page)).toMatch(/^Acknowledge: Kelp Gallery/);
    await page.keyboard.press("Enter");
    await page.getByRole("dialog", { name: "Acknowledge" }).waitFor();
    for (let i = 0; i < 5 && (await page.evaluate(() => document.activeElement?.tagName)) !== "INPUT"; i++)
      await page.keyboard.press("Tab");
    await page.keyboard.type("breaker of pump 1 is out");
    await page.keyboard.press("Enter");
    await page.getByRole("dialog").waitFor({ state: "detached" });
    const item = page.locator("[data-finding]").filter({ hasText: "pump 1" });
    await item.getByText(/acknowledged .* by Test technician/).waitFor();
    await expect.poll(() => stateOf("pump-1")).toBe("ACK");

    await page.locator("main h1").click();
    await page.keyboard.press("Shift+Tab");
    await tabTo(page, /^Sign the handover$/);
    await page.keyboard.press("Enter");
    const dialog = page.getByRole("dialog", { name: "Sign the handover" });
    // Acknowledged is not mended: without a response it still passes on, and the dialog says so first.
    await dialog.getByText(/alarms? pass(es)? to the next shift/).waitFor();
    expect(await dialog.textContent()).toMatch(/acknowledged by Test technician, no response in the logbook/);
    await tabTo(page, /^Close$/);
    await page.keyboard.press("Tab");
    await page.keyboard.type("Day shift");
    await page.keyboard.press("Tab");
    await page.keyboard.type("Pump 1 waits for its breaker.");
    await tabTo(page, /^Sign$/);
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/overnight\/[0-9a-f-]{36}$/);
    expect(await page.locator("main").textContent()).toMatch(
      /Signed by Test technician.*handed to Day shift.*Pump 1 waits for its breaker/,
    );
    await page.getByRole("link", { name: "Overnight now" }).click();
    await page.waitForURL(/\/overnight$/);
    expect(await page.locator("main").textContent()).toMatch(/since the handover of/);
    expect(await page.getByRole("region", { name: "Earlier handovers" }).textContent()).toMatch(
      /Test technician to Day shift/,
    );
    expect(complaints).toEqual([]);
  });

  it("what comes while somebody reads waits behind a button and moves nothing", async () => {
    const { page } = await visit(await open(), "/overnight?since=24h");
    await page.locator('[data-connection="live"]').waitFor();
    await page.mouse.move(300, 400);
    const order = () =>
      page.locator("[data-finding]").evaluateAll((all) => all.map((one) => one.getAttribute("data-finding")));
    // The list is drawn by the server and wakes a little later.
    await expect.poll(order).not.toEqual([]);
    const before = await order();
    await loseFlow("pump-2");
    await page.getByText(/1 new finding/).waitFor({ timeout: 60_000 });
    expect(await order()).toEqual(before);
    await page.getByRole("button", { name: "Update the list" }).click();
    await page.locator("[data-finding]").filter({ hasText: "pump 2" }).first().waitFor();
  });

  it("prints clean, six findings or fewer on one page", async () => {
    const { page } = await visit(await open(), "/overnight?since=24h");
    await page.locator('[data-evidence="ready"]').first().waitFor();
    await page.emulateMedia({ media: "print" });
    expect(await page.locator("main button:visible, nav:visible, dialog:visible").count()).toBe(0);
    // The longer the machine takes, the more of the invented probes have fallen silent by now.
    const findings = await page.locator("[data-finding]:visible, [data-also]:visible").count();
    expect(findings).toBeGreaterThan(2);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    const pages = pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
    expect(pages, `${findings} findings`).toBeGreaterThan(0);
    expect(pages, `${findings} findings`).toBeLessThanOrEqual(Math.ceil(findings / 6));
  });

  for (const ground of GROUNDS) {
    it(`has no accessibility faults on the ${ground} ground, dialog included`, async () => {
      const { page } = await visit(await open({ ground }), "/overnight?since=24h");
      await page.locator('[data-evidence="ready"]').first().waitFor();
      await page.locator("summary").first().click();
      const found = await axeFaults(page, WCAG);
      await page.getByRole("button", { name: "Sign the handover" }).click();
      await page.getByRole("dialog").getByRole("button", { name: "Sign", exact: true }).waitFor();
      found.push(...(await axeFaults(page, WCAG)));
      const signed = page.getByRole("region", { name: "Earlier handovers" }).getByRole("link").first();
      await page.keyboard.press("Escape");
      await signed.click();
      await page.waitForURL(/\/overnight\/.+/);
      found.push(...(await axeFaults(page, WCAG)));
      expect(found).toEqual([]);
    });
  }
});
