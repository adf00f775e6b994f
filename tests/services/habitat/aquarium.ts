/** Two systems with a thermometer each, invented species with profiles, and an evaluator: for tests of bands that follow residents. */

import type { WriteDeps } from "#services/deps.ts";
import { saveProfile } from "#services/habitat/profiles.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createSetUpReader } from "#services/set-up.ts";
import type { Store, Stream } from "#store/port.ts";
import { type TemporaryStore, temporaryStore } from "#tests/helpers/open-store.ts";
import { actorWith, system } from "../world.ts";

export const ADA = actorWith("curator", "Ada");
export const ZONE = "Europe/London";
const MINUTE = 60_000;

export interface Aquarium {
  readonly store: Store;
  readonly write: WriteDeps;
  now: number;
  readonly thermometer: Readonly<Record<"kelp" | "nursery", Stream>>;
  /** One reading every five minutes in [from, to), received at its own time. */
  readonly read: (where: "kelp" | "nursery", from: number, to: number, value: number) => Promise<void>;
  dispose(): Promise<void>;
}

export async function openAquarium(now: number): Promise<Aquarium> {
  const temporary: TemporaryStore = await temporaryStore();
  const { store } = temporary;
  const site = {
    id: "site-1",
    code: "harbour",
    name: "Harbour Hall",
    zone: ZONE,
    latitude: 51.5,
    longitude: 0,
    elevation: 5,
  };
  const systems = [system("kelp", { startingBands: null }), system("nursery", { startingBands: null })];
  const points = systems.map(({ id, code }) => ({
    id: `p-${code}`,
    system: id,
    code: "display",
    role: "exhibit" as const,
    roleGuessed: false,
    twinOf: null,
  }));
  await store.writeSetUp({ sites: [site], systems, points }, [], 0);
  const settings = { interval: 5 * MINUTE, critical: true };
  const thermometer = {
    kelp: await store.ensureStream("p-kelp", "temperature", "probe", settings),
    nursery: await store.ensureStream("p-nursery", "temperature", "probe", settings),
  };
  const source = await store.ensureSource("gateway", "gateway");
  const clock = () => aquarium.now;
  const aquarium: Aquarium = {
    store,
    now,
    thermometer,
    write: { store, clock, setUp: createSetUpReader(store, clock), newId: uuidV7 },
    async read(where, from, to, middle) {
      for (let at = from; at < to; at += 5 * MINUTE) {
        // A probe in water moves in its last digit; one that does not is stuck, and no evidence.
        const value = middle + 0.01 * (((to - at) / (5 * MINUTE) - 1) % 3);
        await store.append({
          now: at,
          readings: [
            { stream: thermometer[where].id, at, value, source: source.id, sequence: null, mark: null },
          ],
          rejected: [],
          unclaimed: [],
        });
      }
    },
    dispose: () => temporary.dispose(),
  };
  return aquarium;
}

interface Row {
  /** Temperature where it is left out. */
  readonly quantity?: string;
  readonly stage: string;
  readonly low: number;
  readonly high: number;
  readonly month?: number;
}
/** An invented species with advised temperatures. */
export const knowSpecies = (aquarium: Aquarium, id: string, rows: readonly Row[]) =>
  saveProfile(aquarium.write, ADA, id, {
    species: { id, name: id.replace("-", " ") },
    entries: rows.map((row) => ({
      quantity: "temperature",
      ...row,
      means: "author's stated range",
      kind: "advice",
      source: `invented husbandry note on ${id}`,
      mark: "common practice, no source",
      confidence: "low",
    })),
    reason: "for the test",
  });
