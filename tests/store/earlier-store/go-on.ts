/** More of the water in a store that was made before: what its probes send after the last of it, judged as it comes. */
import { HOUR, MINUTE, SECOND } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";
import { evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { ASKED_AT } from "./answers.ts";

const QUARTER = 15 * MINUTE;
const LASTS = 5 * HOUR;
/** Where every probe goes on with its last value, these do not: the hall is cooled again, and the pups' room gets warm. */
const OTHERWISE: Readonly<Record<string, number>> = {
  "drift-hall/display/temperature": 14.4,
  "pup-room/display/temperature": 28.5,
};

/** Sends five hours by the store's own gateway and lets the evaluator go on from what is stored. Gives the instant they end. */
export async function goOn(store: Store): Promise<number> {
  const { streams, systems } = await store.readSetUp();
  const codes = new Map(systems.map(({ id, code }) => [id, code]));
  const sent = new Set(
    streams.filter(({ origin }) => origin !== "derived" && origin !== "bench").map(({ id }) => id),
  );
  const names = new Map(
    streams.map((row) => [row.id, `${codes.get(row.system)}/${row.pointCode}/${row.quantity}`]),
  );
  const last = (await store.readCurrent()).filter((row) => sent.has(row.stream));
  const { id: source } = await store.ensureSource("gateway-1", "gateway");
  let now = ASKED_AT;
  const evaluator = await evaluatorOf(store, () => now);
  await evaluateAll(evaluator);
  for (let at = ASKED_AT; at < ASKED_AT + LASTS; at += QUARTER) {
    now = at + 2 * SECOND;
    const readings = last.map(({ stream, value }) => ({
      stream,
      at,
      value: OTHERWISE[names.get(stream) ?? ""] ?? value,
      source,
      sequence: null,
      mark: null,
    }));
    await store.append({ now, readings, rejected: [], unclaimed: [] });
    await evaluateAll(evaluator);
  }
  await evaluator.release();
  return now;
}

/** Has every system judged again from its first reading. Gives how many readings were. */
export async function judgeAnew(store: Store, now: number): Promise<number> {
  const { systems } = await store.readSetUp();
  const everything = systems.map(({ id }) => ({ system: id, from: 0 }));
  await store.writeSetUp({}, everything, now);
  const evaluator = await evaluatorOf(store, () => now);
  let readings = 0;
  for (;;) {
    const pass = await evaluator.pass({ hurry: true });
    readings += pass.rejudged;
    if (pass.isIdle) break;
  }
  await evaluator.release();
  return readings;
}
