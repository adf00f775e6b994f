import { expect, it } from "vitest";
import type { Rejected, Unclaimed } from "#store/port.ts";
import { eachWith, type OpenSubject, T, withParts } from "./subject.ts";

const rejection = (topic: string, reason: string, text = "{"): Rejected => ({
  topic,
  reason,
  sample: Buffer.from(text),
  bytes: text.length,
  source: "gateway-1",
});

export function describeRefused(open: OpenSubject): void {
  const subject = eachWith(open);
  const refuse = (rejected: readonly Rejected[], unclaimed: readonly Unclaimed[], now: number) =>
    subject().store.append({ now, readings: [], rejected, unclaimed });

  it("counts rejected messages by topic and reason with the newest sample", async () => {
    const { store } = subject();
    const outcome = await refuse([rejection("a/b", "not JSON"), rejection("a/b", "not JSON", "{{")], [], T);
    expect(outcome).toEqual({ seq: null, received: T, fates: [] });
    await refuse([rejection("a/b", "not JSON", "{{{"), rejection("a/b", "no value")], [], T + 5);
    const rows = await store.readRejected(10);
    const plain = rows.map((row) => ({ ...row, sample: Buffer.from(row.sample).toString() }));
    expect(plain).toEqual([
      { ...rejection("a/b", "no value"), sample: "{", count: 1, firstSeen: T + 5, lastSeen: T + 5 },
      { ...rejection("a/b", "not JSON"), sample: "{{{", bytes: 3, count: 3, firstSeen: T, lastSeen: T + 5 },
    ]);
    expect((await store.status()).counts.rejected).toBe(4);
    expect(await store.readRejected(1)).toHaveLength(1);
  });

  it("stores readings and rejections of a batch in one commit", async () => {
    const { store, reading } = await withParts(subject().store);
    const bad = { ...rejection("a/b", "not JSON"), bytes: Number.NaN };
    await expect(
      store.append({ now: T, readings: [reading(T, 1)], rejected: [bad], unclaimed: [] }),
    ).rejects.toMatchObject({ name: "StoreError" });
    expect(await store.journalAfter(0, 10)).toEqual([]);
    expect((await store.status()).counts).toMatchObject({ readings: 0, rejected: 0 });
  });

  it("cuts what a stranger sent to a bounded sample and topic", async () => {
    const { store } = subject();
    await refuse([rejection("t".repeat(60_000), "r".repeat(60_000), "x".repeat(4_000))], [], T);
    const [row] = await store.readRejected(10);
    expect(row?.sample.length).toBe(512);
    expect(row?.bytes).toBe(4_000);
    expect((row?.topic.length ?? 0) + (row?.reason.length ?? 0)).toBeLessThanOrEqual(1_500);
  });

  it("tells ten thousand kinds of rejection apart and counts the rest together", async () => {
    const { store } = subject();
    const flood = Array.from({ length: 10_050 }, (_, n) => rejection(`flood/${n}`, "not JSON"));
    await refuse(flood, [], T);
    await refuse(flood.slice(-30), [], T + 1);
    const rows = await store.readRejected(20_000);
    expect(rows).toHaveLength(10_001);
    expect(rows.find((row) => row.topic === "(others)")?.count).toBe(80);
    expect((await store.status()).counts.rejected).toBe(10_080);
  });

  it("keeps readings nobody has claimed, words and numbers, counted by topic", async () => {
    const { store } = subject();
    const message = (topic: string, at: number, value: number | string): Unclaimed => ({
      topic,
      readings: [{ at, value, unit: null }],
      source: 1,
    });
    await refuse([], [message("x/y", T, 4), message("x/y", T + 1, "running"), message("x/z", T, 1)], T);
    await refuse([], [message("x/y", T + 2, 4)], T + 7);
    expect(await store.readUnclaimed(10)).toEqual([
      { topic: "x/y", count: 3, firstSeen: T, lastSeen: T + 7 },
      { topic: "x/z", count: 1, firstSeen: T, lastSeen: T },
    ]);
    expect((await store.status()).counts.unclaimed).toBe(4);
  });

  it("tells ten thousand unclaimed topics apart and counts the rest together", async () => {
    const flood = Array.from({ length: 10_040 }, (_, n) => ({
      topic: `flood/${n}`,
      readings: [{ at: T, value: 1, unit: null }],
      source: 1,
    }));
    await refuse([], flood, T);
    const rows = await subject().store.readUnclaimed(20_000);
    expect(rows).toHaveLength(10_001);
    expect(rows.find((row) => row.topic === "(others)")?.count).toBe(40);
  });
}
