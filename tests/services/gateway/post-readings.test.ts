import { afterEach, beforeEach, expect, test } from "vitest";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { postReadings } from "#services/gateway/post-readings.ts";
import { KEEPER, NOW, openWorld, READER, system, type World } from "../world.ts";

let world: World;
beforeEach(async () => {
  world = await openWorld([system("reef")]);
});
afterEach(() => world.dispose());

const reading = { system: "reef", point: "display", quantity: "temperature", at: NOW, value: 25 };
const post = (readings: unknown[], actor = KEEPER) =>
  postReadings(createAcceptor({ store: world.store, clock: () => world.now }), actor, { readings });
const count = async () => (await world.store.status()).counts.readings;

test("a reader may not send readings", async () => {
  await expect(post([reading], READER)).rejects.toMatchObject({ code: "forbidden" });
  expect(await count()).toBe(0);
});

test("one bad reading and none is taken, each fault named", async () => {
  const sent = [
    reading,
    { ...reading, value: "" },
    { ...reading, unit: "ppm" },
    { ...reading, system: "atlantis" },
    { ...reading, quantity: "temprature" },
  ];
  await expect(post(sent)).rejects.toMatchObject({
    code: "invalid",
    issues: [
      { field: "readings.1.value", says: "is empty text", remedy: expect.stringMatching(/^send a number/) },
      {
        field: "readings.2.unit",
        says: expect.stringMatching(/^text "ppm" does not convert exactly/),
        remedy: expect.stringMatching(/^send it in/),
      },
      { field: "readings.3.system" },
      { field: "readings.4.quantity", remedy: "did you mean temperature?" },
    ],
  });
  expect(await count()).toBe(0);
});

test("more than ten thousand readings are refused before any is looked at", async () => {
  await expect(post(Array.from({ length: 10_001 }, () => reading))).rejects.toMatchObject({
    code: "invalid",
    issues: [{ field: "readings", remedy: "give at most 10000" }],
  });
});

test("a point that is not set up keeps its readings and says so", async () => {
  expect(await post([{ ...reading, point: "attic" }])).toMatchObject({ outcome: "unclaimed", stored: 0 });
});
