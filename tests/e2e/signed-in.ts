/** A running Homewater, a browser, and people who are signed in: what journeys by role have in common. */
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll } from "vitest";
import type { Role } from "#core/people/index.ts";
import type { Store } from "#store/port.ts";
import { makePeople, signInOver } from "../helpers/sign-in.ts";
import { type Running, startBrowser, startHomewater } from "./harness.ts";
import { seedSite } from "./seed.ts";

/** The dashboard may have to be built first, on a busy machine. */
const START_MS = 900_000;

export const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };

export interface Visit {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Errors and warnings the page said on its console. */
  readonly complaints: string[];
  /** HTTP status of the answer. */
  readonly status: number | undefined;
}

/** A list that grows by every error and warning the page says on its console or throws. */
export function complaintsOf(page: Page): string[] {
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  return complaints;
}

/** Keeps every script of the pages back, as a thin network does, until what is answered is called. */
export async function holdScripts(context: BrowserContext): Promise<() => void> {
  let release = () => {};
  const held = new Promise<void>((resolve) => {
    release = resolve;
  });
  await context.route(/\/_next\/static\/.*\.js/, async (route) => {
    await held;
    await route.continue();
  });
  return () => release();
}

export interface Journeys<R extends Role> {
  running(): Running;
  /** Opens a page of the dashboard as somebody of that role, in a context of its own that ends with the test. */
  visit(
    role: R,
    path: string,
    options?: Parameters<Browser["newContext"]>[0],
    ground?: string,
  ): Promise<Visit>;
}

/** Starts everything before the tests of a `describe` and ends it after them; `seed` adds to the site of seed.ts. */
export function journeysOf<R extends Role>(
  chromium: string,
  roles: readonly R[],
  seed: (store: Store, now: number) => Promise<void> = async () => {},
): Journeys<R> {
  let running: Running;
  let browser: Browser;
  const cookies = new Map<Role, Awaited<ReturnType<typeof signInOver>>>();
  const contexts: BrowserContext[] = [];

  beforeAll(async () => {
    running = await startHomewater(async (store) => {
      const now = Date.now();
      await seedSite(store, now);
      await makePeople(store, [...roles]);
      await seed(store, now);
    });
    browser = await startBrowser(chromium);
    for (const role of roles) cookies.set(role, await signInOver(running.url, role));
  }, START_MS);
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
  });
  afterAll(async () => {
    await browser?.close();
    await running?.stop();
  });

  return {
    running: () => running,
    async visit(role, path, options = {}, ground = "light") {
      const context = await browser.newContext({ locale: "en-GB", ...options });
      contexts.push(context);
      const cookie = cookies.get(role);
      if (cookie === undefined) throw new Error(`nobody is signed in as ${role}`);
      await context.addCookies([cookie]);
      await context.addInitScript((g) => localStorage.setItem("homewater-ground", g), ground);
      const page = await context.newPage();
      const complaints = complaintsOf(page);
      const answer = await page.goto(running.url + path);
      return { page, context, complaints, status: answer?.status() };
    },
  };
}
