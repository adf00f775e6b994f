/** The bench in a real browser over the real processes: with wet hands, without a network, by keyboard alone. */
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, it } from "vitest";
import type { LastBenchView } from "#contract/bench-forms.ts";
import { makePeople, signInOver } from "../helpers/sign-in.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { axeFaults, WCAG } from "./axe-faults.ts";
import { seedBench } from "./bench-seed.ts";
import { type Running, startBrowser, startHomewater } from "./harness.ts";
import { complaintsOf } from "./signed-in.ts";

const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };
const GROUNDS = ["light", "dark", "night"];
const FORM = "/bench/kelp-gallery";

interface KeptDraft {
  readonly by: string;
  readonly system: string;
  readonly typed: { readonly orp?: { readonly text: string } };
}
/** In the page, with nothing but the browser's own interface: the draft that lies in the database of version 1. */
function keptDraft(): Promise<KeptDraft> {
  return new Promise((resolve, reject) => {
    const opened = indexedDB.open("homewater-bench", 1);
    opened.onerror = () => reject(opened.error);
    opened.onsuccess = () => {
      const asked = opened.result.transaction("drafts").objectStore("drafts").getAll();
      asked.onsuccess = () => {
        opened.result.close();
        resolve(asked.result[0]);
      };
    };
  });
}
/** In the page: the database made anew, as devices have had it from the first version on, with one draft. */
async function keepAsBefore(draft: KeptDraft): Promise<void> {
  await new Promise<void>((resolve, reject) => {
    const gone = indexedDB.deleteDatabase("homewater-bench");
    gone.onsuccess = () => resolve();
    gone.onerror = () => reject(gone.error);
  });
  await new Promise<void>((resolve, reject) => {
    const opened = indexedDB.open("homewater-bench", 1);
    opened.onupgradeneeded = () => {
      opened.result.createObjectStore("drafts");
      opened.result.createObjectStore("waiting", { keyPath: "clientId" });
    };
    opened.onerror = () => reject(opened.error);
    opened.onsuccess = () => {
      const writing = opened.result.transaction("drafts", "readwrite");
      writing.objectStore("drafts").put(draft, `${draft.by}\n${draft.system}`);
      writing.oncomplete = () => {
        opened.result.close();
        resolve();
      };
    };
  });
}

