/** What people wrote in the fourteen days: log entries and acknowledgements, played through the verbs that people use. */
import { setTimeout as pause } from "node:timers/promises";
import { isUnacknowledged } from "#core/alarms/alarm.ts";
import { logKind } from "#core/logbook/kinds.ts";
import { type Instant, MINUTE } from "#core/time/index.ts";
import type { WriteDeps } from "#services/deps.ts";
import { closeLog } from "#services/logbook/change-log.ts";
import { writeLog } from "#services/logbook/write-log.ts";
import { acknowledgeAlarm } from "#services/overnight/acknowledge-alarm.ts";
import type { Alarm, Store } from "#store/port.ts";
import type { ScenarioEvent } from "../scenario/records.ts";
import { staff } from "./staff.ts";

/** One thing written, and when it reached the log. */
export interface Entry {
  readonly at: Instant;
  readonly write: () => Promise<void>;
}

type Writing = Omit<WriteDeps, "clock" | "store">;
const TYPED_AFTER = MINUTE;
const ASK_MS = 50;
/** After this long without progress, no evaluator is running. */
const PATIENCE_MS = 30_000;

const idOf = (event: ScenarioEvent, what: string) =>
  `demo-${what}-${event.kind}-${event.systems.join("-")}-${event.at}-${event.by}`
    .replace(/[^A-Za-z0-9-]+/g, "-")
    .slice(0, 100);

const textOf = (at: Instant) => new Date(at).toISOString();

function bodyOf(event: ScenarioEvent) {
  const { kind, systems, at, quantity, amount, unit, animals, text } = event;
  return {
    clientId: idOf(event, "log"),
    kind,
    systems,
    at: textOf(at),
    text,
    ...(quantity === undefined ? {} : { quantity }),
    // What has no unit counts animals.
    ...(amount === undefined ? {} : { amount, unit: unit ?? "animals" }),
    ...(animals === undefined ? {} : { animals }),
  };
}

/** An event as log entries: what lasts is opened when it begins and closed when it is over, unless it was all written down later. */
export function logEntries(store: Store, writing: Writing, event: ScenarioEvent, end: Instant): Entry[] {
  const actor = staff(event.by);
  const at = (now: Instant): WriteDeps => ({ ...writing, store, clock: () => now });
  const { until, sentAt } = event;
  const body = bodyOf(event);
  const whole = { ...body, ...(until === undefined ? {} : { until: textOf(until) }) };
  const opens = logKind(event.kind)?.lasts === true && until !== undefined && sentAt === undefined;
  if (!opens) {
    const typedAt = sentAt ?? (until ?? event.at) + TYPED_AFTER;
    if (typedAt > end) return [];
    return [{ at: typedAt, write: async () => void (await writeLog(at(typedAt), actor, whole)) }];
  }
  let root: string | undefined;
  const typedAt = event.at + TYPED_AFTER;
  const opened: Entry = {
    at: typedAt,
    write: async () => {
      root = (await writeLog(at(typedAt), actor, { ...body, open: true })).entry.id;
    },
  };
  const closed: Entry = {
    at: until,
    write: async () => {
      // Begun before and stopped: the opening is stored already, and its client id finds it.
      root ??= (await writeLog(at(typedAt), actor, { ...body, open: true })).entry.id;
      await closeLog(at(until), actor, root, { clientId: idOf(event, "close"), at: textOf(until) });
    },
  };
  return [opened, closed].filter((entry) => entry.at <= end);
}

/** Waits until everything accepted so far is judged; false where nothing moves, because nobody evaluates. */
async function judged(store: Store, stopped: () => boolean): Promise<boolean> {
  const head = (await store.status()).journal?.seq ?? 0;
  let { seq } = await store.readCursor();
  let movedAt = performance.now();
  while (seq < head && !stopped()) {
    await pause(ASK_MS);
    const now = (await store.readCursor()).seq;
    if (now !== seq) movedAt = performance.now();
    else if (performance.now() - movedAt > PATIENCE_MS) return false;
    seq = now;
  }
  return !stopped();
}

const isWaiting = ({ state }: Alarm) => isUnacknowledged(state);

/** An acknowledgement of the scenario: whatever rings then at its system for its quantity. */
export function acknowledgementEntry(
  store: Store,
  writing: Writing,
  event: ScenarioEvent,
  stopped: () => boolean,
): Entry {
  const deps: WriteDeps = { ...writing, store, clock: () => event.at };
  return {
    at: event.at,
    write: async () => {
      if (!(await judged(store, stopped))) return;
      const { systems } = await store.readSetUp();
      const asked = new Set(systems.filter((row) => event.systems.includes(row.code)).map((row) => row.id));
      const ringing = (await store.readAlarms({ active: true, limit: 1_000 })).filter(
        (alarm) => isWaiting(alarm) && asked.has(alarm.system) && alarm.quantity === event.quantity,
      );
      for (const [i, alarm] of ringing.entries())
        await acknowledgeAlarm(deps, staff(event.by), alarm.id, {
          clientId: `${idOf(event, "acknowledge").slice(0, 90)}-${i}`,
          note: event.text,
          at: event.at,
        });
    },
  };
}
