/** Years of recorded values out of files: previewed, stored piece by piece, left out again where it was wrong. */

import {
  beginRequest,
  type ImportView,
  pieceRequest,
  type TryView,
  tryRequest,
  withdrawRequest,
} from "#contract/imports.ts";
import { placeText, targetsOf } from "#core/importing/plan.ts";
import { mergeReports, totalsOf } from "#core/importing/report.ts";
import type { ImportRun } from "#core/importing/run.ts";
import { may } from "#core/people/index.ts";
import { THREE_HOURS } from "#core/quality/rollup.ts";
import type { Instant } from "#core/time/instant.ts";
import { siteDay } from "#core/time/site-time.ts";
import { type Fate, StoreError } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandSomewhere, placeOf } from "../permission.ts";
import { lookUp } from "../set-up.ts";
import { type Placed, placesOf } from "./places.ts";
import { readPiece } from "./read-piece.ts";

const MOST_IMPORTS = 200;
const viewOf = ({ source: _source, ...run }: ImportRun): ImportView => ({
  ...run,
  position: { ...run.position },
});

/** What importing one piece would do, with nothing written. Pieces are handed in one after the other, each with the position that the last one gave. */
export async function tryImport(deps: WriteDeps, actor: Actor, body: unknown): Promise<TryView> {
  demandSomewhere(actor, "import-readings");
  const { plan, text, final, position } = parse(tryRequest, body);
  const placed = await lookUp(deps.setUp, (index) => placesOf(index, actor, plan));
  const piece = readPiece(plan, { text, final }, position, deps.clock());
  const known = piece.readings.flatMap(({ target, at }, reading) => {
    const stream = placed[target]?.stream;
    return stream ? [{ reading, stream: stream.id, at }] : [];
  });
  const values = await deps.store.readingsAt(known);
  const standing = new Map(known.map(({ reading }, index) => [reading, values[index] ?? null]));
  const inPiece = new Map<string, number>();
  const fates = piece.readings.map(({ target, at, value }, index): Fate => {
    const key = `${target}:${at}`;
    const before = standing.get(index) ?? inPiece.get(key) ?? null;
    if (before === null) inPiece.set(key, value);
    return before === null ? "stored" : before === value ? "duplicate" : "conflict";
  });
  return { position: piece.position, report: piece.report(fates) };
}

/** Begins an import, or finds the one of the same file and plan that was stopped, to go on with. Throws "forbidden", "invalid". */
export async function beginImport(deps: WriteDeps, actor: Actor, body: unknown): Promise<ImportView> {
  demandSomewhere(actor, "import-readings");
  const request = parse(beginRequest, body);
  const placed = await lookUp(deps.setUp, (index) => placesOf(index, actor, request.plan));
  const stopped = (await deps.store.readImports(MOST_IMPORTS)).find(
    (run) =>
      run.state === "running" &&
      run.fingerprint === request.fingerprint &&
      run.bytes === request.bytes &&
      JSON.stringify(run.plan) === JSON.stringify(request.plan),
  );
  if (stopped) return viewOf(stopped);
  for (const { point, quantity, stream } of placed)
    if (stream === null) await deps.store.ensureStream(point, quantity, "probe");
  const now = deps.clock();
  const run = { ...request, id: deps.newId(now), begunBy: actor.name };
  return viewOf(
    await deps.store.beginImport(run, now, audited(actor, now, "begin-import", `import:${run.id}`, run)),
  );
}

