import { Counter, Gauge, Registry } from "prom-client";
import type { HealthView } from "#contract/answers.ts";

type Labels = Readonly<Record<string, string>>;
interface Metric {
  readonly name: string;
  readonly type: "counter" | "gauge";
  readonly help: string;
  readonly samples: readonly { readonly labels?: Labels; readonly value: number | null | undefined }[];
}

const seconds = (ms: number | null | undefined) => (ms == null ? null : ms / 1_000);

export const METRICS_TYPE = Registry.PROMETHEUS_CONTENT_TYPE;

/** Health as metrics in the Prometheus text format 0.0.4; names and base units after its naming practice. What is not known has no sample. */
export function metricsText(view: HealthView): Promise<string> {
  const registry = new Registry();
  for (const { name, type, help, samples } of metricsOf(view)) {
    const known = samples.flatMap(({ labels = {}, value }) => (value == null ? [] : [{ labels, value }]));
    const [first] = known;
    if (first === undefined) continue;
    const family = { name, help, labelNames: Object.keys(first.labels), registers: [registry] };
    if (type === "counter") {
      const counter = new Counter(family);
      for (const { labels, value } of known) counter.inc(labels, value);
    } else {
      const gauge = new Gauge(family);
      for (const { labels, value } of known) gauge.set(labels, value);
    }
  }
  return registry.metrics();
}

function metricsOf({ version, schema, detail, upkeep }: HealthView): readonly Metric[] {
  const one = (
    name: string,
    type: Metric["type"],
    help: string,
    value: number | null | undefined,
    labels?: Labels,
  ): Metric => ({
    name: `homewater_${name}`,
    type,
    help,
    samples: [labels === undefined ? { value } : { labels, value }],
  });
  const now = detail?.now ?? 0;
  const byProcess = (
    name: string,
    type: Metric["type"],
    help: string,
    of: (process: NonNullable<typeof upkeep>["processes"][number]) => number | null | undefined,
  ): Metric => ({
    name: `homewater_${name}`,
    type,
    help,
    samples: (upkeep?.processes ?? []).map((process) => ({
      labels: { process: process.name },
      value: of(process),
    })),
  });
  const good = upkeep?.backups.good ?? null;
  const last = upkeep?.backups.last ?? null;
  return [
    one("info", "gauge", "Version of the program and schema of the store.", 1, {
      version,
      schema: String(schema),
    }),
    one("readings", "gauge", "Readings in the store.", detail?.counts.readings),
    one("duplicates_total", "counter", "Readings sent again with the same value.", detail?.counts.duplicates),
    one(
      "conflicts_total",
      "counter",
      "Readings sent with a different value for a time already stored.",
      detail?.counts.conflicts,
    ),
    one("rejected_messages_total", "counter", "Messages that could not be read.", detail?.counts.rejected),
    one(
      "unclaimed_readings_total",
      "counter",
      "Readings for points that are not set up.",
      detail?.counts.unclaimed,
    ),
    one("journal_position", "counter", "Commits written to the journal.", detail?.journal?.seq),
    one(
      "last_receipt_timestamp_seconds",
      "gauge",
      "When the last commit was received.",
      seconds(detail?.journal?.received),
    ),
    one("evaluator_lag_entries", "gauge", "Commits accepted and not evaluated yet.", detail?.behind.entries),
    one(
      "evaluator_lag_seconds",
      "gauge",
      "How far evaluation is behind acceptance.",
      seconds(detail?.behind.ms),
    ),
    one(
      "judging_again_systems",
      "gauge",
      "Systems being evaluated again because of late data.",
      detail?.rejudging.length,
    ),
    one(
      "evaluator_up",
      "gauge",
      "1 while an evaluator holds the lease.",
      upkeep === undefined ? null : upkeep.lease !== null && upkeep.lease.expires > now ? 1 : 0,
    ),
    byProcess(
      "process_last_report_timestamp_seconds",
      "gauge",
      "When a process last reported.",
      (process) => process.at / 1_000,
    ),
    byProcess("process_memory_bytes", "gauge", "Resident memory of a process.", (process) => process.memory),
    byProcess(
      "accept_waiting_messages",
      "gauge",
      "Messages waiting to be stored.",
      (process) => process.waiting,
    ),
    byProcess("accept_last_commit_seconds", "gauge", "How long the last commit took.", (process) =>
      seconds(process.lastCommitMs),
    ),
    byProcess(
      "accept_failed_commits_total",
      "counter",
      "Commits that failed since the process started.",
      (process) => process.failedCommits,
    ),
    one("disk_free_bytes", "gauge", "Free bytes on the disk of the data folder.", upkeep?.disk?.free),
    one("disk_size_bytes", "gauge", "Size of the disk of the data folder.", upkeep?.disk?.total),
    one(
      "database_bytes",
      "gauge",
      "Size of the database with its log, if it is a file.",
      upkeep?.databaseBytes,
    ),
    one(
      "backup_last_success_timestamp_seconds",
      "gauge",
      "When the last verified backup was started.",
      seconds(good?.began),
    ),
    one(
      "backup_age_seconds",
      "gauge",
      "Age of the last verified backup.",
      good === null ? null : (now - good.began) / 1_000,
    ),
    one(
      "backup_failed",
      "gauge",
      "1 if the last attempt at a backup failed.",
      last === null ? null : last.trouble === null ? 0 : 1,
    ),
    {
      name: "homewater_sender_clock_skew_seconds",
      type: "gauge",
      help: "How far a sender's clock is behind ours over the last day; negative: ahead.",
      samples: (upkeep?.senders ?? []).map(({ source, skew }) => ({
        labels: { source },
        value: seconds(skew),
      })),
    },
    {
      name: "homewater_sender_missing_readings",
      type: "gauge",
      help: "Numbered readings of the last day that never arrived.",
      samples: (upkeep?.senders ?? []).map(({ source, missing }) => ({ labels: { source }, value: missing })),
    },
    {
      name: "homewater_health_items",
      type: "gauge",
      help: "Items of the health page by state.",
      samples: (["good", "look", "act", "unknown"] as const).map((state) => ({
        labels: { state },
        value: upkeep?.items.filter((item) => item.state === state).length,
      })),
    },
  ];
}
