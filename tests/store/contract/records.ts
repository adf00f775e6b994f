import { createHash } from "node:crypto";
import { expect, it } from "vitest";
import type { Store } from "#store/port.ts";
import { acknowledgement, alarm, audit, benchVoid, handover, logVersion } from "./samples.ts";
import { benchTest, correction, eachWith, evaluator, type OpenSubject, T, withParts } from "./subject.ts";

const sha256 = (text: string) => createHash("sha256").update(text).digest("hex");
const verbs = async (store: Store) => (await store.readAudit({ limit: 50 })).map((row) => row.verb);

export function describeRecords(open: OpenSubject): void {
  const subject = eachWith(open);

  it("stores an acknowledgement once a client id, with its journal and audit rows", async () => {
    const { store } = subject();
    const other = await subject().another();
    const kept = await Promise.all(
      [store, other, store].map((each) => each.acknowledge(acknowledgement(), T + 5, audit("acknowledge"))),
    );
    expect(kept.filter((one) => !one.repeated)).toHaveLength(1);
    const stored = { ...acknowledgement(), received: T + 5 };
    expect(kept.map((one) => one.stored)).toEqual([stored, stored, stored]);
    const entries = await store.journalAfter(0, 10);
    expect(entries).toMatchObject([{ kind: "acknowledge", ref: "acknowledgement-1", received: T + 5 }]);
    expect(await store.acknowledgementOf(entries)).toEqual([stored]);
    expect(await store.readAcknowledgement("client-1")).toEqual(stored);
    expect(await store.readAcknowledgement("client-2")).toBeNull();
    expect(await verbs(store)).toEqual(["acknowledge"]);
  });

  it("finds an alarm by its id", async () => {
    const { store, temperature } = await withParts(subject().store);
    const commit = await evaluator(store);
    await commit({ alarms: [alarm(temperature)] });
    expect(await store.readAlarm("alarm-1")).toEqual(alarm(temperature));
    expect(await store.readAlarm("alarm-2")).toBeNull();
  });

  it("leaves a voided result out from then on, and names its moment in the journal", async () => {
    const { store, bench } = await withParts(subject().store);
    await store.recordBench(benchTest(bench), T + 10, audit("record-bench"));
    const first = await store.voidBench(benchVoid("result-1"), T + 20, audit("void-bench"));
    expect(first).toEqual({ stored: { ...benchVoid("result-1"), received: T + 20 }, repeated: false });
    const known = async (upTo: number) => (await store.benchBetween([bench], 0, T * 2, upTo)).length;
    expect([await known(T + 19), await known(T + 20)]).toEqual([1, 0]);
    expect(await store.lastBench([bench], 3)).toEqual([]);
    const entries = await store.journalAfter(1, 10);
    expect(entries).toMatchObject([{ kind: "bench", ref: "test-1", received: T + 20 }]);
    expect(await store.benchOf(entries)).toMatchObject([{ id: "result-1", at: T + 1_000 }]);
    expect((await store.voidBench(benchVoid("result-1"), T + 30, audit("void-bench"))).repeated).toBe(true);
    const again = benchVoid("result-1", { id: "void-2", clientId: "other" });
    await expect(store.voidBench(again, T + 30, audit("void-bench"))).rejects.toMatchObject({
      code: "invalid",
    });
    const none = benchVoid("result-9");
    await expect(store.voidBench(none, T + 30, audit("void-bench"))).rejects.toMatchObject({
      code: "invalid",
    });
    expect(await verbs(store)).toEqual(["void-bench", "record-bench"]);
  });

  it("reads a test as stored by client id and by result, and the newest results in force", async () => {
    const { store, bench } = await withParts(subject().store);
    await store.recordBench(benchTest(bench), T + 10);
    await store.recordBench(correction(bench, "result-2", "result-1", 7.9), T + 20);
    const test = await store.readBenchTest({ clientId: "client-1" });
    const [sent] = benchTest(bench).results;
    expect(test).toEqual({
      ...benchTest(bench),
      received: T + 10,
      results: [{ ...sent, corrected: "result-2", voided: null }],
    });
    expect(await store.readBenchTest({ result: "result-1" })).toEqual(test);
    expect(await store.readBenchTest({ result: "result-9" })).toBeNull();
    expect((await store.lastBench([bench], 3)).map((row) => row.id)).toEqual(["result-2"]);
    const then = async (until: number) => (await store.lastBench([bench], 3, until)).length;
    expect([await then(T + 999), await then(T + 1_000)]).toEqual([0, 1]);
  });

  it("keeps every version of a log entry, the one in force last, systems in their order", async () => {
    const { store } = subject();
    await store.writeLog(logVersion(), T, audit("write-log"));
    const closing = logVersion({
      id: "log-2",
      clientId: "log-client-2",
      change: "close",
      supersedes: "log-1",
      until: T + 50,
      open: false,
    });
    expect(await store.writeLog(closing, T + 60, audit("close-log"))).toEqual({
      root: "log-1",
      received: T + 60,
      repeated: false,
    });
    expect(await store.writeLog(closing, T + 99, audit("close-log"))).toEqual({
      root: "log-1",
      received: T + 60,
      repeated: true,
    });
    const whole = {
      root: "log-1",
      versions: [
        { ...logVersion(), received: T },
        { ...closing, received: T + 60 },
      ],
    };
    expect(await store.readLogEntry("log-1")).toEqual(whole);
    expect(await store.readLog({ limit: 5 })).toEqual([whole]);
    expect(await store.readLogEntry("log-2")).toBeNull();
    const second = { ...closing, id: "log-3", clientId: "log-client-3" };
    await expect(store.writeLog(second, T, audit("close-log"))).rejects.toMatchObject({ code: "invalid" });
    const stray = { ...closing, id: "log-4", clientId: "log-client-4", supersedes: "log-9" };
    await expect(store.writeLog(stray, T, audit("close-log"))).rejects.toMatchObject({ code: "invalid" });
    expect((await store.journalAfter(0, 9)).map((row) => [row.kind, row.ref])).toEqual([
      ["log", "log-1"],
      ["log", "log-1"],
    ]);
    expect(await verbs(store)).toEqual(["close-log", "write-log"]);
  });

  it("finds log entries by range, system, kind, alarm and what is still open", async () => {
    const { store } = subject();
    const add = (id: string, change: Parameters<typeof logVersion>[0]) =>
      store.writeLog(logVersion({ id, root: id, clientId: id, ...change }), T, audit("write-log"));
    await add("past", { at: T - 100, open: false, until: T - 50, systems: ["system-kelp"] });
    await add("long", { at: T - 100, open: true, systems: ["system-kelp"] });
    await add("feed", { at: T + 10, open: false, kind: "feed", systems: ["system-rays"], alarm: "alarm-1" });
    const ids = async (range: Parameters<Store["readLog"]>[0]) =>
      (await store.readLog(range)).map((entry) => entry.root);
    expect(await ids({ from: T, to: T + 100, limit: 9 })).toEqual(["feed", "long"]);
    expect(await ids({ from: T - 60, to: T, limit: 9 })).toEqual(["past", "long"]);
    expect(await ids({ systems: ["system-rays"], limit: 9 })).toEqual(["feed"]);
    expect(await ids({ kinds: ["backwash"], limit: 1 })).toEqual(["past"]);
    expect(await ids({ open: true, limit: 9 })).toEqual(["long"]);
    expect(await ids({ alarms: ["alarm-1"], limit: 9 })).toEqual(["feed"]);
  });

  it("keeps a handover with the hash of its copy, once a client id", async () => {
    const { store } = subject();
    const stored = { ...handover(), hash: sha256('{"calm":[]}') };
    const kept = await store.signHandover(handover(), audit("sign-handover"));
    expect(kept).toEqual({ stored, repeated: false });
    const again = await store.signHandover(handover({ id: "x", note: "other" }), audit("sign-handover"));
    expect(again).toEqual({ stored, repeated: true });
    await store.signHandover(
      handover({ id: "later", clientId: "later", signed: T + 9 }),
      audit("sign-handover"),
    );
    expect((await store.readHandovers({ limit: 5 })).map((row) => row.id)).toEqual(["later", "handover-1"]);
    expect((await store.readHandovers({ before: T + 9, limit: 5 })).map((row) => row.id)).toEqual([
      "handover-1",
    ]);
    expect(await store.readHandover({ id: "handover-1" })).toEqual(stored);
    expect(await store.readHandover({ clientId: "handover-client-1" })).toEqual(stored);
    expect(await store.readHandover({ id: "none" })).toBeNull();
  });

  it("chains audit rows over writers of several processes, and the chain can be followed", async () => {
    const { store } = subject();
    const other = await subject().another();
    expect(await store.verifyAudit()).toEqual({ rows: 0, broken: null, head: "" });
    await Promise.all(
      Array.from({ length: 12 }, (_, n) =>
        (n % 2 === 0 ? store : other).acknowledge(
          acknowledgement({ id: `a-${n}`, clientId: `c-${n}` }),
          T + n,
          audit(n % 3 === 0 ? "third" : "acknowledge", { at: T + n }),
        ),
      ),
    );
    const rows = await store.readAudit({ limit: 50 });
    expect(rows.map((row) => row.seq)).toEqual(Array.from({ length: 12 }, (_, n) => 12 - n));
    const [newest, before] = rows;
    expect(newest?.before).toBe(before?.hash);
    expect(newest?.record).toBe('{"a":"“one”","b":2}');
    expect(newest?.hash).toBe(
      sha256(
        JSON.stringify([
          newest?.before,
          12,
          newest?.at,
          "Ada",
          "person-1",
          newest?.verb,
          "thing:1",
          newest?.record,
        ]),
      ),
    );
    expect(await store.verifyAudit()).toEqual({ rows: 12, broken: null, head: newest?.hash });
    expect(await store.readAudit({ verb: "third", limit: 50 })).toHaveLength(4);
    expect(await store.readAudit({ actor: "Bo", limit: 50 })).toEqual([]);
    expect((await store.readAudit({ before: 3, limit: 50 })).map((row) => row.seq)).toEqual([2, 1]);
    expect(await store.readAuditRow(12)).toEqual(newest);
  });

  it("adds no audit row where the write was refused", async () => {
    const { store, bench } = await withParts(subject().store);
    const bad = {
      ...benchTest(bench),
      results: benchTest(bench).results.map((row) => ({ ...row, value: Number.NaN })),
    };
    await expect(store.recordBench(bad, T, audit("record-bench"))).rejects.toMatchObject({ code: "invalid" });
    expect(await store.verifyAudit()).toMatchObject({ rows: 0, broken: null });
  });
}
