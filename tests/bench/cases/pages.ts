/** Server time of what the Systems and Overnight pages show, with 100 systems and 1,500 streams, beside reading the rows. */
import BetterSqlite3 from "better-sqlite3";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { openEvaluator } from "#services/evaluate/evaluator.ts";
import { readOvernight } from "#services/overnight/read-overnight.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import type { Store } from "#store/port.ts";
import { temporaryStore } from "#tests/helpers/open-store.ts";
import { type BenchOptions, type BenchRow, percentile, scaled, timed } from "../bench-row.ts";
import { CADENCE, readingsAt, setUpBenchSite } from "../invented-site.ts";
import { readingDeps } from "../reading-deps.ts";

export const name = "pages";

const NOW = Date.parse("2026-02-02T06:00:00Z");

async function evaluateAll(store: Store): Promise<void> {
  const deps = { store, leaseHolder: "bench", clock: () => NOW, monotonic: () => performance.now() };
  const evaluator = await openEvaluator(deps);
  if (!evaluator) throw new Error("another evaluator holds the lease");
  while (!(await evaluator.pass()).isIdle);
  await evaluator.release();
}

/** The same rows, without making anything of them. */
function bareReading(file: string): { read(): number; close(): void } {
  const connection = new BetterSqlite3(file, { readonly: true });
  const statements = [
    connection.prepare("select * from current"),
    connection.prepare("select * from finding where ended is null and superseded_at is null"),
    connection.prepare("select * from alarm where state <> 'NORMAL'"),
  ];
  return {
    read: () => statements.reduce((rows, statement) => rows + statement.all().length, 0),
    close: () => connection.close(),
  };
}

export async function run({ scale, say }: BenchOptions): Promise<BenchRow[]> {
  const systems = scaled(100, scale, 2);
  const { store, file, dispose } = await temporaryStore();
  try {
    const site = await setUpBenchSite(store, systems, NOW - 30 * DAY);
    // The night until now, as it would have come in.
    for (let at = NOW - 13 * HOUR; at < NOW; at += CADENCE)
      await store.append({ now: at + 1_000, readings: readingsAt(site, at), rejected: [], unclaimed: [] });
    await evaluateAll(store);
    let now = NOW;
    const clock = () => now;
    const deps = readingDeps(store, clock);
    const { streams } = await store.readSetUp();
    const findings = await store.readFindings({ open: true, limit: 5_000 });
    say(`  ${systems} systems, ${streams.length} streams, ${findings.length} open findings`);
    const bare = bareReading(file);
    const repeat = scaled(40, scale, 5);
    const times = { systems: [] as number[], overnight: [] as number[], bare: [] as number[] };
    for (let n = -3; n < repeat; n += 1) {
      // A minute later, after a commit: nothing that was remembered may still be used.
      now += MINUTE;
      await store.note("up", null, now);
      const each = {
        bare: await timed(() => {
          if (bare.read() < site.streams.length) throw new Error("rows are missing");
        }),
        systems: await timed(async () => {
          if ((await readSystems(deps)).systems.length !== systems) throw new Error("systems are missing");
        }),
        overnight: 0,
      };
      now += MINUTE;
      await store.note("up", null, now);
      each.overnight = await timed(() => readOvernight(deps, {}));
      if (n >= 0) for (const key of ["systems", "overnight", "bare"] as const) times[key].push(each[key]);
    }
    bare.close();
    const reference = {
      unit: "ms",
      reference: percentile(times.bare, 0.95),
      referenceIs: "reading current values, findings and alarms",
      target: { of: "ours", atMost: 100 },
    } as const;
    const size = `${systems} systems, ${streams.length} streams`;
    return [
      { what: `Systems, ${size}, p95`, ours: percentile(times.systems, 0.95), ...reference },
      { what: `Overnight, ${size}, p95`, ours: percentile(times.overnight, 0.95), ...reference },
    ];
  } finally {
    await dispose();
  }
}