/** Stores the readings of one piece in one durable commit together with how far the file has come. Throws "conflict" where it stands elsewhere. */
export async function continueImport(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<ImportView> {
  demandSomewhere(actor, "import-readings");
  const { bytes, text, final } = parse(pieceRequest, body);
  const run = await importOf(deps, id);
  const streams = await lookUp(deps.setUp, (index) => placesOf(index, actor, run.plan).map(streamOf));
  if (run.state !== "running" || run.position.bytes !== bytes) throw elsewhere(run, bytes);
  const now = deps.clock();
  const piece = readPiece(run.plan, { text, final }, run.position, now);
  const readings = piece.readings.map(({ target, at, value }) => ({
    stream: streams[target] as number,
    at,
    value,
    source: run.source,
    sequence: null,
    mark: null,
  }));
  const progress = (fates: readonly Fate[]) => ({
    position: piece.position,
    report: mergeReports(run.report, piece.report(fates)),
    stored: run.stored + fates.filter((fate) => fate === "stored").length,
    done: final,
  });
  await deps.store
    .append({ now, readings, rejected: [], unclaimed: [], importing: { id, expected: bytes, progress } })
    .catch(async (error: unknown) => {
      if (error instanceof StoreError && error.code === "superseded")
        throw elsewhere(await importOf(deps, id), bytes);
      throw error;
    });
  return viewOf(await importOf(deps, id));
}

/** Leaves every row of an import out, everywhere; nothing is deleted, and the file can be imported again. Throws "forbidden", "not_found", "conflict". */
export async function withdrawImport(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<ImportView> {
  demandSomewhere(actor, "import-readings");
  const { reason } = parse(withdrawRequest, body);
  const run = await importOf(deps, id);
  const placed = await lookUp(deps.setUp, (index) => placesOf(index, actor, run.plan));
  const now = deps.clock();
  const subject = `import:${id}`;
  const { stored, from, to } = totalsOf(run.report);
  const record = {
    file: run.file,
    reason,
    stored,
    from,
    to,
    places: targetsOf(run.plan).map(({ target }) => placeText(target)),
  };
  const done = await deps.store.withdrawImport(
    { id, by: actor.name, reason, rejudge: affected(run, placed) },
    now,
    audited(actor, now, "withdraw-import", subject, record),
  );
  if (done === null) throw new AppError("conflict", `The import of ${run.file} has already been withdrawn.`);
  return viewOf(done);
}

/** Imports whose every system the actor may read, newest first. Throws "forbidden" for anyone who may import nowhere. */
export async function readImports(deps: WriteDeps, actor: Actor): Promise<{ imports: ImportView[] }> {
  demandSomewhere(actor, "import-readings");
  const [runs, index] = await Promise.all([deps.store.readImports(MOST_IMPORTS), deps.setUp.read()]);
  const mine = runs.filter((run) =>
    targetsOf(run.plan).every(({ target }) => {
      const at = index.byCode.get(target.system);
      return at !== undefined && may(actor.grants, "import-readings", placeOf(at));
    }),
  );
  return { imports: mine.map(viewOf) };
}

async function importOf(deps: WriteDeps, id: string): Promise<ImportRun> {
  const run = await deps.store.readImport(id);
  if (run) return run;
  throw notFound("import", id, "GET /api/v1/imports lists them.");
}

function elsewhere(run: ImportRun, bytes: number): AppError {
  return new AppError(
    "conflict",
    run.state === "running"
      ? `The import of ${run.file} has reached byte ${run.position.bytes}, not ${bytes}: continue from there.`
      : `The import of ${run.file} is ${run.state === "done" ? "finished" : "withdrawn"}: start a new one.`,
  );
}

function streamOf({ at, point, quantity, stream }: Placed): number {
  if (stream) return stream.id;
  throw new AppError(
    "unavailable",
    `The stream of ${quantity} at ${at.system.code} (${point}) is not known yet: try again.`,
  );
}

/**
 * The systems an import reached, each from the beginning of the site day and of the three hours of its first reading: means that began
 * before that reading may hold nothing else.
 */
function affected(run: ImportRun, placed: readonly Placed[]): { system: string; from: Instant }[] {
  const first = new Map<string, Instant>();
  for (const [index, { from }] of run.report.columns.entries()) {
    const at = placed[index]?.at;
    if (at === undefined || from === null) continue;
    const day = siteDay(from, at.site.zone).start;
    const hours = from - (from % THREE_HOURS);
    const begin = hours < day ? siteDay(hours, at.site.zone).start : day;
    first.set(at.system.id, Math.min(begin, first.get(at.system.id) ?? begin));
  }
  return [...first].map(([system, from]) => ({ system, from }));
}
