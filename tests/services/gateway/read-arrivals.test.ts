import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { arrivalsView } from "#contract/arrivals.ts";
import { DAY, HOUR, MINUTE, SECOND } from "#core/time/instant.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { readArrivals } from "#services/gateway/read-arrivals.ts";
import { NOW, openWorld, system, type World } from "../world.ts";

let world: World;
beforeEach(async () => {
  world = await openWorld([system("reef"), system("kelp")]);
});
afterEach(() => world.dispose());

interface Sent {
  readonly at: number;
  readonly value: number;
  readonly sequence?: number;
  readonly history?: true;
}
/** One message a reading, received at `received`. */
async function send(received: number, readings: readonly Sent[], client = "gateway-1", point = "display") {
  const [site] = (await world.store.readSetUp()).sites;
  const acceptor = createAcceptor({ store: world.store, clock: () => received });
  for (const reading of readings)
    await acceptor.accept({
      topic: `homewater/${site?.code}/reef/${point}/temperature`,
      payload: Buffer.from(JSON.stringify(reading)),
      client,
      dup: false,
      retain: false,
      qos: 1,
    });
}
const arrivals = async (query: Parameters<typeof readArrivals>[1] = {}) =>
  arrivalsView.parse(await readArrivals({ ...world.read, clock: () => NOW }, query));

describe("numbers that are missing", () => {
  test("are named, and gone once they have come late", async () => {
    await world.stream("reef", "display", "temperature");
    const all = Array.from({ length: 10 }, (_, n) => ({
      at: NOW - HOUR + n * MINUTE,
      value: 25,
      sequence: 40 + n,
    }));
    await send(
      NOW - 30 * MINUTE,
      all.filter((_, n) => n < 3 || n > 5),
    );
    const [source] = (await arrivals()).sources;
    expect(source?.sequence).toMatchObject({ counts: "each stream", numbered: 7, missing: 3 });
    expect(source?.sequence?.gaps).toMatchObject([{ after: 42, before: 46, missing: 3 }]);
    expect((await arrivals()).streams.find((one) => one.system === "reef")?.missingNumbers).toBe(3);
    await send(NOW - MINUTE, all.slice(3, 6));
    expect((await arrivals()).sources[0]?.sequence).toMatchObject({ missing: 0, gaps: [] });
  });
});

describe("completeness", () => {
  test("is the share of the readings that the stream's interval lets expect, in any span", async () => {
    await world.stream("reef", "display", "temperature");
    const setUp = await world.store.readSetUp();
    await world.store.writeSetUp(
      { streams: setUp.streams.map((one) => ({ ...one, interval: MINUTE })) },
      [],
      NOW - DAY,
    );
    await send(
      NOW - 5 * MINUTE,
      Array.from({ length: 45 }, (_, n) => ({ at: NOW - HOUR + n * MINUTE, value: 25 })),
    );
    const hour = await arrivals({ from: NOW - HOUR, system: "reef" });
    expect(hour.streams).toMatchObject([{ readings: 45, expected: 60, share: 0.75, point: "display" }]);
    expect((await arrivals({ from: NOW - HOUR, to: NOW - 30 * MINUTE })).streams[0]).toMatchObject({
      share: 1,
    });
    await expect(arrivals({ from: NOW - 500 * DAY })).rejects.toMatchObject({ code: "invalid" });
    await expect(arrivals({ system: "nowhere" })).rejects.toMatchObject({ code: "not_found" });
  });
});

describe("clocks", () => {
  test("are measured for each sender from what waited least, and not from what came late", async () => {
    await world.stream("reef", "display", "temperature");
    await world.stream("reef", "sump", "temperature");
    // Half a day was kept through an outage and came in one go, before the last two hours came as usual.
    const kept = Array.from({ length: 48 }, (_, n) => ({ at: NOW - 14 * HOUR + n * 15 * MINUTE, value: 25 }));
    await send(NOW - 2 * HOUR, kept);
    for (let n = 0; n < 8; n += 1) {
      const received = NOW - (8 - n) * 15 * MINUTE;
      await send(received, [{ at: received - 200, value: 25 }]);
      await send(received, [{ at: received + 90 * SECOND, value: 25 }], "gateway-2", "sump");
    }
    const { sources } = await arrivals();
    expect(sources.map((one) => one.source)).toEqual(["gateway-1", "gateway-2"]);
    expect(sources[0]).toMatchObject({ clock: "good" });
    expect(sources[0]?.skew).toBeGreaterThanOrEqual(200);
    expect(sources[0]?.skew).toBeLessThan(SECOND);
    expect(sources[0]?.longestDelay).toBeGreaterThan(11 * HOUR);
    expect(sources[1]).toMatchObject({ clock: "M" });
    expect(sources[1]?.skew).toBeLessThan(-85 * SECOND);
  });

  test("that have jumped are named, and what they sent is kept", async () => {
    await world.stream("reef", "display", "temperature");
    await world.stream("reef", "sump", "temperature");
    await send(NOW - 2 * MINUTE, [{ at: 86_400_000, value: 25 }], "gateway-1", "sump");
    await send(NOW - MINUTE, [
      { at: 86_400_000, value: 25 },
      { at: NOW + HOUR, value: 25 },
    ]);
    const view = await arrivals();
    expect(view.suspects.map((one) => one.from)).toEqual([86_400_000, NOW + HOUR]);
    expect(view.sources).toMatchObject([{ clock: "F", readings: 1 }]);
    expect((await world.store.status()).counts.readings).toBe(3);
  });

  test("are no surprise in what was recorded long ago", async () => {
    await world.stream("reef", "display", "temperature");
    await send(NOW - MINUTE, [{ at: NOW - 300 * DAY, value: 25, history: true }]);
    expect((await arrivals()).suspects).toEqual([]);
    expect((await world.store.status()).counts.readings).toBe(1);
  });
});
