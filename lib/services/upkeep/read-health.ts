import type { HealthView } from "#contract/answers.ts";
import { EVERYWHERE, may } from "#core/people/index.ts";
import { judgeHealth } from "#core/upkeep/judge.ts";
import type { Actor, ReadDeps } from "../deps.ts";
import { AppError } from "../errors.ts";
import { readArrivals } from "../gateway/read-arrivals.ts";

/** True for callers who look after the machinery; others with access see how far evaluation has come. */
export const maySeeUpkeep = (actor: Actor | null): boolean =>
  actor !== null && may(actor.grants, "read-health", EVERYWHERE);

/** Whether the store answers; with `detail` how far evaluation has come. Throws AppError "unavailable" where it does not answer. */
export async function readHealth(
  { store, clock }: Pick<ReadDeps, "store" | "clock">,
  version: string,
  detail: boolean,
): Promise<HealthView> {
  const status = await store.status().catch((cause: unknown) => {
    throw new AppError(
      "unavailable",
      "The store does not answer. See the server's log; npm run doctor names the cause.",
      { cause },
    );
  });
  const open = { ok: true, version, schema: status.schema };
  if (!detail) return open;
  const { journal, cursor, dialect, where, rejudging, counts } = status;
  const now = clock();
  return {
    ...open,
    detail: {
      now,
      dialect,
      where,
      journal,
      cursor,
      behind: {
        entries: Math.max(0, (journal?.seq ?? 0) - (cursor?.seq ?? 0)),
        ms: journal && cursor ? Math.max(0, journal.received - cursor.received) : 0,
      },
      rejudging: rejudging.map((range) => ({ ...range })),
      counts: { ...counts },
    },
  };
}

/** Everything about the machinery, judged. Throws AppError "unavailable" where the store does not answer. */
export async function readUpkeep(
  deps: Pick<ReadDeps, "store" | "clock" | "setUp">,
  version: string,
): Promise<HealthView> {
  const { store } = deps;
  const health = await readHealth(deps, version, true);
  const now = health.detail?.now ?? deps.clock();
  const [status, { processes, lease }, backups, arrivals] = await Promise.all([
    store.status(),
    store.readProcesses(),
    store.readBackups(),
    readArrivals(deps, {}),
  ]);
  const senders = arrivals.sources.map(({ source, skew, clock, sequence }) => ({
    source,
    skew,
    clock,
    missing: sequence?.missing ?? null,
  }));
  const newest = [...processes].sort((a, b) => b.at - a.at).map((process) => process.report);
  const disk = newest.find((report) => report.diskFree !== null && report.diskTotal !== null);
  const facts = { ...status, now, rejudging: status.rejudging.length, processes, lease, backups, senders };
  return {
    ...health,
    upkeep: {
      items: judgeHealth(facts).map((item) => ({ ...item })),
      processes: processes.map(
        ({ report: { memory, waiting, lastCommitMs, failedCommits, trouble }, ...process }) => ({
          ...process,
          memory,
          waiting: waiting ?? null,
          lastCommitMs: lastCommitMs ?? null,
          failedCommits: failedCommits ?? null,
          trouble: trouble ?? null,
        }),
      ),
      lease,
      disk: disk ? { free: disk.diskFree ?? 0, total: disk.diskTotal ?? 0 } : null,
      databaseBytes: newest.find((report) => report.databaseBytes !== null)?.databaseBytes ?? null,
      backups,
      senders,
    },
  };
}
