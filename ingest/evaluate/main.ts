/** The evaluating process: waits for something new in the journal, judges it, and stops when asked to. */
import { randomUUID } from "node:crypto";
import { setTimeout as pause } from "node:timers/promises";
import { setFlagsFromString } from "node:v8";
import { pino } from "pino";
import { readSettings, SettingsError } from "#config/env.ts";
import { openDependencies } from "#config/open.ts";
import { type Evaluator, openEvaluator } from "#services/evaluate/evaluator.ts";
import { type Store, StoreError } from "#store/port.ts";
import { keepReport } from "../health/report-process.ts";

/** How often the store is asked whether anything is new, and how often time alone is looked at (silence). */
const ASK_MS = 25;
const TICK_MS = 10_000;
const RETRY_MS = 1_000;
/** Accepting may start later than this process does: for this long, silence is our own and not a probe's. */
const LISTEN_MS = 60_000;

// Left to itself the heap grows to three times what is alive before it is collected; with five thousand streams that is 100 MiB of garbage.
setFlagsFromString("--heap-growing-percent=40");

const log = pino({ name: "evaluate" }, pino.destination(2));
let stopping = false;
const stop = new AbortController();
for (const signal of ["SIGINT", "SIGTERM"] as const)
  process.on(signal, () => {
    stopping = true;
    stop.abort();
  });

/** Sleeps, or wakes at once when told to stop. */
async function sleep(ms: number): Promise<void> {
  await pause(ms, undefined, { signal: stop.signal }).catch((error: unknown) => {
    if (!stopping) throw error;
  });
}

async function main(): Promise<void> {
  const settings = readSettings(process.env);
  const { store, clock } = await openDependencies(settings, { migrate: false, acknowledges: false });
  const report = keepReport({ name: "evaluating", settings, store, clock, log });
  const holder = `${process.pid}-${randomUUID()}`;
  process.stdout.write(`${JSON.stringify({ ready: true })}\n`);
  try {
    while (!stopping) {
      await evaluateUntilSuperseded(store, () =>
        openEvaluator({ store, leaseHolder: holder, clock, monotonic: () => performance.now() }),
      );
    }
  } finally {
    await report.stop();
    await store.close();
  }
}

async function evaluateUntilSuperseded(store: Store, open: () => Promise<Evaluator | null>): Promise<void> {
  try {
    const evaluator = await open();
    if (!evaluator) return await sleep(RETRY_MS);
    log.info("evaluating");
    await evaluateUntilStopped(evaluator, store);
    await evaluator.release();
  } catch (error) {
    if (!(error instanceof StoreError)) throw error;
    // Another evaluator took over, or the store is away: nothing was committed, so starting again from the cursor is right.
    log.warn({ code: error.code, cause: error.cause }, error.message);
    await sleep(RETRY_MS);
  }
}

async function evaluateUntilStopped(evaluator: Evaluator, store: Store): Promise<void> {
  const began = performance.now();
  let ticked = began;
  let isHearing = false;
  let mark = Number.NaN;
  while (!stopping) {
    const now = performance.now();
    const ticking = now - ticked >= TICK_MS && (isHearing || now - began >= LISTEN_MS);
    if (ticking) ticked = now;
    const seen = await store.changeMark();
    if (seen === mark && !ticking) {
      await sleep(ASK_MS);
      continue;
    }
    const report = await evaluator.pass({ ticking });
    isHearing ||= report.readings > 0;
    // The mark from before the pass: what came during it moves it again. Until a pass finds nothing, nothing is waited for.
    mark = report.isIdle ? seen : Number.NaN;
    if (report.entries === 0 && report.rejudged === 0 && !report.isIdle) await sleep(ASK_MS);
  }
}

main().catch((error: unknown) => {
  const expected = error instanceof StoreError || error instanceof SettingsError;
  log.fatal(expected ? undefined : error, error instanceof Error ? error.message : String(error));
  process.exitCode = 2;
});
