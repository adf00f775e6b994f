import { LONGEST_RANGE } from "#contract/api.ts";
import type { LogEntryView, LogQuery, LogView } from "#contract/log.ts";
import { LOG_KIND_IDS } from "#core/logbook/kinds.ts";
import { DAY } from "#core/time/instant.ts";
import type { ReadDeps } from "../deps.ts";
import { invalid, notFound, shorten } from "../errors.ts";
import { lookUp, systemOf } from "../set-up.ts";
import { headSite } from "../systems/read-systems.ts";
import { logEntryView } from "./log-view.ts";

const USUAL = 200;

const listed = (text: string | undefined): string[] | undefined =>
  text
    ?.split(",")
    .map((part) => part.trim())
    .filter((part) => part !== "");

function kindsOf(text: string | undefined): string[] | undefined {
  const kinds = listed(text);
  const strange = kinds?.find((kind) => !(LOG_KIND_IDS as readonly string[]).includes(kind));
  if (strange === undefined) return kinds;
  throw invalid([
    {
      field: "kinds",
      value: shorten(strange),
      says: "is not a kind of log entry",
      remedy: `use ${LOG_KIND_IDS.join(", ")}`,
    },
  ]);
}

/** What people did in a range, newest first, in force; with `open` only what goes on, however old. Throws "invalid", "not_found". */
export async function readLog(deps: ReadDeps, query: LogQuery): Promise<LogView> {
  const now = deps.clock();
  const to = query.to ?? now;
  const from = query.from ?? to - DAY;
  if (from >= to || to - from > LONGEST_RANGE)
    throw invalid([
      {
        field: "from",
        value: String(from),
        says: from >= to ? `is not before to (${to})` : "is more than 20 years before to",
        remedy: "ask for a range that ends after it starts, of at most 20 years",
      },
    ]);
  const codes = listed(query.systems);
  const { index, systems } = await lookUp(deps.setUp, (found) => ({
    index: found,
    systems: codes?.map((code) => systemOf(found, code).system.id),
  }));
  const kinds = kindsOf(query.kinds);
  const limit = query.limit ?? USUAL;
  const asked = systems ?? (deps.seesAll ? undefined : index.systems.map((at) => at.system.id));
  const found = await deps.store.readLog({
    ...(query.open === "true" ? { open: true, to: now + DAY } : { from, to }),
    ...(asked === undefined ? {} : { systems: asked }),
    ...(kinds === undefined ? {} : { kinds }),
    limit: limit + 1,
  });
  const entries = found.slice(0, limit).flatMap((entry) => logEntryView(entry, index, now) ?? []);
  return { now, zone: headSite(index).zone, from, to, entries, more: found.length > limit };
}

/** One entry with what stood there before. Throws AppError "not_found". */
export async function readLogEntry(deps: ReadDeps, root: string): Promise<LogEntryView> {
  const entry = await deps.store.readLogEntry(root);
  const view = entry && logEntryView(entry, await deps.setUp.read(), deps.clock());
  if (!view) throw notFound("log entry", root, "GET /api/v1/log-entries lists them.");
  return view;
}
