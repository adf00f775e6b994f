/** Every page of the dashboard in a real browser. The list comes from the routes: a new page is visited, or fails here for want of a sample. */
import { randomUUID } from "node:crypto";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { describeWith } from "../helpers/system-parts.ts";
import { axeFaults, WCAG } from "./axe-faults.ts";
import { seedHomeWater } from "./home-water-seed.ts";
import { journeysOf, PHONE } from "./signed-in.ts";

const APP = join(import.meta.dirname, "../../app");
const DESK = { viewport: { width: 1440, height: 900 } };

/** "/systems/[system]" of "systems/[system]/page.tsx": folders in brackets of the other kind are not in the address. */
const routeOf = (file: string): string =>
  `/${file
    .split("/")
    .slice(0, -1)
    .filter((part) => !/^\(.*\)$/.test(part))
    .join("/")}`;

const ROUTES = readdirSync(APP, { recursive: true, encoding: "utf8" })
  .filter((file) => /(^|\/)page\.tsx$/.test(file))
  .map(routeOf)
  .sort();

/** What stands for each part of an address that names something, in the site of seed.ts and home-water-seed.ts. */
const SAMPLES: Readonly<Record<string, string>> = {
  system: "kelp-gallery",
  animal: "bramble",
  species: "garibaldi",
  name: "ammonia",
  handover: "signed before",
};
const partsOf = (route: string): string[] =>
  [...route.matchAll(/\[([^\]]+)\]/g)].map(([, part = ""]) => part);

/** Who may see a page; a curator where nothing is said. */
const SEEN_BY: Readonly<Record<string, "technician" | "administrator">> = {
  "/health": "technician",
  "/overnight": "technician",
  "/overnight/[handover]": "technician",
  "/set-up/people": "administrator",
};

describe("the list of screens", () => {
  it("comes from the routes, and every name in an address has a sample", () => {
    expect(ROUTES).toContain("/systems/[system]");
    expect(ROUTES.length).toBeGreaterThan(20);
    expect(ROUTES.flatMap(partsOf).filter((part) => !(part in SAMPLES))).toEqual([]);
    expect(Object.keys(SEEN_BY).filter((route) => !ROUTES.includes(route))).toEqual([]);
  });
});

describeWith("chromium", "every screen", (chromium) => {
  const roles = ["technician", "curator", "administrator"] as const;
  const { running, visit } = journeysOf(chromium, roles, seedHomeWater);

  /** A handover somebody signed, made through the API as the page does. */
  async function signedHandover(): Promise<string> {
    const { page } = await visit("technician", "/overnight");
    const answer = await page.request.post(`${running().url}/api/v1/handovers`, {
      headers: { origin: running().url },
      data: { clientId: randomUUID(), note: "Quiet night.", passesTo: "day shift", seen: await alarms(page) },
    });
    const { handover } = (await answer.json()) as { handover?: { id: string } };
    if (handover === undefined) throw new Error(`no handover: ${await answer.text()}`);
    return handover.id;
  }
  async function alarms(page: Awaited<ReturnType<typeof visit>>["page"]): Promise<string[]> {
    const answer = await page.request.get(`${running().url}/api/v1/alarms`);
    return ((await answer.json()) as { alarms: { id: string }[] }).alarms.map(({ id }) => id);
  }

  it("is looked at by an axe that finds a planted picture without words and pale text", async () => {
    const { page } = await visit("curator", "/systems");
    await page.getByRole("heading", { level: 1 }).first().waitFor();
    expect(await axeFaults(page, WCAG)).toEqual([]);
    await page.evaluate(() => {
      document
        .querySelector("main")
        ?.insertAdjacentHTML(
          "beforeend",
          '<img src="data:," data-planted><p style="color: #ccc; background: #fff">pale</p>',
        );
    });
    const found = await axeFaults(page, WCAG);
    expect(found.map((fault) => fault.split(":")[0]).sort()).toEqual(["color-contrast", "image-alt"]);
  });

  it.each(ROUTES)(
    "%s says what it is, fits phone and desk, and has no fault that a browser or axe can find",
    async (route) => {
      const handover = partsOf(route).includes("handover") ? await signedHandover() : "";
      const path = route.replace(/\[([^\]]+)\]/g, (_, part: string) =>
        part === "handover" ? handover : (SAMPLES[part] ?? ""),
      );
      const role = SEEN_BY[route] ?? "curator";
      for (const [options, ground] of [
        [PHONE, "night"],
        [DESK, "light"],
      ] as const) {
        const { page, context, complaints, status } = await visit(role, path, options, ground);
        expect(status, path).toBe(200);
        const heading = page.getByRole("heading", { level: 1 }).first();
        await heading.waitFor();
        expect(await heading.textContent(), path).not.toMatch(/may not see|not found|went wrong/i);
        await page.waitForLoadState("load");
        const width = await page.evaluate(() => document.documentElement.scrollWidth);
        expect(width, `${path} on ${ground}`).toBeLessThanOrEqual(options.viewport.width);
        expect(await axeFaults(page, WCAG)).toEqual([]);
        expect(complaints, path).toEqual([]);
        await context.close();
      }
    },
    120_000,
  );
});
