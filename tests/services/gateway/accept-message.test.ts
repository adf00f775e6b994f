import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { AppError } from "#services/errors.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import type { Message } from "#services/gateway/message.ts";
import { StoreError } from "#store/port.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { type TemporaryStore, temporaryStore } from "#tests/helpers/open-store.ts";
import { readingsAt, setUpKelpGallery, topicOf, troubledStore } from "#tests/ingest/accept-parts.ts";

const NOW = Date.parse("2026-03-01T05:31:00Z");
const AT = NOW - 60_000;
const TEMPERATURE = topicOf("temperature");

let opened: TemporaryStore;
beforeEach(async () => {
  opened = await temporaryStore();
  await setUpKelpGallery(opened.store, NOW - 1_000_000);
});
afterEach(() => opened.dispose());

const message = (topic: string, payload: string, more: Partial<Message> = {}): Message => ({
  topic,
  payload: Buffer.from(payload),
  client: "gateway-1",
  dup: false,
  retain: false,
  qos: 1,
  ...more,
});
const timed = (value: number | string, at = AT, more: object = {}) => JSON.stringify({ at, value, ...more });
const acceptorOn = (store = opened.store, clock = () => NOW) => createAcceptor({ store, clock });

describe("accepting one message", () => {
  it("is done only when it is stored", async () => {
    const receipt = await acceptorOn().accept(message(TEMPERATURE, timed(12.4)));
    expect(receipt).toMatchObject({
      outcome: "accepted",
      stored: 1,
      duplicates: 0,
      conflicts: 0,
      received: NOW,
    });
    expect(await readingsAt(opened.store, "temperature")).toMatchObject([
      { at: AT, value: 12.4, received: NOW, mark: null },
    ]);
  });

  it("stores the registry's unit and a state's index", async () => {
    const acceptor = acceptorOn();
    await acceptor.accept(message(TEMPERATURE, timed(50, AT, { unit: "[degF]" })));
    await acceptor.accept(message(topicOf("pump", "pump-1"), timed("tripped")));
    expect((await readingsAt(opened.store, "temperature"))[0]?.value).toBeCloseTo(10, 9);
    expect(await readingsAt(opened.store, "pump", "pump-1")).toMatchObject([{ value: 3 }]);
  });

  it("knows a repeat from a contradiction: the same value is counted, another one is kept beside the first", async () => {
    const acceptor = acceptorOn();
    await acceptor.accept(message(TEMPERATURE, timed(12.4)));
    expect(await acceptor.accept(message(TEMPERATURE, timed(12.4), { dup: true }))).toMatchObject({
      duplicates: 1,
      stored: 0,
    });
    expect(await acceptor.accept(message(TEMPERATURE, timed(12.9)))).toMatchObject({
      conflicts: 1,
      stored: 0,
    });
    expect(await readingsAt(opened.store, "temperature")).toMatchObject([
      { at: AT, value: 12.4, mark: "conflict" },
    ]);
    expect((await opened.store.status()).counts).toMatchObject({ readings: 1, duplicates: 1, conflicts: 1 });
  });

  it("takes the time of receipt where none was sent, and tells two in the same millisecond apart", async () => {
    const acceptor = acceptorOn();
    await Promise.all([
      acceptor.accept(message(TEMPERATURE, "12.4")),
      acceptor.accept(message(TEMPERATURE, "12.5")),
    ]);
    await acceptor.accept(message(TEMPERATURE, "[12.6, 12.7]", { dup: true }));
    expect(await readingsAt(opened.store, "temperature")).toMatchObject([
      { at: NOW, value: 12.4, mark: null },
      { at: NOW + 1, value: 12.5, mark: null },
      { at: NOW + 2, value: 12.6, mark: "possible_repeat" },
      { at: NOW + 3, value: 12.7, mark: "possible_repeat" },
    ]);
  });

  it("refuses a retained message without a time, and stores one with its time once", async () => {
    const acceptor = acceptorOn();
    const refused = await acceptor.accept(message(TEMPERATURE, "12.4", { retain: true }));
    expect(refused).toMatchObject({ outcome: "rejected", reason: expect.stringMatching(/^retained/) });
    for (const fate of [{ stored: 1 }, { duplicates: 1 }])
      expect(await acceptor.accept(message(TEMPERATURE, timed(12.4), { retain: true }))).toMatchObject(fate);
    expect(await readingsAt(opened.store, "temperature")).toMatchObject([{ at: AT, value: 12.4 }]);
  });

  it("keeps recorded data under a source of its own", async () => {
    const acceptor = acceptorOn();
    await acceptor.accept(message(TEMPERATURE, timed(12.4)));
    await acceptor.accept(message(TEMPERATURE, timed(11, AT - 1e9, { history: true })));
    const { sources } = await opened.store.readSetUp();
    const kinds = (await readingsAt(opened.store, "temperature")).map(
      ({ source }) => sources.find((one) => one.id === source)?.kind,
    );
    expect(kinds).toEqual(["history", "gateway"]);
  });

  it("keeps the readings of a place that is not set up, and uses it from the moment it is", async () => {
    const acceptor = acceptorOn();
    const topic = topicOf("temperature", "chamber");
    expect(await acceptor.accept(message(topic, timed(12.4)))).toMatchObject({
      outcome: "unclaimed",
      unclaimed: 1,
      stored: 0,
    });
    expect(await opened.store.readUnclaimed(10)).toMatchObject([{ topic, count: 1 }]);
    const { systems, streams } = await opened.store.readSetUp();
    expect(streams).toEqual([]);
    const point = {
      id: "p-chamber",
      system: systems[0]?.id ?? "",
      code: "chamber",
      role: "contact-chamber" as const,
      roleGuessed: false,
      twinOf: null,
    };
    await opened.store.writeSetUp({ points: [point] }, [], NOW);
    // Reading the set-up is rationed to a small share of the time, so the change may take a few dozen milliseconds to be seen.
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(await acceptor.accept(message(topic, timed(12.5, AT + 1)))).toMatchObject({
      outcome: "accepted",
      stored: 1,
    });
  });

  it("uses the stream that is set up, be it a probe's or a machine's", async () => {
    const { points } = await opened.store.readSetUp();
    const pump = points.find((one) => one.code === "pump-1")?.id ?? "";
    const acceptor = acceptorOn();
    await acceptor.accept(message(TEMPERATURE, timed(12.4)));
    const stream = await opened.store.ensureStream(pump, "pump", "equipment", { critical: true });
    await acceptor.accept(message(topicOf("pump", "pump-1"), timed("running")));
    expect(await readingsAt(opened.store, "pump", "pump-1")).toMatchObject([{ stream: stream.id, value: 0 }]);
    expect((await opened.store.readSetUp()).streams.map((one) => one.quantity).sort()).toEqual([
      "pump",
      "temperature",
    ]);
  });

  it("files a bad message with its first bytes, its size, its sender and the reason", async () => {
    const payload = `{"at":${AT},"value":"abc","${"x".repeat(2_000)}":1}`;
    const receipt = await acceptorOn().accept(message(TEMPERATURE, payload));
    expect(receipt).toMatchObject({ outcome: "rejected", stored: 0 });
    const [row] = await opened.store.readRejected(10);
    expect(row).toMatchObject({ topic: TEMPERATURE, bytes: payload.length, source: "gateway-1", count: 1 });
    expect(Buffer.from(row?.sample ?? [])).toEqual(Buffer.from(payload.slice(0, 512)));
    expect(await readingsAt(opened.store, "temperature")).toEqual([]);
  });
});

