/** Home water in a real browser: a curator lands on it, compares two systems, opens the source of an edge, adopts a season, exports the paper. */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, expect, it } from "vitest";
import { describeWith } from "../helpers/system-parts.ts";
import { axeFaults } from "./axe-faults.ts";
import { seedHomeWater } from "./home-water-seed.ts";
import { journeysOf, PHONE } from "./signed-in.ts";

const KELP = "/home-water/kelp-gallery";
/** Pictures are kept where somebody asks for them. */
const PICTURES = process.env.HOMEWATER_TEST_PICTURES;

describeWith("chromium", "home water", (chromium) => {
  const { running, visit } = journeysOf(chromium, ["viewer", "curator"], seedHomeWater);
  const folder = mkdtempSync(join(tmpdir(), "homewater-paper-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const picture = async (page: Page, name: string) => {
    if (PICTURES !== undefined)
      await page.screenshot({ path: join(PICTURES, `${name}.png`), fullPage: true });
  };

  it("is where a curator lands, and leads to a system whose animals disagree, with the gap in degrees", async () => {
    const { page, complaints } = await visit("curator", "/");
    await page.getByRole("heading", { name: "Home water", level: 1 }).waitFor();
    await picture(page, "list");
    await page.getByRole("link", { name: "Kelp Gallery" }).click();
    await page.getByRole("heading", { name: "Kelp Gallery against its home water" }).waitFor();
    const conflict = page.locator('[data-conflict="temperature"]');
    expect(await conflict.textContent()).toContain("The gap is 3.0 °C");
    expect(await conflict.textContent()).toContain("until the eels have a colder home");
    expect(complaints).toEqual([]);
  });

  it("compares two systems, two years, and a system with the sea at coordinates, by address alone", async () => {
    const { page } = await visit("curator", KELP);
    await page.getByLabel("compare with").selectOption("jelly-ring");
    await page.getByRole("button", { name: "Compare" }).click();
    await page.getByRole("heading", { name: /^Jelly Ring, 20\d\d$/ }).waitFor();
    expect(await page.getByRole("heading", { name: /^Kelp Gallery, 20\d\d$/ }).count()).toBe(1);
    expect(new URL(page.url()).searchParams.get("with")).toBe("jelly-ring");
    await picture(page, "compare");
    const year = new Date().getUTCFullYear();
    await page.goto(`${running().url}${KELP}?with=kelp-gallery&withYear=${year - 1}`);
    await page.getByRole("heading", { name: `Kelp Gallery, ${year - 1}` }).waitFor();
    await page.goto(`${running().url}${KELP}?at=49,-5`);
    await page.getByText("sea at 49, -5: box 49, -5").waitFor();
    expect(await page.getByText("an ocean box, not a bay").count()).toBeGreaterThan(0);
    await picture(page, "sea");
    await page.goto(`${running().url}${KELP}?at=47,90`);
    await page.getByText("no complete ocean box within 300 km").waitFor();
  });

  it("opens the source of an edge, by keyboard too", async () => {
    const { page } = await visit("curator", KELP);
    const door = page.locator("details", { hasText: "garibaldi", has: page.locator("dl") }).first();
    // Streamed in: only what stands in its place can take the focus.
    await door.locator("summary").waitFor();
    await door.locator("summary").focus();
    await page.keyboard.press("Enter");
    await expect.poll(() => door.locator("dl").isVisible()).toBe(true);
    expect(await door.textContent()).toContain("common practice, no source");
  });

  it("proposes a season, is told what is wrong with an edited one, adopts it, and shows it in force", async () => {
    const { page } = await visit("curator", "/home-water/jelly-ring");
    await page.getByRole("button", { name: "Propose" }).click();
    await page.getByText("at most 0.70 °C a week").waitFor();
    const weeks = page.locator("form", { hasText: "Adopt this plan" }).locator("label input");
    const first = await weeks.first().inputValue();
    await weeks.first().fill("99");
    await page.getByLabel("Reason").fill("a winter for the polyps");
    await page.getByRole("button", { name: "Adopt this plan" }).click();
    await page.getByText(/changes by .* a week, more than 0.7/).waitFor();
    await weeks.first().fill(first);
    await page.getByRole("button", { name: "Adopt this plan" }).click();
    await page.getByText("nothing is sent to a controller").waitFor();
    await picture(page, "season");
    await page.reload();
    await page.getByText("Adopted by").waitFor();
    expect(await page.getByText("a winter for the polyps").count()).toBe(1);
  });

  it("says on the plan screen that a season ramps while eggs are awaited, and adopts it only knowingly", async () => {
    const { page } = await visit("curator", KELP);
    await page.getByRole("button", { name: "Propose" }).click();
    const ramps = page.locator("[data-watched-ramps]").first();
    await ramps.waitFor();
    expect(await ramps.textContent()).toMatch(
      /2 wolf-eel \(adult\): hatching expected from .* In that time \d+ steps? of this plan ramps?/,
    );
    await page.getByLabel("Reason").fill("winter as at home");
    await page.getByRole("button", { name: "Adopt this plan" }).click();
    await page.getByText(/hold the set-points level in its window/).waitFor();
    await picture(page, "watched-season");
    await page.getByLabel(/Adopt it even though/).check();
    await page.getByRole("button", { name: "Adopt this plan" }).click();
    await page.getByText("nothing is sent to a controller").waitFor();
  });

  it("shows on the System page who lives there and the watch, in a section, over the charts, and leads to the animal", async () => {
    const { page, complaints } = await visit("viewer", "/systems/kelp-gallery?range=3d");
    const living = page.locator("[data-living]");
    expect(await living.getByRole("heading", { name: "Residents" }).count()).toBe(1);
    expect(await living.textContent()).toMatch(/2 wolf-eel.*9 garibaldi.*Bramble, wolf-eel/);
    expect(await living.locator("[data-watch]").textContent()).toMatch(
      /hatching expected, in its window, from .*Now: no set-point ramps or planned catch-ups/,
    );
    const bar = page.locator('[data-watch-bar="window"]');
    await bar.waitFor();
    expect(await bar.textContent()).toContain("2 wolf-eel (adult): hatching expected");
    await picture(page, "system-watched");
    await living.getByRole("link", { name: "Bramble, wolf-eel" }).click();
    await page.getByRole("heading", { name: "Water history of Bramble", level: 1 }).waitFor();
    expect(
      await page
        .locator("[data-visit]")
        .evaluateAll((rows) => rows.map((row) => row.getAttribute("data-visit"))),
    ).toEqual(["jelly-ring", "kelp-gallery"]);
    expect(await page.locator('[data-life="temperature"]').textContent()).toMatch(
      /inside its native range .*% of the time that could be compared; readings cover .* of its time/,
    );
    expect(await page.locator('[data-life="salinity"]').textContent()).toContain("No readings in Jelly Ring");
    await picture(page, "animal");
    await page.getByRole("navigation", { name: "Period" }).getByRole("link").last().click();
    await page.waitForURL(/\?year=20\d\d$/);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("link", { name: "CSV" }).click(),
    ]);
    expect(readFileSync(await download.path(), "utf8")).toContain("Bramble,wolf-eel,kelp-gallery,20");
    expect(complaints).toEqual([]);
    const empty = await visit("viewer", "/systems/rift-terrace");
    await empty.page.getByText("No residents.").waitFor();
    await empty.page.goto(`${running().url}/animals/nobody`);
    await empty.page.getByRole("heading", { name: "There is nothing at this address" }).waitFor();
  });

  it("leads to a calendar with the window of the watch on each of its days, by system and by month", async () => {
    const { page, complaints } = await visit("viewer", "/home-water");
    await page.getByRole("main").getByRole("link", { name: "Calendar" }).click();
    await page.getByRole("heading", { name: /^Calendar, \w+ 20\d\d$/ }).waitFor();
    expect(await page.locator("[data-today]").count()).toBe(1);
    const spans = page.getByRole("region", { name: "Over several days" });
    expect(await spans.textContent()).toMatch(
      /2 wolf-eel \(adult\): hatching expected, from .* to .*going on · Kelp Gallery/s,
    );
    expect(await page.locator('[data-today] [data-kind="watch"]').count()).toBe(1);
    await picture(page, "calendar-all");
    await page.getByLabel("System").selectOption("jelly-ring");
    await page.getByRole("button", { name: "Show" }).click();
    await page.getByRole("heading", { name: /^Calendar for Jelly Ring/ }).waitFor();
    expect(await page.locator('[data-kind="watch"]').count()).toBe(0);
    await page.locator('a[rel="next"]').click();
    await page.waitForURL(/month=20\d\d-\d\d&system=jelly-ring/);
    await page.getByRole("link", { name: "this month" }).click();
    await page.locator("[data-today]").waitFor();
    await page.goto(`${running().url}/calendar?system=nowhere`);
    await page.getByRole("heading", { name: "There is nothing at this address" }).waitFor();
    expect(complaints.filter((said) => !said.includes("404"))).toEqual([]);
  }, 120_000);

  it("asks on Overnight for the night's count while eggs are awaited, and has it once it is written, on a phone in the dark", async () => {
    const { page, complaints } = await visit("curator", "/overnight", PHONE, "night");
    const asked = page.locator("[data-night-count]");
    await asked.waitFor();
    expect(await asked.textContent()).toMatch(
      /Kelp Gallery.*count (tonight|due).*2 wolf-eel \(adult\): hatching expected/,
    );
    await page.getByRole("button", { name: "Count for 2 wolf-eel (adult), Kelp Gallery" }).click();
    const dialog = page.getByRole("dialog", { name: "Night count, Kelp Gallery" });
    await dialog.getByText("3 on record").waitFor();
    await dialog.getByLabel("Found alive").fill("many");
    await dialog.getByRole("button", { name: "Save the count" }).click();
    await dialog.getByText("a whole number, 0 or more").waitFor();
    expect(await axeFaults(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    await picture(page, "night-count-form");
    await dialog.getByLabel("Found alive").fill("2");
    await dialog.getByLabel("Note").fill("one not seen");
    await dialog.getByRole("button", { name: "Save the count" }).click();
    await dialog.waitFor({ state: "detached" });
    const done = /count done.*2 counted, 3 on record: count again.*Test curator: one not seen/;
    await expect.poll(() => asked.textContent()).toMatch(done);
    await page.reload();
    await expect.poll(() => asked.textContent()).toMatch(done);
    await picture(page, "night-count-done");
    expect(complaints).toEqual([]);
  }, 120_000);

  it("loads a home water of one's own from a file: looked at first, stored with its source, withdrawn to undo", async () => {
    const { page, complaints } = await visit("curator", "/set-up/home-waters");
    await page.getByText("None yet. The climatology is used everywhere.").waitFor();
    await page.getByRole("button", { name: "Load a file" }).click();
    const dialog = page.getByRole("dialog");
    const rows = Array.from({ length: 12 }, (_, i) => `${i + 1},${12 + i / 10}`);
    await dialog.getByLabel("File").setInputFiles({
      name: "pier.csv",
      mimeType: "text/csv",
      buffer: Buffer.from(`month,value\n${rows.join("\n")}\n12,warm\n`),
    });
    await dialog.getByLabel("Latitude").fill("33,1");
    await dialog.getByLabel("Longitude").fill("-117.3");
    await dialog.getByRole("button", { name: "Check the file" }).click();
    await dialog.getByText("12 rows read, 1 refused.").waitFor();
    expect(await dialog.textContent()).toMatch(/Line 14, “warm”: not a number/);
    await picture(page, "own-water-look");
    await dialog.getByLabel("Name of the place").fill("Our pier");
    await dialog.getByLabel("Source").fill("logger of the pier");
    await dialog.getByLabel("Reason").fill("nearer than a box");
    await dialog.getByRole("button", { name: "Load it" }).click();
    await dialog.getByText(/1 row is refused, the first in line 14/).waitFor();
    await dialog.getByLabel("Leave out the refused rows").check();
    await dialog.getByRole("button", { name: "Load it" }).click();
    await dialog.waitFor({ state: "detached" });
    await page.locator("[data-series]").waitFor();
    await page.getByRole("button", { name: "Withdraw Our pier" }).click();
    await expect.poll(() => page.locator("[data-series]").textContent()).toMatch(/, withdrawn/);
    expect(complaints.filter((said) => !said.includes("422") && !said.includes("400"))).toEqual([]);
  });

  it("sets a light schedule from a phone: asked for its source, filled from the daylight of a latitude, withdrawn to undo", async () => {
    const { page, complaints } = await visit("curator", "/set-up/systems/kelp-gallery", PHONE);
    const inForce = page.locator('[data-light-plan="in force"]');
    await inForce.waitFor();
    expect(await inForce.textContent()).toContain("10 to 14.3 h by month, centred on 13:00, following 33° N");
    await page.getByRole("button", { name: "Set the light schedule" }).click();
    const dialog = page.getByRole("dialog", { name: "Light schedule for Kelp Gallery" });
    await dialog.getByLabel("Home latitude to follow").fill("-33");
    await dialog.getByLabel("Calendar ahead by, days").fill("182");
    await dialog.getByRole("button", { name: "Use the day lengths there" }).click();
    // Source: NOAA series, 33 degrees from the equator has 14.3 h about its midsummer; half a year on the south's is June's.
    await expect
      .poll(async () => Number(await dialog.getByLabel("15 Jun, hours").inputValue()))
      .toBeCloseTo(14.3, 1);
    await dialog.getByLabel("15 Jan, hours").fill("25");
    await dialog.getByRole("button", { name: "Set the schedule" }).click();
    await dialog.getByText("hours from 0 to 24").waitFor();
    await dialog.getByLabel("15 Jan, hours").fill("9,9");
    await dialog.getByLabel("Source").fill("");
    await dialog.getByRole("button", { name: "Set the schedule" }).click();
    await expect.poll(() => dialog.getByRole("alert").count()).toBe(2);
    expect(await axeFaults(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    await picture(page, "light-form-phone");
    await dialog.getByLabel("Source").fill("daylight at 33° S");
    await dialog.getByLabel("Reason").fill("their own summer");
    await dialog.getByRole("button", { name: "Set the schedule" }).click();
    await dialog.waitFor({ state: "detached" });
    await expect
      .poll(() => inForce.textContent())
      .toMatch(/33° S, calendar 182 days ahead.*their own summer/);
    await picture(page, "light-section-phone");
    await inForce.getByRole("button", { name: /^Withdraw the light schedule/ }).click();
    await page.getByRole("dialog").getByLabel("Reason").fill("they stay on our seasons");
    await page.getByRole("dialog").getByRole("button", { name: "Withdraw" }).click();
    await page.getByRole("dialog").waitFor({ state: "detached" });
    await expect.poll(() => inForce.textContent()).toContain("following 33° N");
    expect(await page.locator('[data-light-plan="void"]').count()).toBe(1);
    expect(complaints).toEqual([]);
  }, 180_000);

  it("lets a viewer read all of it and adopt nothing", async () => {
    const { page } = await visit("viewer", "/home-water/jelly-ring");
    await page.getByRole("button", { name: "Propose" }).click();
    await page.getByText("Only a curator can adopt a plan.").waitFor();
    expect(await page.getByRole("button", { name: "Adopt this plan" }).count()).toBe(0);
  });

  it("exports the paper as A4 pages in PDF and as CSV", async () => {
    const { page } = await visit("curator", `${KELP}/paper`);
    await page.getByRole("heading", { name: /Kelp Gallery against its home water, 20\d\d/ }).waitFor();
    expect(await page.getByText("until the eels have a colder home").count()).toBeGreaterThan(0);
    const path = join(PICTURES ?? folder, "paper.pdf");
    await page.pdf({ path, preferCSSPageSize: true, printBackground: true });
    const pdf = readFileSync(path);
    expect(pdf.subarray(0, 5).toString()).toBe("%PDF-");
    // A4 is 210 by 297 mm: 595 by 842 points of a 72nd of an inch.
    const boxes = [
      ...pdf.toString("latin1").matchAll(/\/MediaBox\s*\[\s*0 0 (\d+)(?:\.\d+)? (\d+)(?:\.\d+)?\s*\]/g),
    ];
    expect(boxes.length).toBeGreaterThanOrEqual(2);
    for (const [, width, height] of boxes) {
      expect(Math.abs(Number(width) - 595)).toBeLessThanOrEqual(1);
      expect(Math.abs(Number(height) - 842)).toBeLessThanOrEqual(1);
    }
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("link", { name: "CSV" }).click(),
    ]);
    const csv = readFileSync(await download.path(), "utf8");
    expect(download.suggestedFilename()).toMatch(/^home-water-kelp-gallery-20\d\d\.csv$/);
    expect(csv.split("\r\n")[0]).toContain("share_inside,typical_miss");
    expect(csv).toContain("kelp-gallery");
  });

  const DESK = { viewport: { width: 1440, height: 900 } };
  const WALL = { viewport: { width: 2560, height: 1440 } };
  const LOOKED_AT = [
    [KELP, "Kelp Gallery against its home water", { phone: PHONE, desk: DESK, wall: WALL }],
    ["/animals/bramble", "Water history of Bramble", { phone: PHONE }],
    ["/systems/kelp-gallery", "Kelp Gallery", { phone: PHONE }],
    ["/calendar", "Calendar", { phone: PHONE, desk: DESK }],
    ["/set-up/home-waters", "Our own home water data", { phone: PHONE }],
  ] as const;
  it.each(LOOKED_AT)(
    "%s is clean on every ground and size, and never wider than its window",
    async (path, heading, sizes) => {
      for (const ground of ["light", "dark", "night"])
        for (const [name, options] of Object.entries(sizes)) {
          const { page, complaints } = await visit("curator", path, options, ground);
          await page.getByRole("heading", { name: heading, level: 1 }).waitFor();
          expect(await axeFaults(page), `${ground} ${name}`).toEqual([]);
          // On a phone the window itself grows with what is too wide: the screen is the measure.
          const width = await page.evaluate(() => document.documentElement.scrollWidth);
          expect(width, `${ground} ${name}`).toBeLessThanOrEqual(options.viewport.width);
          expect(complaints, `${ground} ${name}`).toEqual([]);
          await picture(page, `${path.replaceAll("/", "_")}-${ground}-${name}`);
        }
    },
    120_000,
  );
});
