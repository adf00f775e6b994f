/** Profiles, residents, conflicts and breeding in a real browser: a curator takes species from the library and lets a band follow them. */
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { describeWith } from "../helpers/system-parts.ts";
import { axeFaults } from "./axe-faults.ts";
import { journeysOf, PHONE } from "./signed-in.ts";

const SYSTEM = "/set-up/systems/kelp-gallery";
const SHOTS = process.env.HOMEWATER_TEST_SHOTS;

describeWith("chromium", "profiles and residents", (chromium) => {
  const { running, visit } = journeysOf(chromium, ["viewer", "curator"]);
  const shot = async (page: Page, name: string) => {
    if (SHOTS) await page.screenshot({ path: `${SHOTS}/${name}.png`, fullPage: true });
  };
  const dialog = (page: Page) => page.getByRole("dialog");
  const asked = (page: Page) => page.locator('[data-asked="temperature"]');
  async function moveIn(page: Page, species: string) {
    await page.getByRole("button", { name: "Move in" }).click();
    await dialog(page).getByLabel("Species").selectOption({ label: species });
    await dialog(page).getByLabel("How many").fill("2");
    await dialog(page).getByRole("button", { name: "Move in" }).click();
    await dialog(page).waitFor({ state: "detached" });
  }

  it("takes species from the library, and a number without its source is refused at its field", async () => {
    const { page, complaints } = await visit("curator", "/set-up/profiles");
    for (const name of ["Garibaldi", "Wolf-eel", "Cownose ray"]) {
      await page.getByRole("button", { name: `Add ${name}`, exact: true }).click();
      await page.getByRole("link", { name, exact: true }).waitFor();
    }
    await page.getByRole("link", { name: "Garibaldi", exact: true }).click();
    await page.getByRole("heading", { name: "Garibaldi", exact: true }).waitFor();
    expect(await page.locator("main").textContent()).toContain("common practice, no source");
    await page.getByRole("button", { name: "New version" }).click();
    await dialog(page).getByLabel("Source", { exact: true }).fill("");
    await dialog(page).getByLabel("Reason").fill("a better source");
    await dialog(page).getByRole("button", { name: "Save this version" }).click();
    await expect
      .poll(() => dialog(page).getByRole("alert").allTextContents())
      .toContainEqual(expect.stringContaining("required"));
    await dialog(page).getByLabel("Source", { exact: true }).fill("a keeper of garibaldi");
    await dialog(page).getByRole("button", { name: "Save this version" }).click();
    await dialog(page).waitFor({ state: "detached" });
    await expect
      .poll(() => page.locator("main").textContent())
      .toMatch(/Version 2, Test curator.*a better source.*a keeper of garibaldi.*Earlier versions/s);
    await shot(page, "profile");
    expect(complaints).toEqual([]);
  }, 120_000);

  it("lets a band follow its residents, shows a conflict with its gap, and signs a compromise", async () => {
    const { page, complaints } = await visit("curator", SYSTEM);
    await page.getByRole("heading", { name: "Residents", exact: true }).waitFor();
    await moveIn(page, "Garibaldi");
    await expect.poll(() => asked(page).textContent()).toMatch(/at least 15\.0.*set by hand/s);
    await page.getByRole("button", { name: "Confirm the limits for Temperature" }).click();
    await dialog(page).getByLabel("Reason").fill("handed to the residents");
    await dialog(page).getByRole("button", { name: "Confirm the limits" }).click();
    await dialog(page).waitFor({ state: "detached" });
    await expect
      .poll(() => asked(page).textContent())
      .toContain("follows the residents, confirmed by Test curator");

    await moveIn(page, "Wolf-eel");
    await expect
      .poll(() => asked(page).textContent())
      .toMatch(/No common range \(every month; this month the ranges are 3\.0 °C apart\)/);
    await asked(page).getByText("Who sets each edge").click();
    expect(await asked(page).getByRole("table").textContent()).toMatch(
      /15\.0, Garibaldi \(adult\): a keeper of garibaldi.*12\.0, Wolf-eel \(adult\)/s,
    );
    await page.getByRole("button", { name: "Sign a compromise for Temperature" }).click();
    await dialog(page).getByLabel("Low edge").fill("14,5");
    await dialog(page).getByLabel("High edge").fill("16");
    await dialog(page).getByLabel("Reason").fill("until the wolf-eels have a colder home");
    await dialog(page).getByRole("button", { name: "Sign the compromise" }).click();
    await dialog(page).waitFor({ state: "detached" });
    await expect
      .poll(() => page.locator("main").textContent())
      .toMatch(
        /Temperature 14\.5 to 16\.0 °C, every month, between Garibaldi \(adult\) and Wolf-eel \(adult\): until the wolf-eels have a colder home/,
      );
    expect(await page.locator('[data-band="temperature display"]').textContent()).toMatch(/14\.5 to 16\.0/);
    await shot(page, "residents");
    await page.getByRole("button", { name: "Withdraw the compromise for Temperature" }).click();
    await dialog(page).getByLabel("Reason").fill("the wolf-eels have moved on");
    await dialog(page).getByRole("button", { name: "Withdraw" }).click();
    await dialog(page).waitFor({ state: "detached" });
    await expect.poll(() => page.locator("[data-compromise]").textContent()).toMatch(/, withdrawn/);
    await expect.poll(() => asked(page).textContent()).toMatch(/No common range/);
    await expect
      .poll(() => page.getByRole("button", { name: "Sign a compromise for Temperature" }).count())
      .toBe(1);
    expect(complaints).toEqual([]);
  }, 180_000);

  it("opens a breeding watch with an unknown day and says which edge is open; a birth adds to the residents", async () => {
    const { page, complaints } = await visit("curator", "/set-up/systems/jelly-ring");
    await page.getByRole("heading", { name: "Residents", exact: true }).waitFor();
    await moveIn(page, "Cownose ray");
    await page.getByRole("button", { name: "Open a watch" }).click();
    await dialog(page).getByLabel("First day with a male").fill("2026-01-10");
    await dialog(page).getByRole("button", { name: "Open the watch" }).click();
    await dialog(page).waitFor({ state: "detached" });
    await expect
      .poll(() => page.locator("[data-watch]").textContent())
      .toMatch(/gestation.*no latest date: storage possible.*330 to 365 days.*last day not known/s);
    const pool = page.locator("[data-pup-pool]");
    expect(await pool.textContent()).toContain("No pup pool chosen");
    await page.getByRole("button", { name: /^Add to the breeding watch/ }).click();
    await dialog(page).getByLabel("Event", { exact: true }).selectOption("pup pool");
    await dialog(page).getByLabel("Pup pool", { exact: true }).selectOption({ label: "Rift Terrace" });
    await dialog(page).getByRole("button", { name: "Save" }).click();
    await dialog(page).waitFor({ state: "detached" });
    await expect
      .poll(() => pool.textContent())
      .toMatch(/Pup pool Rift Terrace: not known whether it is cycled.*Nitrite has never been tested there/);
    await page.getByRole("button", { name: "Record a birth" }).click();
    await dialog(page).getByLabel("Breeding watch it ends").selectOption({ index: 1 });
    await dialog(page).getByRole("button", { name: "Record the birth" }).click();
    await dialog(page).waitFor({ state: "detached" });
    await expect.poll(() => page.locator("[data-watch]").textContent()).toMatch(/ended .*: born/);
    expect(await page.locator("[data-stay]").allTextContents()).toContainEqual(
      expect.stringContaining("pup or juvenile"),
    );
    expect(complaints).toEqual([]);
  }, 120_000);

  it("who may only look sees it all and changes nothing", async () => {
    const { page } = await visit("viewer", SYSTEM);
    await page.getByRole("heading", { name: "What the residents need" }).waitFor();
    expect(await page.getByRole("button", { name: /^(Move|Stage|Sign|Confirm|Open|Record)/ }).count()).toBe(
      0,
    );
    await page.goto(`${running().url}/set-up/profiles`);
    await page.getByRole("heading", { name: "Library" }).waitFor();
    expect(await page.getByRole("button", { name: /^(Take|Add)/ }).count()).toBe(0);
  });

  for (const ground of ["light", "dark", "night"])
    it(`is clean and fits a phone on the ${ground} ground`, async () => {
      for (const path of ["/set-up/profiles", "/set-up/profiles/garibaldi", SYSTEM]) {
        const { page, complaints } = await visit("curator", path, PHONE, ground);
        await page.locator("main h2").first().waitFor();
        expect(await page.evaluate(() => document.documentElement.scrollWidth), path).toBeLessThanOrEqual(
          360,
        );
        expect(await axeFaults(page), path).toEqual([]);
        await shot(page, `phone-${ground}-${path.replaceAll("/", "_")}`);
        expect(complaints, path).toEqual([]);
      }
    }, 120_000);
});
