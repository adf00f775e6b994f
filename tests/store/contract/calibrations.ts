import { expect, it } from "vitest";
import type { Store } from "#store/port.ts";
import { audit, calibration, calibrationVoid, correctionOf, logVersion } from "./samples.ts";
import { eachWith, type OpenSubject, T, withParts } from "./subject.ts";

const verbs = async (store: Store) => (await store.readAudit({ limit: 50 })).map((row) => row.verb);

export function describeCalibrations(open: OpenSubject): void {
  const subject = eachWith(open);
  const beside = (stream: number) => ({
    correction: correctionOf(stream),
    log: logVersion({ kind: "calibration" }),
    rejudgeFrom: T - 600_000,
  });

  it("stores a calibration once a client id, with correction, logbook mark, journal and audit rows", async () => {
    const { store, temperature } = await withParts(subject().store);
    const other = await subject().another();
    const record = (each: Store) =>
      each.recordCalibration(
        calibration(temperature),
        beside(temperature),
        T + 5,
        audit("record-calibration"),
      );
    const kept = await Promise.all([store, other, store].map(record));
    expect(kept.filter((one) => !one.repeated)).toHaveLength(1);
    const entries = await store.journalAfter(0, 10);
    expect(entries.map(({ kind, ref, rejudge }) => [kind, ref ?? rejudge])).toEqual([
      ["calibration", { stream: temperature, from: T - 600_000 }],
      ["log", "log-1"],
    ]);
    const stored = { ...calibration(temperature), received: T + 5, voided: null };
    expect(kept.map((one) => one.stored)).toEqual([stored, stored, stored]);
    expect(await store.readCalibrations()).toEqual([stored]);
    expect(await store.readCalibrations([temperature + 1])).toEqual([]);
    expect(await store.readCalibration({ clientId: "calibration-client-1" })).toEqual(stored);
    expect(await store.readCalibration({ id: "calibration-2" })).toBeNull();
    expect(await store.readCorrections([temperature])).toEqual([
      { ...correctionOf(temperature), received: T + 5 },
    ]);
    expect((await store.readLogEntry("log-1"))?.versions).toHaveLength(1);
    expect(await verbs(store)).toEqual(["record-calibration"]);
    expect(await store.verifyAudit()).toMatchObject({ rows: 1 });
  });

  it("voids a calibration once, and its correction with it", async () => {
    const { store, temperature } = await withParts(subject().store);
    await store.recordCalibration(
      calibration(temperature),
      beside(temperature),
      T,
      audit("record-calibration"),
    );
    const first = await store.voidCalibration(calibrationVoid(), T, T + 9, audit("void-calibration"));
    expect(first.repeated).toBe(false);
    expect(
      (await store.voidCalibration(calibrationVoid(), T, T + 9, audit("void-calibration"))).repeated,
    ).toBe(true);
    expect((await store.readCalibrations([temperature]))[0]?.voided).toEqual(first.stored);
    expect(await store.readCorrections([temperature])).toEqual([]);
    const again = calibrationVoid({ id: "void-2", clientId: "other" });
    await expect(store.voidCalibration(again, T, T, audit("void-calibration"))).rejects.toMatchObject({
      code: "invalid",
    });
    const none = calibrationVoid({ id: "void-3", clientId: "third", calibration: "none" });
    await expect(store.voidCalibration(none, T, T, audit("void-calibration"))).rejects.toMatchObject({
      code: "invalid",
    });
    expect((await verbs(store))[0]).toBe("void-calibration");
  });

  it("gives the newest calibration first", async () => {
    const { store, temperature, bench } = await withParts(subject().store);
    for (const [n, stream] of [temperature, bench, temperature].entries())
      await store.recordCalibration(
        calibration(stream, { id: `c${n}`, clientId: `c${n}`, at: T + n }),
        {
          correction: null,
          log: logVersion({ id: `l${n}`, root: `l${n}`, clientId: `l${n}` }),
          rejudgeFrom: T,
        },
        T,
        audit("record-calibration"),
      );
    expect((await store.readCalibrations()).map((row) => row.id)).toEqual(["c2", "c1", "c0"]);
    expect((await store.readCalibrations([temperature])).map((row) => row.id)).toEqual(["c2", "c0"]);
  });
}