describe("group commit", () => {
  it("stores what arrives together in one commit and counts every fate", async () => {
    const store = troubledStore(opened.store);
    const acceptor = acceptorOn(store);
    const values = Array.from({ length: 300 }, (_, index) => index);
    const receipts = await Promise.all([
      ...values.map((index) => acceptor.accept(message(TEMPERATURE, timed(index / 10, AT + index)))),
      acceptor.accept(message(TEMPERATURE, "null")),
      acceptor.accept(message(topicOf("ph", "nowhere"), timed(8.1))),
    ]);
    expect(store.appends).toBe(1);
    expect(receipts.filter((one) => one.outcome === "accepted" && one.stored === 1)).toHaveLength(300);
    expect(await readingsAt(opened.store, "temperature")).toHaveLength(300);
    expect(acceptor.counts()).toMatchObject({
      accepted: 300,
      stored: 300,
      rejected: 1,
      unclaimed: 1,
      waiting: 0,
      failedCommits: 0,
      trouble: null,
      lastCommitMs: expect.any(Number),
    });
  });

  it("collects what comes while a commit runs into the next one", async () => {
    const store = troubledStore(opened.store);
    const acceptor = acceptorOn(store);
    store.delayMs = 200;
    const first = acceptor.accept(message(TEMPERATURE, timed(1, AT)));
    await new Promise((resolve) => setTimeout(resolve, 100));
    const later = [1, 2, 3, 4].map((n) => acceptor.accept(message(TEMPERATURE, timed(n, AT + n))));
    expect(acceptor.counts().waiting).toBe(5);
    await Promise.all([first, ...later]);
    expect(store.appends).toBe(2);
  });

  it("says no to every message of a commit that failed, stores nothing of it, and goes on with the next", async () => {
    const store = troubledStore(opened.store);
    const acceptor = acceptorOn(store);
    store.trouble = new StoreError("full", "The disk is full: free some space.");
    const tried = await Promise.allSettled(
      [1, 2, 3].map((n) => acceptor.accept(message(TEMPERATURE, timed(n, AT + n)))),
    );
    expect(tried.map((one) => one.status)).toEqual(["rejected", "rejected", "rejected"]);
    expect(acceptor.counts()).toMatchObject({
      failedCommits: 1,
      trouble: "The disk is full: free some space.",
      stored: 0,
    });
    store.trouble = null;
    expect(await acceptor.accept(message(TEMPERATURE, timed(1, AT + 1)))).toMatchObject({ stored: 1 });
    expect(acceptor.counts().trouble).toBeNull();
    expect(await readingsAt(opened.store, "temperature")).toHaveLength(1);
  });

  it("does not let one message the store will not have hold up the others", async () => {
    const fussy = troubledStore(opened.store);
    const append = fussy.append;
    fussy.append = async (batch) => {
      if (batch.readings.some((reading) => reading.value === 13))
        throw new StoreError("invalid", "13 is not stored here.");
      return append(batch);
    };
    const acceptor = acceptorOn(fussy);
    const receipts = await Promise.all(
      [12, 13, 14].map((value) => acceptor.accept(message(TEMPERATURE, timed(value, AT + value)))),
    );
    expect(receipts.map((one) => one.outcome)).toEqual(["accepted", "rejected", "accepted"]);
    expect(receipts[1]?.reason).toContain("13 is not stored here");
    expect((await readingsAt(opened.store, "temperature")).map((one) => one.value)).toEqual([12, 14]);
  });

  it("turns messages away rather than fill the memory, and says when it is pressed", async () => {
    const store = troubledStore(opened.store);
    store.delayMs = 50;
    const limits = { waitingMessages: 10, waitingBytes: 1_000_000, readingsPerCommit: 4 };
    const acceptor = createAcceptor({ store, clock: () => NOW, limits });
    const tried = Array.from({ length: 30 }, (_, n) =>
      acceptor.accept(message(TEMPERATURE, timed(n, AT + n))),
    );
    expect(acceptor.isPressed()).toBe(true);
    const relieved = acceptor.relief().then(() => acceptor.isPressed());
    const settled = await Promise.allSettled(tried);
    expect(settled.filter((one) => one.status === "fulfilled")).toHaveLength(10);
    expect(await relieved).toBe(false);
    expect(await readingsAt(opened.store, "temperature")).toHaveLength(10);
  });
});

