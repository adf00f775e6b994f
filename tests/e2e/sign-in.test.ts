/** Signing in as a person does: every page leads there and back, a one-time password is changed first, and the policy blocks nothing of ours. */
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, it } from "vitest";
import { ensureAdministrator, type FirstAdministrator } from "#auth/ensure-administrator.ts";
import { uuidV7 } from "#services/new-id.ts";
import { hasherOver, makePeople, signInOver, TEST_PASSWORD } from "../helpers/sign-in.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { axeFaults } from "./axe-faults.ts";
import { type Running, startBrowser, startHomewater } from "./harness.ts";
import { seedSite } from "./seed.ts";
import { complaintsOf, holdScripts } from "./signed-in.ts";

const NEW_PASSWORD = "eleven patient barnacles";

describeWith("chromium", "signing in", (chromium) => {
  let running: Running;
  let browser: Browser;
  let first: FirstAdministrator | null = null;
  const contexts: BrowserContext[] = [];

  beforeAll(async () => {
    running = await startHomewater(async (store) => {
      await seedSite(store, Date.now());
      first = await ensureAdministrator({ store, clock: Date.now, newId: uuidV7 }, hasherOver(store).hash);
      await makePeople(store, ["viewer", "technician"]);
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

  async function visit(path: string, options: Parameters<Browser["newContext"]>[0] = {}) {
    const context = await browser.newContext({ locale: "en-GB", ...options });
    contexts.push(context);
    const page = await context.newPage();
    const complaints = complaintsOf(page);
    await page.goto(running.url + path);
    return { page, complaints, context };
  }
  async function enter(page: Page, name: string, password: string): Promise<void> {
    await page.getByLabel("User name or e-mail address").fill(name);
    await page.getByLabel("Password", { exact: true }).fill(password);
    await page.getByRole("button", { name: "Sign in", exact: true }).click();
  }
  const pathOf = (page: Page) => new URL(page.url()).pathname + new URL(page.url()).search;

  for (const path of ["/systems", "/systems/kelp-gallery?range=12h", "/rejected", "/"]) {
    it(`${path} leads to the sign-in page, and from there back`, async () => {
      const { page, complaints } = await visit(path);
      await page.waitForURL(/\/sign-in/);
      await enter(page, "viewer", TEST_PASSWORD);
      await page.waitForURL((url) => !url.pathname.startsWith("/sign-in"));
      expect(pathOf(page)).toBe(path === "/" ? "/systems" : path);
      await page.waitForTimeout(800);
      expect(complaints).toEqual([]);
    });
  }

  it("a name and a password entered before the page's script has come sign in all the same, and never stand in an address", async () => {
    const context = await browser.newContext({ locale: "en-GB" });
    contexts.push(context);
    const release = await holdScripts(context);
    const page = await context.newPage();
    const addresses: string[] = [];
    page.on("request", (request) => addresses.push(request.url()));
    await page.goto(`${running.url}/sign-in`, { waitUntil: "commit" });
    await page.getByLabel("User name or e-mail address").fill("viewer");
    await page.getByLabel("Password", { exact: true }).fill(TEST_PASSWORD);
    await page.getByLabel("Password", { exact: true }).press("Enter");
    await page.getByRole("button", { name: "night" }).click();
    await page.getByRole("button", { name: "Sign in", exact: true }).click();
    expect(new URL(page.url()).pathname).toBe("/sign-in");
    release();
    await page.waitForURL(/\/systems$/);
    expect(addresses.filter((url) => url.includes(encodeURIComponent(TEST_PASSWORD)))).toEqual([]);
  });

  it("says what is wrong at the field, the same for a wrong name and a wrong password", async () => {
    const { page } = await visit("/sign-in");
    const says = [];
    for (const [name, password] of [
      ["viewer", "not this"],
      ["nobody", TEST_PASSWORD],
    ] as const) {
      await enter(page, name, password);
      says.push(await page.getByRole("alert").filter({ hasText: "wrong" }).textContent());
      expect(
        await page.getByLabel("User name or e-mail address").evaluate((el) => el === document.activeElement),
      ).toBe(true);
    }
    expect(says[0]).toMatch(/Wrong name or password/);
    expect(says[1]).toBe(says[0]);
  });

  it("a one-time password opens nothing but the page that changes it; then its pages are open", async () => {
    const { page, complaints } = await visit("/rejected");
    await enter(page, first?.userName ?? "", first?.password ?? "");
    await page.waitForURL(/sign-in\/password/);
    await page.goto(`${running.url}/systems`);
    await page.waitForURL(/sign-in\/password\?to=%2Fsystems/);
    const refused = await page.evaluate(async () => (await fetch("/api/v1/systems")).status);
    expect(refused).toBe(403);
    complaints.length = 0;
    const fill = async (next: string, again: string) => {
      await page.getByLabel("One-time password").fill(first?.password ?? "");
      await page.getByLabel("New password", { exact: true }).fill(next);
      await page.getByLabel("New password again").fill(again);
      await page.getByRole("button", { name: "Change password" }).click();
    };
    await fill("Password123", "Password123");
    await page.getByText("one of the first that attackers try").waitFor();
    await fill(NEW_PASSWORD, "another one altogether");
    await page.getByText("The two passwords differ").waitFor();
    await fill(NEW_PASSWORD, NEW_PASSWORD);
    await page.waitForURL(/\/systems$/);
    // A browser says a refusal of the server on its console.
    expect(complaints.filter((said) => !/ 4(00|22) /.test(said))).toEqual([]);
    const again = await visit("/sign-in");
    await enter(again.page, "administrator", NEW_PASSWORD);
    await again.page.waitForURL((url) => !url.pathname.startsWith("/sign-in"));
  });

  it("signing out ends the session on the server; the page before is not shown again", async () => {
    const cookie = await signInOver(running.url, "technician");
    const { page, context } = await visit("/sign-in");
    await context.addCookies([cookie]);
    await page.goto(`${running.url}/sign-in`);
    await page.getByRole("heading", { name: "Signed in as Test technician" }).waitFor();
    await page.getByRole("button", { name: "Sign out" }).click();
    await page.getByRole("heading", { name: "Sign in", exact: true }).waitFor();
    const answer = await fetch(`${running.url}/api/v1/systems`, {
      headers: { cookie: `${cookie.name}=${cookie.value}` },
    });
    expect(answer.status).toBe(401);
    await page.goto(`${running.url}/systems`);
    await page.waitForURL(/\/sign-in\?to=%2Fsystems/);
  });

  it("does not lead to another site afterwards", async () => {
    for (const to of ["https://evil.example", "//evil.example", "/\\evil.example"]) {
      const { page } = await visit(`/sign-in?to=${encodeURIComponent(to)}`);
      await enter(page, "viewer", TEST_PASSWORD);
      await page.waitForURL((url) => !url.pathname.startsWith("/sign-in"));
      expect(page.url().startsWith(running.url)).toBe(true);
    }
  });

  it("sends the headers that keep others out, and a script's nonce is new each time", async () => {
    const policies = [];
    for (const _ of [1, 2]) {
      const { headers } = await fetch(`${running.url}/sign-in`);
      policies.push(headers.get("content-security-policy") ?? "");
      expect(headers.get("x-content-type-options")).toBe("nosniff");
      expect(headers.get("strict-transport-security")).toBe("max-age=31536000");
      expect(headers.get("referrer-policy")).toBe("same-origin");
    }
    expect(policies[0]).toMatch(/script-src 'self' 'nonce-[A-Za-z0-9+/=]{20,}' 'strict-dynamic'/);
    for (const part of ["object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'"])
      expect(policies[0]).toContain(part);
    expect(policies[0]).not.toMatch(/script-src[^;]*unsafe/);
    expect(policies[0]).not.toBe(policies[1]);
  });

  for (const [ground, width] of [
    ["light", 360],
    ["dark", 1440],
    ["night", 2560],
  ] as const) {
    it(`is accessible on the ${ground} ground at ${width} px, and fits`, async () => {
      const { page, context } = await visit("/sign-in", { viewport: { width, height: 800 } });
      await context.addInitScript((g) => localStorage.setItem("homewater-ground", g), ground);
      await page.reload();
      expect(await axeFaults(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    });
  }
});
