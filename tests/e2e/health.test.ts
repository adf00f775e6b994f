/** The health page in a real browser over the running processes: what they report, what is wrong in words, who may see it. */
import { expect, it } from "vitest";
import { describeWith } from "../helpers/system-parts.ts";
import { axeFaults, WCAG } from "./axe-faults.ts";
import { journeysOf, PHONE } from "./signed-in.ts";

describeWith("chromium", "health", (chromium) => {
  const { running, visit } = journeysOf(chromium, ["viewer", "technician"]);

  it("says of each part whether it is as it should be, and what to do where it is not", async () => {
    await running().publish("kelp-gallery/display/temperature", 15.5);
    const { page, complaints } = await visit("technician", "/health");
    await page.getByRole("heading", { name: "Health of Homewater" }).waitFor();
    const state = (item: string) => page.locator(`[data-item="${item}"]`).getAttribute("data-state");
    expect(await state("accepting")).toBe("good");
    expect(await state("evaluating")).toBe("good");
    expect(await page.locator('[data-item="backup"]').textContent()).toMatch(
      /no verified backup.*npm run backup/,
    );
    expect(await page.locator("main").textContent()).toMatch(/Process accepting.*MiB memory/);
    expect(complaints).toEqual([]);
  });

  it("keeps what it knows when the connection is gone, and says that it is old; on a phone it fits", async () => {
    const { page, context } = await visit("technician", "/health", PHONE);
    await page.locator('[data-item="disk"]').waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    await context.setOffline(true);
    await page.getByText("what is shown here is old").waitFor({ timeout: 30_000 });
    expect(await page.locator('[data-item="disk"]').count()).toBe(1);
  });

  it("is not for somebody who only looks at water", async () => {
    const { page } = await visit("viewer", "/health");
    expect(await page.locator("main").textContent()).toContain(
      "Only technicians, curators and administrators",
    );
  });

  for (const ground of ["light", "dark", "night"])
    it(`has no barrier that axe can find on the ${ground} ground (WCAG 2.2 AA)`, async () => {
      const { page } = await visit("technician", "/health", { reducedMotion: "reduce" }, ground);
      await page.locator("[data-item]").first().waitFor();
      expect(await axeFaults(page, WCAG)).toEqual([]);
      const folder = process.env.HOMEWATER_TEST_PICTURES;
      if (folder !== undefined)
        await page.screenshot({ path: `${folder}/health-${ground}.png`, fullPage: true });
    });
});
