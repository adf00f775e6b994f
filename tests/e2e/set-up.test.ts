/** Set-up in a real browser: a curator changes a band by keyboard and sees the rack change, on a phone too; administrators invite people. */
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { describeWith } from "../helpers/system-parts.ts";
import { axeFaults, WCAG } from "./axe-faults.ts";
import { journeysOf, PHONE } from "./signed-in.ts";

const GROUNDS = ["light", "dark", "night"];
const SYSTEM = "/set-up/systems/kelp-gallery";
const TEMPERATURE = '[data-system="kelp-gallery"][data-quantity="temperature"][data-point="display"]';

describeWith("chromium", "set-up", (chromium) => {
  const { running, visit } = journeysOf(chromium, ["viewer", "curator", "administrator"]);

  /** Tab until something with that accessible name has the focus. */
  async function tabTo(page: Page, name: RegExp): Promise<void> {
    for (let i = 0; i < 200; i += 1) {
      await page.keyboard.press("Tab");
      const said = await page.evaluate(() => {
        const active = document.activeElement;
        const label =
          active instanceof HTMLInputElement || active instanceof HTMLTextAreaElement
            ? active.labels?.[0]
            : null;
        return active?.getAttribute("aria-label") ?? label?.textContent ?? active?.textContent ?? "";
      });
      if (name.test(said)) return;
    }
    throw new Error(`nothing named ${String(name)} is reached by Tab`);
  }
  async function typeInto(page: Page, name: RegExp, text: string): Promise<void> {
    await tabTo(page, name);
    await page.keyboard.press("Control+A");
    await page.keyboard.type(text);
  }
  const deviation = (page: Page) => page.locator(TEMPERATURE).first().getAttribute("data-deviation");

  it("a curator changes a band by keyboard alone, with reason and source, and the open rack changes; then takes it back", async () => {
    const { page: rack } = await visit("curator", "/systems");
    await expect.poll(() => deviation(rack), { timeout: 60_000 }).toBe("0");
    const { page, complaints } = await visit("curator", SYSTEM);
    await page.getByRole("heading", { name: "Bands" }).waitFor();
    await tabTo(page, /^Change the Temperature band$/);
    await page.keyboard.press("Enter");
    const dialog = page.getByRole("dialog", { name: "Change the Temperature band" });
    await dialog.waitFor();
    // 15.5 °C is read: with 13 to 15 and action above 16 it lies about half way to the limit.
    await typeInto(page, /^Action below/, "11");
    await typeInto(page, /^Target from/, "13");
    await typeInto(page, /^Target to/, "15");
    await typeInto(page, /^Action above/, "14.5");
    expect(await dialog.textContent()).toContain("action limit 14.5 must be above the high edge 15");
    await page.keyboard.press("Control+A");
    await page.keyboard.type("16");
    await expect.poll(() => dialog.locator("[data-preview]").getAttribute("data-preview")).toBe("look");
    await typeInto(page, /^Reason/, "the wolf eels want it colder");
    await typeInto(page, /^Source/, "a keeper of wolf eels");
    await tabTo(page, /^Set the band$/);
    await page.keyboard.press("Enter");
    await dialog.waitFor({ state: "detached" });
    await expect
      .poll(() => page.getByRole("status").allTextContents())
      .toContainEqual(expect.stringContaining("Temperature band set."));
    // What was read before was judged by the band then; the next reading is judged by the new one.
    await running().publish("kelp-gallery/display/temperature", 15.5);
    await expect.poll(async () => Number(await deviation(rack)), { timeout: 30_000 }).toBeCloseTo(0.5, 6);
    expect(await rack.locator('[data-system-row="kelp-gallery"]').textContent()).toContain("needs a look");

    await tabTo(page, /^History of the Temperature band$/);
    await page.keyboard.press("Enter");
    const versions = page
      .getByRole("list", { name: "Versions of the Temperature band" })
      .getByRole("listitem");
    await expect.poll(() => versions.count()).toBe(2);
    expect(await versions.first().textContent()).toMatch(
      /13\.0 to 15\.0.*the wolf eels want it colder.*a keeper of wolf eels.*Test curator.*in force/s,
    );

    await page.getByRole("button", { name: "Undo" }).focus();
    await page.keyboard.press("Enter");
    await expect.poll(() => versions.count()).toBe(3);
    await running().publish("kelp-gallery/display/temperature", 15.4);
    await expect.poll(() => deviation(rack), { timeout: 30_000 }).toBe("0");
    expect(complaints).toEqual([]);
  }, 120_000);

  it("on a phone, without a connection, what was typed stays and nothing is said to be stored", async () => {
    const { page, context } = await visit("curator", SYSTEM, PHONE);
    await page.getByRole("button", { name: "Change the pH band" }).click();
    const dialog = page.getByRole("dialog");
    await dialog.getByLabel("Target to").fill("8,25");
    await dialog.getByLabel("Reason").fill("kelp by day");
    await context.setOffline(true);
    await dialog.getByRole("button", { name: "Set the band" }).click();
    await expect
      .poll(() => dialog.getByRole("alert").allTextContents())
      .toContainEqual(expect.stringContaining("No connection"));
    expect(await dialog.getByLabel("Target to").inputValue()).toBe("8,25");
    await context.setOffline(false);
    await dialog.getByRole("button", { name: "Set the band" }).click();
    await dialog.waitFor({ state: "detached" });
    await expect.poll(() => page.locator('[data-band="ph display"]').textContent()).toMatch(/7\.90 to 8\.25/);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  });

  it("a curator puts right what a point is for, where its name led to a wrong guess, and takes it back", async () => {
    const { page, complaints } = await visit("curator", SYSTEM);
    const point = page.getByRole("listitem").filter({ hasText: /^pump 1/i });
    await expect.poll(() => point.textContent()).toContain("Equipment, guessed from its name");
    await point.getByRole("button", { name: /^Change what pump 1 is for$/i }).click();
    const dialog = page.getByRole("dialog", { name: /^What pump 1 is for$/i });
    await dialog.getByLabel("What it is for").selectOption("contact-chamber");
    await dialog.getByLabel("Reason").fill("it feeds the ozone tower");
    await dialog.getByRole("button", { name: "Save" }).click();
    await dialog.waitFor({ state: "detached" });
    await expect.poll(() => point.textContent()).toContain("Contact chamber ·");
    expect(await point.textContent()).not.toContain("guessed");
    await page.getByRole("button", { name: "Undo" }).click();
    await expect.poll(() => point.textContent()).toContain("Equipment, guessed from its name");
    expect(complaints).toEqual([]);
  }, 60_000);

  it("who may only look has no buttons to change anything, and is told why people are not shown", async () => {
    const { page } = await visit("viewer", SYSTEM);
    await page.getByRole("heading", { name: "Bands" }).waitFor();
    expect(await page.getByRole("button", { name: /^(Change|Set|Add)/ }).count()).toBe(0);
    await page.goto(`${running().url}/set-up/people`);
    expect(await page.locator("main").textContent()).toContain("Only administrators");
  });

  it("an administrator invites somebody, sees the password once, gives a role, closes the account and opens it again", async () => {
    const { page, complaints } = await visit("administrator", "/set-up/people");
    await page.getByRole("button", { name: "Invite" }).click();
    await page.getByLabel("Name", { exact: true }).fill("Night keeper");
    await page.getByLabel("User name").fill("night.keeper");
    await page.getByLabel("Role 1", { exact: true }).selectOption("technician");
    await page.getByLabel("Where role 1 applies").selectOption("system:jelly-ring");
    await page.getByRole("dialog").getByRole("button", { name: "Invite" }).click();
    const password = await page.locator("[data-one-time]").textContent();
    expect(password?.length ?? 0).toBeGreaterThanOrEqual(12);
    await page.getByRole("button", { name: "I have written it down" }).click();
    const row = page.locator('[data-person="night.keeper"]');
    await expect.poll(() => row.textContent()).toContain("technician at Jelly Ring");
    expect(await page.locator("body").textContent()).not.toContain(password);
    await row.getByRole("button", { name: /^close account/ }).click();
    await expect.poll(() => row.textContent()).toContain("account closed");
    await row.getByRole("button", { name: /^reopen account/ }).click();
    await expect.poll(() => row.textContent()).not.toContain("account closed");
    expect(complaints).toEqual([]);
  });

  for (const ground of GROUNDS) {
    for (const [role, path] of [
      ["curator", "/set-up"],
      ["curator", SYSTEM],
      ["administrator", "/set-up/people"],
      ["curator", "/parts"],
    ] as const) {
      it(`${path} on the ${ground} ground has no barrier that axe can find (WCAG 2.2 AA)`, async () => {
        const { page } = await visit(role, path, { reducedMotion: "reduce" }, ground);
        // Words of waiting have a heading too, and stand beside the page for a moment.
        await expect.poll(() => page.locator("h1").count()).toBe(1);
        await expect.poll(() => page.locator('main[aria-busy="true"]').count()).toBe(0);
        if (path === SYSTEM) {
          await page.getByRole("button", { name: "Change the Temperature band" }).click();
          await page.getByRole("dialog").getByLabel("Target from").fill("99");
        }
        expect(await axeFaults(page, WCAG)).toEqual([]);
      });
    }
  }
});
