import { randomUUID } from "node:crypto";
import { pino } from "pino";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Store, StoredReading } from "#store/port.ts";

/** A log that keeps its lines, to look at what an operator would be told. */
export function keptLog() {
  const lines: string[] = [];
  return { lines, log: pino({ level: "info" }, { write: (line: string) => void lines.push(line) }) };
}

const FOREVER = Number.MAX_SAFE_INTEGER;
export const SITE = "pennacombe";
export const SYSTEM = "kelp-gallery";
export const topicOf = (quantity: string, point = "display"): string =>
  `homewater/${SITE}/${SYSTEM}/${point}/${quantity}`;

/** One site with one system of two points, as a store holds it. */
export async function setUpKelpGallery(store: Store, now: Instant): Promise<void> {
  const [site, system] = [randomUUID(), randomUUID()];
  await store.writeSetUp(
    {
      sites: [
        {
          id: site,
          code: SITE,
          name: "Pennacombe",
          zone: "Europe/London",
          latitude: 50,
          longitude: -4,
          elevation: 10,
        },
      ],
      systems: [
        {
          id: system,
          site,
          code: SYSTEM,
          name: "Kelp gallery",
          kind: "temperate marine",
          water: "marine",
          volume: 120,
          duty: 60,
          opened: 0,
          closed: null,
          type: "exhibit",
          startingBands: null,
          youngFilter: false,
        },
      ],
      points: ["display", "pump-1"].map((code) => ({
        id: randomUUID(),
        system,
        code,
        role: guessedRole(code),
        roleGuessed: true,
        twinOf: null,
      })),
    },
    [],
    now,
  );
}

/** Every reading of a quantity at a point, in order of its time. */
export async function readingsAt(
  store: Store,
  quantity: string,
  point = "display",
): Promise<readonly StoredReading[]> {
  const { streams } = await store.readSetUp();
  const stream = streams.find((one) => one.quantity === quantity && one.pointCode === point);
  return stream === undefined ? [] : await store.readingsBetween([stream.id], 0, FOREVER, FOREVER);
}

/** A store whose commits fail, or take their time, while it is told so. */
export function troubledStore(
  store: Store,
): Store & { trouble: Error | null; delayMs: number; appends: number } {
  const troubled = {
    ...store,
    trouble: null as Error | null,
    delayMs: 0,
    appends: 0,
    async append(batch: Parameters<Store["append"]>[0]) {
      troubled.appends += 1;
      if (troubled.delayMs > 0) await new Promise((resolve) => setTimeout(resolve, troubled.delayMs));
      if (troubled.trouble !== null) throw troubled.trouble;
      return store.append(batch);
    },
  };
  return troubled;
}

export async function until(
  isSo: () => boolean | Promise<boolean>,
  what: string,
  withinMs = 30_000,
): Promise<void> {
  const end = performance.now() + withinMs;
  while (!(await isSo())) {
    if (performance.now() > end) throw new Error(`not within ${withinMs} ms: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}
