import type { AlarmView } from "#contract/answers.ts";
import { LONGEST_NIGHT } from "#contract/api.ts";
import type { HandoverDraft, HandoversView, HandoverView } from "#contract/handover.ts";
import type { Handover } from "#core/overnight/handover.ts";
import type { Instant } from "#core/time/instant.ts";
import { lastLocalHour } from "#core/time/site-time.ts";
import type { ReadDeps } from "../deps.ts";
import { notFound } from "../errors.ts";
import { readLog } from "../logbook/read-log.ts";
import { demandAll } from "../scope.ts";
import { headSite } from "../systems/read-systems.ts";
import { NIGHT_FROM } from "../systems/sweep.ts";
import { readAlarms } from "./read-alarms.ts";
import { readOvernight } from "./read-overnight.ts";

const MOST_OPEN = 500;

/** What nobody has acknowledged, and what reached an action limit and has no response yet: acknowledging is not answering. */
const unansweredOf = async (deps: ReadDeps): Promise<AlarmView[]> =>
  (await readAlarms(deps, {})).alarms.filter(({ asks }) => asks !== null);

/** What would be signed now: since the last handover where that is not too long ago, else since the evening. */
export async function draftHandover(deps: ReadDeps, from?: Instant): Promise<HandoverDraft> {
  demandAll(deps, "A handover");
  const to = deps.clock();
  const { zone } = headSite(await deps.setUp.read());
  const [last] = await deps.store.readHandovers({ limit: 1 });
  const since = last && to - last.signed < LONGEST_NIGHT && last.signed < to ? last.signed : undefined;
  const begins = from ?? since ?? lastLocalHour(to, zone, NIGHT_FROM);
  const [overnight, unanswered, open] = await Promise.all([
    readOvernight(deps, { from: begins, to }),
    unansweredOf(deps),
    readLog(deps, { open: "true", limit: MOST_OPEN }),
  ]);
  return { from: begins, to, zone, overnight, unanswered, open: open.entries };
}

/** A handover as it was signed, from its frozen copy. */
export function handoverView(stored: Handover): HandoverView {
  const copy = JSON.parse(stored.copy) as Omit<HandoverDraft, "from" | "to"> & Pick<HandoverView, "notes">;
  return {
    ...copy,
    id: stored.id,
    clientId: stored.clientId,
    from: stored.from,
    to: stored.to,
    note: stored.note,
    passesTo: stored.passesTo,
    signedBy: stored.signedBy,
    signed: stored.signed,
    hash: stored.hash,
  };
}

/** Signed handovers, newest first. */
export async function readHandovers(deps: ReadDeps, limit = 50, before?: Instant): Promise<HandoversView> {
  demandAll(deps, "A handover");
  const { zone } = headSite(await deps.setUp.read());
  const rows = await deps.store.readHandovers({ limit, ...(before === undefined ? {} : { before }) });
  return {
    zone,
    handovers: rows.map(({ id, from, to, signed, signedBy, passesTo, unanswered, note }) => ({
      id,
      from,
      to,
      signed,
      signedBy,
      passesTo,
      unanswered,
      note,
    })),
  };
}

/** One handover whole. Throws AppError "not_found". */
export async function readHandover(deps: ReadDeps, id: string): Promise<HandoverView> {
  demandAll(deps, "A handover");
  const stored = await deps.store.readHandover({ id });
  if (!stored) throw notFound("handover", id, "GET /api/v1/handovers lists them.");
  return handoverView(stored);
}