describe("two accepting processes on one store", () => {
  it("store each reading once between them, and neither meets a locked file", async () => {
    const other = await openSqlite({ file: opened.file, migrate: false });
    try {
      const acceptors = [acceptorOn(), acceptorOn(other)];
      const receipts = await Promise.all(
        Array.from({ length: 600 }, (_, n) => n).flatMap((n) =>
          acceptors.map((acceptor) => acceptor.accept(message(TEMPERATURE, timed(n, AT + n)))),
        ),
      );
      const total = (key: "stored" | "duplicates") => receipts.reduce((sum, one) => sum + one[key], 0);
      expect([total("stored"), total("duplicates")]).toEqual([600, 600]);
      expect(await readingsAt(opened.store, "temperature")).toHaveLength(600);
    } finally {
      await other.close();
    }
  });
});

describe("the API's readings", () => {
  const sent = {
    system: "kelp-gallery",
    point: "display",
    quantity: "temperature",
    at: "2026-03-01T05:30:00Z",
    value: 12.4,
  };
  const sender = { client: "token:lab", kind: "token" } as const;

  it("go the same way as messages", async () => {
    const acceptor = acceptorOn();
    const receipt = await acceptor.acceptReadings([sent, { ...sent, quantity: "ph", value: 8.1 }], sender);
    expect(receipt).toMatchObject({ outcome: "accepted", stored: 2 });
    expect(await acceptor.acceptReadings([sent], sender)).toMatchObject({ duplicates: 1 });
    expect(await readingsAt(opened.store, "temperature")).toMatchObject([{ at: AT, value: 12.4 }]);
  });

  it("are taken all or none, and every fault is named", async () => {
    const faults = await acceptorOn()
      .acceptReadings(
        [
          sent,
          { ...sent, system: "no-such-system" },
          { ...sent, quantity: "temprature" },
          { ...sent, value: "warm" },
          { ...sent, at: "2026-03-01T05:30:00" },
          { ...sent, unit: "mS/cm" },
          { ...sent, point: "a/b" },
        ],
        sender,
      )
      .then(
        () => [],
        (error: unknown) => (error instanceof AppError ? error.issues : []),
      );
    expect(faults.map((one) => one.field)).toEqual([
      "readings.1.system",
      "readings.2.quantity",
      "readings.3.value",
      "readings.4.at",
      "readings.5.unit",
      "readings.6.point",
    ]);
    expect(await readingsAt(opened.store, "temperature")).toEqual([]);
  });
});

describe("a loader with a clock of its own", () => {
  it("stores each group in one commit at the time it gives", async () => {
    const store = troubledStore(opened.store);
    const acceptor = acceptorOn(store);
    const day = Date.parse("2025-06-01T00:00:00Z");
    for (const now of [day, day + 10_000])
      await acceptor.acceptBatch(now, [
        message(TEMPERATURE, timed(12, now - 1_000)),
        message(topicOf("ph"), timed(8.1, now - 1_000)),
        message("homewater/pennacombe/status", "{}"),
      ]);
    expect(store.appends).toBe(2);
    expect((await readingsAt(opened.store, "temperature")).map(({ at, received }) => [at, received])).toEqual(
      [
        [day - 1_000, day],
        [day + 9_000, day + 10_000],
      ],
    );
  });
});