describeWith("chromium", "the bench", (chromium) => {
  let running: Running;
  let browser: Browser;
  const contexts: BrowserContext[] = [];

  beforeAll(async () => {
    running = await startHomewater(async (store) => {
      await seedBench(store, Date.now());
      await makePeople(store, ["viewer", "aquarist", "technician"]);
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

  async function open({
    ground,
    as = "aquarist",
    ...options
  }: Parameters<Browser["newContext"]>[0] & { ground?: string; as?: string } = {}) {
    const context = await browser.newContext({ locale: "en-GB", timezoneId: "Pacific/Auckland", ...options });
    contexts.push(context);
    await context.addCookies([await signInOver(running.url, as)]);
    if (ground !== undefined)
      await context.addInitScript((g) => localStorage.setItem("homewater-ground", g), ground);
    return context;
  }
  /** A page that has woken, and everything its console complained about. */
  async function visit(context: BrowserContext, path: string) {
    const page = await context.newPage();
    const complaints = complaintsOf(page);
    await page.goto(running.url + path);
    // Marked once the device's own store has answered.
    if (path === FORM) await page.waitForSelector('[data-woken="true"]');
    return { page, complaints };
  }
  const field = (page: Page, name: string) => page.getByLabel(name, { exact: true });
  const KEYS: Readonly<Record<string, string>> = { ".": "point", "<": "less than", ">": "more than" };
  async function tap(page: Page, keys: string): Promise<void> {
    for (const key of keys) await page.getByRole("button", { name: KEYS[key] ?? key, exact: true }).tap();
  }
  const next = (page: Page) => page.getByRole("button", { name: "next", exact: true }).tap();
  const saveButton = (page: Page) => page.getByRole("button", { name: /^Save / });
  /** What the server has, asked by the same person. */
  async function lastOf(page: Page, quantity: string) {
    const answer = await page.request.get(`${running.url}/api/v1/systems/kelp-gallery/bench?limit=20`);
    const view = (await answer.json()) as LastBenchView;
    return view.quantities.filter((row) => row.quantity === quantity).flatMap((row) => row.last);
  }

  it("takes six results from wet hands on a phone and stores them once, however often save is tapped", async () => {
    const { page, complaints } = await visit(await open(PHONE), "/bench");
    await page.getByRole("searchbox").fill("kelp");
    await page.getByRole("link", { name: /Kelp Gallery/ }).tap();
    await page.waitForSelector('[data-woken="true"]');
    expect(await field(page, "pH").getAttribute("inputmode")).toBe("none");
    const sent: string[] = [];
    page.on("request", (request) => {
      if (request.method() === "POST") sent.push(request.url());
    });
    await field(page, "Temperature").tap();
    await tap(page, "15.5");
    await next(page);
    await tap(page, "33.4");
    await next(page);
    await tap(page, "8.05");
    await next(page);
    await field(page, "Total ammonia nitrogen").tap();
    await tap(page, "0.06");
    // At once, from this form's own water; what the equation gives is held in tests/published.
    const here = page.locator("[data-ammonia]");
    await expect.poll(() => here.textContent()).toMatch(/Un-ionised ammonia .*in band/);
    expect(await here.textContent()).toContain("pH 8.05 (this test)");
    const computed = Number(await here.getAttribute("data-ammonia"));
    await next(page);
    await tap(page, "<0.02");
    await next(page);
    await tap(page, "6.4");
    await next(page);
    await saveButton(page).dblclick();
    await page.waitForSelector('[data-saved="stored"]');
    expect(await page.locator("[data-saved] h2").textContent()).toBe("Stored: 6 results");
    expect(sent.filter((url) => url.endsWith("/bench-tests"))).toHaveLength(1);
    expect(
      Number(await page.locator("[data-saved] [data-ammonia]").getAttribute("data-ammonia")),
    ).toBeCloseTo(computed, 12);
    expect(await lastOf(page, "nitrite")).toMatchObject([
      { typed: "0.02", qualifier: "<", analyst: "Test aquarist" },
      { typed: "0.03" },
      { typed: "0.02" },
      { typed: "0.02" },
    ]);
    expect(complaints).toEqual([]);
  });

  it("keeps a test without a network, over a reload, and stores it once with the time of the sample", async () => {
    const context = await open(PHONE);
    const { page } = await visit(context, FORM);
    await field(page, "Alkalinity").tap();
    await tap(page, "2.4");
    await page.reload();
    await page.waitForSelector('[data-woken="true"]');
    await expect.poll(() => field(page, "Alkalinity").inputValue()).toBe("2.4");
    expect(await page.getByText("Restored from this device").count()).toBe(1);
    await context.setOffline(true);
    await field(page, "Alkalinity").tap();
    await tap(page, "4");
    expect(await field(page, "Alkalinity").inputValue()).toBe("2.44");
    const typed = Date.now();
    await saveButton(page).tap();
    await page.waitForSelector('[data-saved="here"]');
    expect(await page.locator("[data-queue]").textContent()).toContain(
      "1 test saved on this device, not yet sent",
    );
    await page.waitForTimeout(1_500);
    await context.setOffline(false);
    await page.waitForSelector('[data-saved="stored"]', { timeout: 30_000 });
    const [newest, before] = await lastOf(page, "alkalinity");
    expect(newest).toMatchObject({ typed: "2.44" });
    expect(before).toMatchObject({ typed: "2.40" });
    expect(newest?.sampledAt).toBeLessThan(typed);
    expect(await page.locator('[data-queue="0"]').count()).toBe(1);
  });

  it("reads what a device kept before: the same database, version, stores and keys", async () => {
    const { page } = await visit(await open(PHONE), FORM);
    await field(page, "ORP").tap();
    await tap(page, "33");
    await expect.poll(() => page.evaluate(keptDraft)).toMatchObject({ typed: { orp: { text: "33" } } });
    const draft = await page.evaluate(keptDraft);
    // A page of the same origin without a script of ours, so that nothing holds the database open.
    await page.goto(`${running.url}/api/v1/health`);
    await page.evaluate(keepAsBefore, { ...draft, typed: { orp: { ...draft.typed.orp, text: "334" } } });
    await page.goto(running.url + FORM);
    await page.waitForSelector('[data-woken="true"]');
    await expect.poll(() => field(page, "ORP").inputValue()).toBe("334");
  });

  it("keeps what is typed when the server is gone, and sends it when it is back", async () => {
    const { page } = await visit(await open(PHONE), FORM);
    await field(page, "ORP").tap();
    await tap(page, "331");
    await running.stopDashboard();
    await saveButton(page).tap();
    await page.waitForSelector('[data-saved="here"]', { timeout: 30_000 });
    await running.startDashboard();
    // The device may be quicker than the finger.
    const stored = () => page.waitForSelector('[data-saved="stored"]', { timeout: 60_000 });
    const pressed = page.getByRole("button", { name: "Send now" }).tap().then(stored);
    await Promise.any([stored(), pressed]);
    await expect.poll(() => lastOf(page, "orp")).toHaveLength(1);
  });

  it("asks at the field, takes three answers, and lists what is to be tested again", async () => {
    const { page } = await visit(await open(PHONE), FORM);
    await field(page, "Nitrate").tap();
    await tap(page, "28.1");
    await next(page);
    const asked = page.locator('[data-asked="far_from_last"]');
    await expect.poll(() => asked.count()).toBe(1);
    expect(await asked.textContent()).toContain("If that was mg/L as NO₃, it is 6.3");
    await asked.getByRole("button", { name: /no, change it/ }).tap();
    await tap(page, "29.2");
    expect(await field(page, "Nitrate").inputValue()).toBe("29.2");
    await next(page);
    await asked.getByRole("button", { name: /not sure, test again/ }).tap();
    await expect.poll(() => asked.count()).toBe(0);
    await saveButton(page).tap();
    await page.waitForSelector('[data-saved="stored"]');
    const [newest] = await lastOf(page, "nitrate");
    expect(newest).toMatchObject({ answer: "again", reason: null });
    await page.reload();
    await expect.poll(() => page.locator("[data-again]").textContent()).toContain("29.2 mg/L as N");
    await page.getByRole("button", { name: "9", exact: true }).waitFor();

    // The third way out: no answer. It is said, and saved so with a second press.
    await field(page, "pH").tap();
    await tap(page, "9");
    await saveButton(page).tap();
    await expect.poll(() => page.locator("[data-asked]").count()).toBe(1);
    expect(await page.locator("[data-saved]").count()).toBe(0);
    await page.waitForTimeout(800);
    await saveButton(page).tap();
    await page.waitForSelector('[data-saved="stored"]');
    const [ph] = await lastOf(page, "ph");
    expect(ph).toMatchObject({ answer: "unanswered", reason: null });
  });

  it("refuses at the field what cannot be measured or read, and says what to do", async () => {
    const { page } = await visit(await open(), FORM);
    await field(page, "pH").fill("81");
    await page.keyboard.press("Enter");
    const says = page.locator('[data-quantity="ph"] [role="status"]');
    await expect.poll(() => says.textContent()).toContain("outside what can be measured");
    await field(page, "Alkalinity").fill("2,4");
    await page.keyboard.press("Enter");
    await expect
      .poll(() => page.locator('[data-quantity="alkalinity"] [role="status"]').textContent())
      .toContain("use a point: 2.4");
    await saveButton(page).click();
    await expect
      .poll(() => page.locator('form [role="alert"]').last().textContent())
      .toContain("pH, Alkalinity cannot be read");
    expect(await page.evaluate(() => document.activeElement?.getAttribute("aria-invalid"))).toBe("true");
    expect(await page.locator("[data-saved]").count()).toBe(0);
  });

  it("corrects one result and voids another; what they were stays in sight", async () => {
    const { page } = await visit(await open(), FORM);
    await field(page, "Salinity").fill("33.1");
    await field(page, "Temperature").fill("15.4");
    await saveButton(page).click();
    await page.waitForSelector('[data-saved="stored"]');
    await page.getByRole("button", { name: "correct Salinity" }).click();
    await page.getByLabel("Salinity, correct value").fill("33.7");
    await page.getByRole("button", { name: "Save the correction" }).click();
    const row = page.locator('[data-saved] [data-quantity="salinity"]');
    await expect.poll(() => row.locator("del").textContent()).toBe("33.1");
    expect(await row.textContent()).toContain("33.7");
    expect(await row.textContent()).toContain("typing error");
    await page.getByRole("button", { name: "entered by mistake Temperature" }).click();
    await page.getByRole("button", { name: "Mark as a mistake" }).click();
    await expect.poll(() => page.locator('[data-saved] [data-quantity="temperature"] del').count()).toBe(1);
    expect((await lastOf(page, "salinity"))[0]).toMatchObject({ typed: "33.7", reason: "typing error" });
    expect((await lastOf(page, "temperature")).map((one) => one.typed)).not.toContain("15.4");
  });

  it("is filled, saved and begun again by keyboard alone on a desk", async () => {
    const { page, complaints } = await visit(await open({ viewport: { width: 1280, height: 800 } }), FORM);
    expect(await field(page, "pH").getAttribute("inputmode")).toBe("decimal");
    expect(await page.getByRole("group", { name: "Number pad" }).count()).toBe(0);
    await field(page, "Temperature").focus();
    await page.keyboard.type("15.6");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Shift+Enter");
    await page.keyboard.type("33.5");
    expect(await field(page, "Salinity").inputValue()).toBe("33.5");
    // Enter walks down to the button, and once more saves.
    for (let i = 0; i < 20; i += 1) {
      const name = await page.evaluate(() => document.activeElement?.tagName);
      await page.keyboard.press("Enter");
      if (name === "BUTTON") break;
    }
    await page.waitForSelector('[data-saved="stored"]');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Stored: 2 results");
    for (let i = 0; i < 12; i += 1) {
      await page.keyboard.press("Tab");
      if ((await page.evaluate(() => document.activeElement?.textContent)) === "Another test here") break;
    }
    await page.keyboard.press("Enter");
    await expect.poll(() => field(page, "Temperature").inputValue()).toBe("");
    expect(complaints).toEqual([]);
  });

  it("takes another time and point, in the clock of the site and not of the device", async () => {
    const { page } = await visit(await open(), FORM);
    await page.getByRole("button", { name: /^change where and when/ }).click();
    await page.getByLabel("Sampled at point").selectOption("sump");
    const yesterday = new Date(Date.now() - 86_400_000);
    const day = new Intl.DateTimeFormat("sv-SE", { timeZone: "Europe/London" }).format(yesterday);
    await page.getByLabel(/^Sampled at, site time/).fill(`${day}T12:34`);
    await page.getByRole("combobox", { name: "Add another quantity" }).selectOption("turbidity");
    await page.getByRole("button", { name: "add", exact: true }).click();
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.closest("li")?.dataset.quantity))
      .toBe("turbidity");
    await page.keyboard.type("0.31");
    await saveButton(page).click();
    await page.waitForSelector('[data-saved="stored"]');
    expect(await page.locator("[data-saved]").textContent()).toContain("sump, sampled");
    const [found] = await lastOf(page, "turbidity");
    const shown = new Intl.DateTimeFormat("sv-SE", {
      timeZone: "Europe/London",
      dateStyle: "short",
      timeStyle: "short",
    });
    expect(shown.format(found?.sampledAt)).toBe(`${day} 12:34`);
  });

  it("shows nothing of the form to somebody who may only read, and says why", async () => {
    const { page } = await visit(await open({ as: "viewer" }), "/bench/jelly-ring");
    expect(await page.locator("main").textContent()).toContain("not record bench tests");
    expect(await page.locator("form").count()).toBe(0);
  });

  it("keeps what was saved after the session ran out for the one who typed it, and for nobody else", async () => {
    const context = await open(PHONE);
    const { page } = await visit(context, FORM);
    await field(page, "Dissolved oxygen").tap();
    await tap(page, "8.12");
    await context.clearCookies();
    await saveButton(page).tap();
    await page.waitForSelector('[data-saved="here"]');
    expect(await page.locator("[data-queue]").textContent()).toContain("sign in again to send");

    await context.addCookies([await signInOver(running.url, "technician")]);
    await page.goto(running.url + FORM);
    await page.waitForSelector('[data-woken="true"]');
    expect(await field(page, "Dissolved oxygen").inputValue()).toBe("");
    await expect.poll(() => page.getByText("1 test by somebody else").count()).toBe(1);
    expect(await lastOf(page, "dissolved_oxygen")).toEqual([]);

    await context.clearCookies();
    await context.addCookies([await signInOver(running.url, "aquarist")]);
    await page.goto(`${running.url}/bench`);
    await expect
      .poll(() => lastOf(page, "dissolved_oxygen"))
      .toMatchObject([{ typed: "8.12", analyst: "Test aquarist" }]);
  });

  for (const ground of GROUNDS) {
    it(`has no barrier that axe can find on the ${ground} ground (WCAG 2.2 AA)`, async () => {
      const context = await open({ ...PHONE, ground, reducedMotion: "reduce" });
      const check = (page: Page) => axeFaults(page, WCAG);
      const { page: choose } = await visit(context, "/bench");
      expect(await check(choose)).toEqual([]);
      const { page } = await visit(context, FORM);
      expect(await check(page)).toEqual([]);
      await field(page, "Total ammonia nitrogen").tap();
      await tap(page, "0.9");
      // After a pause the question is there, and nothing moves any more.
      await page.waitForSelector("[data-asked]");
      await page.locator("[data-ammonia] summary").click();
      await page.waitForSelector("[data-ammonia] dl");
      expect(await check(page)).toEqual([]);
      await next(page);
      await field(page, "Alkalinity").tap();
      await tap(page, "999");
      await next(page);
      expect(await check(page)).toEqual([]);
    });
  }

  it("reflows at 320 px and gives gloves 56 px keys and 44 px everywhere else", async () => {
    const { page } = await visit(await open({ ...PHONE, viewport: { width: 320, height: 640 } }), FORM);
    await field(page, "Nitrate").tap();
    await tap(page, "28.1");
    await next(page);
    const wide = await page.evaluate(() =>
      document.documentElement.scrollWidth <= 320
        ? []
        : [...document.querySelectorAll("body *:not(header *)")]
            .filter((one) => one.getBoundingClientRect().right > 320.5)
            .map((one) => `${one.tagName} ${one.className} ${one.textContent?.slice(0, 30)}`),
    );
    expect(wide).toEqual([]);
    const heights = (selector: string) =>
      page
        .locator(selector)
        .evaluateAll((all) =>
          all.map((one) => ({ text: one.textContent, height: one.getBoundingClientRect().height })),
        );
    const small = (rows: { text: string | null; height: number }[], least: number) =>
      rows.filter(({ height }) => height < least - 0.5);
    expect(small(await heights("[data-key]"), 56)).toEqual([]);
    expect(small(await heights("main button:visible, main select:visible, main input:visible"), 44)).toEqual(
      [],
    );
  });

  it("needs at most 150 kB of script, compressed, for the form", async () => {
    const context = await open();
    const page = await context.newPage();
    const sizes: Promise<number>[] = [];
    page.on("requestfinished", (request) => {
      if (request.resourceType() === "script") sizes.push(request.sizes().then((s) => s.responseBodySize));
    });
    await page.goto(running.url + FORM, { waitUntil: "load" });
    await page.waitForSelector('[data-woken="true"]');
    const total = (await Promise.all(sizes)).reduce((a, b) => a + b, 0);
    // Less than that and nothing was measured.
    expect(total).toBeGreaterThan(50_000);
    expect(total).toBeLessThanOrEqual(150 * 1024);
  });
});
