/** Importing in a real browser: a curator chooses a file, sees what would be stored, stores it and withdraws it; no file is left anywhere. */
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { describeWith } from "../helpers/system-parts.ts";
import { journeysOf, PHONE } from "./signed-in.ts";

const rows = Array.from({ length: 9_000 }, (_, n) => {
  const at = new Date(Date.UTC(2024, 0, 1) + n * 600_000);
  const two = (value: number) => String(value).padStart(2, "0");
  const clock = `${two(at.getUTCDate())}.${two(at.getUTCMonth() + 1)}.${at.getUTCFullYear()} ${two(at.getUTCHours())}:${two(at.getUTCMinutes())}`;
  return `${clock};${(59 + Math.sin(n / 60)).toFixed(2).replace(".", ",")};${n % 3_000 === 7 ? "---" : "8,1"}`;
});
const CSV = `Zeit;Temp (°F);pH\r\n${rows.join("\r\n")}\r\n`;
const FILE = { name: "logger.csv", mimeType: "text/csv", buffer: Buffer.from(CSV) };

describeWith("chromium", "importing", (chromium) => {
  const { visit } = journeysOf(chromium, ["technician", "curator"]);

  async function describeFile(page: Page): Promise<void> {
    await page.getByLabel("CSV file").setInputFiles(FILE);
    await page.getByLabel("Columns separated by").waitFor();
    expect(await page.getByLabel("Columns separated by").inputValue()).toBe(";");
    await page.getByLabel("Decimal sign").selectOption(",");
    await page.getByLabel("Time format").selectOption("dmy");
    await page.getByLabel("Time zone").fill("Z");
    await page.getByLabel("Text that means no value").fill("---");
    await page.getByLabel("System of Temp (°F)").selectOption("kelp-gallery");
    await page.getByLabel("Quantity of Temp (°F)").selectOption("temperature");
    await page.getByLabel("System of pH").selectOption("kelp-gallery");
    await page.getByLabel("Quantity of pH").selectOption("ph");
  }

  it("a curator sees a wrong unit before anything is stored, mends it, stores the file and withdraws it", async () => {
    const { page, complaints } = await visit("curator", "/set-up/import");
    await page.getByText("Nothing has been imported yet.").waitFor();
    await describeFile(page);
    const show = page.getByRole("button", { name: "Show what would be stored" });
    await show.click();
    const report = page.locator("[data-report]");
    await report.waitFor({ timeout: 60_000 });
    expect(await report.textContent()).toMatch(/9,000 rows.*17,997 readings would be stored/);
    expect(await report.textContent()).toContain("9,000 not plausible for this quantity: is the unit right?");
    await page.getByLabel("Unit of Temp (°F)").selectOption("[degF]");
    await show.click();
    await expect.poll(() => report.textContent(), { timeout: 60_000 }).toMatch(/14\.4444 to 15\.5556 Cel/);
    expect(await report.textContent()).not.toContain("not plausible");
    await page.getByRole("button", { name: "Store it" }).click();
    await page.getByRole("heading", { name: "logger.csv is stored" }).waitFor({ timeout: 60_000 });
    await page.locator('[data-import="done"]').waitFor();

    await page.getByRole("button", { name: "Withdraw logger.csv" }).click();
    await page.getByRole("dialog").getByLabel("Reason").fill("the logger stood in another tank");
    await page.getByRole("dialog").getByRole("button", { name: "Withdraw" }).click();
    await page.locator('[data-import="withdrawn"]').waitFor();
    expect(await page.locator('[data-import="withdrawn"]').textContent()).toContain(
      "the logger stood in another tank",
    );
    expect(complaints).toEqual([]);
  }, 180_000);

  it("an import that was cut off goes on with the same file after the page was opened again", async () => {
    const { page } = await visit("curator", "/set-up/import");
    await page.getByLabel("CSV file").waitFor();
    await describeFile(page);
    await page.getByRole("button", { name: "Show what would be stored" }).click();
    await page.getByRole("button", { name: "Store it" }).waitFor({ timeout: 60_000 });
    let pieces = 0;
    await page.route("**/pieces", async (route) => {
      pieces += 1;
      if (pieces === 2) await route.abort("connectionreset");
      else await route.continue();
    });
    await page.getByRole("button", { name: "Store it" }).click();
    await page.getByText("Choose the file again to continue.").first().waitFor({ timeout: 60_000 });
    const { page: later } = await visit("curator", "/set-up/import");
    await later.getByLabel("CSV file").setInputFiles(FILE);
    await later.locator("[data-stopped]").waitFor();
    await later.getByRole("button", { name: "Continue the import" }).click();
    await later.getByRole("heading", { name: "logger.csv is stored" }).waitFor({ timeout: 60_000 });
    expect(await later.locator("[data-report]").textContent()).toContain("9,000 rows");
  }, 180_000);

  it("a file that cannot be read as chosen is told so at once, on a phone too, and a technician may not import", async () => {
    const { page } = await visit("curator", "/set-up/import", PHONE);
    await page.getByLabel("CSV file").setInputFiles({ ...FILE, buffer: Buffer.from("just words\n") });
    await page.getByRole("button", { name: "Show what would be stored" }).click();
    await page.getByText("Choose the time format.").waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    const { page: other } = await visit("technician", "/set-up/import");
    expect(await other.locator("main").textContent()).toContain("Only curators can import");
  });

  for (const ground of ["light", "dark", "night"])
    it(`has no barrier that axe can find on the ${ground} ground (WCAG 2.2 AA)`, async () => {
      const { page } = await visit("curator", "/set-up/import", { reducedMotion: "reduce" }, ground);
      await describeFile(page);
      await page.getByRole("button", { name: "Show what would be stored" }).click();
      await page.locator("[data-report]").waitFor({ timeout: 60_000 });
      const { violations } = await new AxeBuilder({ page })
        .withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"])
        .analyze();
      expect(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(" ")).join(", ")}`)).toEqual(
        [],
      );
      const folder = process.env.HOMEWATER_TEST_PICTURES;
      if (folder !== undefined)
        await page.screenshot({ path: `${folder}/import-${ground}.png`, fullPage: true });
    });
});
