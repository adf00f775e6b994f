/** A store with three sondes, and the handing in of a file as any reader of files would do it. */

import type { ImportView } from "#contract/imports.ts";
import type { ImportPlan } from "#core/importing/plan.ts";
import { EMPTY_POSITION } from "#core/importing/progress.ts";
import { EMPTY_REPORT, type ImportReport, mergeReports } from "#core/importing/report.ts";
import type { Actor, WriteDeps } from "#services/deps.ts";
import { beginImport, continueImport, tryImport } from "#services/importing/import-readings.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createSetUpReader } from "#services/set-up.ts";
import type { Store } from "#store/port.ts";
import { INTERVAL_MS } from "#tests/faults/sonde-record.ts";
import { QUANTITIES, SYSTEMS, setUpSondes } from "#tests/faults/sonde-site.ts";

export const NOW = Date.UTC(2026, 10, 25);

export async function importWorld(
  store: Store,
): Promise<{ deps: WriteDeps; streams: ReadonlyMap<string, number> }> {
  const streams = await setUpSondes(store, { now: NOW - 1_000, intervalMs: INTERVAL_MS, critical: false });
  const clock = () => NOW;
  return { deps: { store, clock, setUp: createSetUpReader(store, clock), newId: uuidV7 }, streams };
}

export const SONDE_PLAN: ImportPlan = {
  encoding: "utf-8",
  delimiter: ",",
  decimal: ".",
  headingLine: 1,
  time: { columns: ["t"], format: "iso", zone: "Z", twice: "refuse" },
  missing: [],
  layout: {
    kind: "wide",
    columns: SYSTEMS.flatMap((system) =>
      QUANTITIES.map((quantity) => ({
        column: `${system} ${quantity}`,
        target: { system, point: "display", quantity, unit: null },
      })),
    ),
  },
};

const PIECE = 40_000;
const pieceAt = (csv: string, bytes: number) => {
  const text = Buffer.from(csv)
    .subarray(bytes, bytes + PIECE)
    .toString("utf8");
  return { text, final: bytes + PIECE >= Buffer.byteLength(csv) };
};

export async function tryWhole(
  deps: WriteDeps,
  actor: Actor,
  plan: ImportPlan,
  csv: string,
): Promise<ImportReport> {
  let position = EMPTY_POSITION;
  let report = EMPTY_REPORT;
  for (let final = false; !final; ) {
    const piece = pieceAt(csv, position.bytes);
    const tried = await tryImport(deps, actor, { plan, ...piece, position });
    report = mergeReports(report, tried.report);
    position = tried.position;
    final = piece.final;
  }
  return report;
}

export const begin = (deps: WriteDeps, actor: Actor, plan: ImportPlan, csv: string): Promise<ImportView> =>
  beginImport(deps, actor, {
    plan,
    file: "sonde.csv",
    bytes: Buffer.byteLength(csv),
    fingerprint: `test-${csv.length}`,
  });

/** Hands in pieces until the file ends; `each` runs between them and may stop it by false. */
export async function importWhole(
  deps: WriteDeps,
  actor: Actor,
  plan: ImportPlan,
  csv: string,
  each: (run: ImportView) => Promise<boolean | undefined> = async () => true,
): Promise<ImportView> {
  let run = await begin(deps, actor, plan, csv);
  while (run.state === "running") {
    run = await continueImport(deps, actor, run.id, {
      bytes: run.position.bytes,
      ...pieceAt(csv, run.position.bytes),
    });
    if ((await each(run)) === false) break;
  }
  return run;
}
