/** A chart's query of a day and of a year of five-minute data through the service, beside the bare prepared query for the same rows. */
import BetterSqlite3 from "better-sqlite3";
import { THREE_HOURS } from "#core/quality/rollup.ts";
import { DAY, HOUR, type Instant } from "#core/time/instant.ts";
import { readSeries } from "#services/series/read-series.ts";
import { temporaryStore } from "#tests/helpers/open-store.ts";
import {
  type BenchOptions,
  type BenchRow,
  median,
  percentile,
  scaled,
  steadyRandom,
  timed,
} from "../bench-row.ts";
import { CADENCE, MEASURED_PER_SYSTEM, setUpBenchSite } from "../invented-site.ts";
import { readingDeps } from "../reading-deps.ts";

export const name = "trend";

const YEAR = 365 * DAY;
const PER_STREAM = YEAR / CADENCE;
/** Midnight in the bench's zone, in winter. */
const END = Date.parse("2026-01-15T00:00:00Z");

/**
 * A year of five-minute readings for as many streams as it takes, with their rollups: written by the database itself, because what is
 * measured is reading. As far as `readSeries` sees, all of it has been evaluated.
 */
function fill(file: string, streams: readonly number[]): void {
  const connection = new BetterSqlite3(file);
  connection.pragma("synchronous = OFF");
  connection.pragma("cache_size = -200000");
  const insert = connection.prepare(
    `with recursive n(i) as (select 0 union all select i + 1 from n where i + 1 < ?)
     insert into reading (stream, at, value, delay, source, sequence)
     select ?, ? + i * ${CADENCE}, round(15 + sin(i / 45.8) + (i * 7 % 11) * 0.01, 3), 1000, 1, null from n`,
  );
  const roll = connection.prepare(
    `insert into rollup (width, stream, start, n, good, min, max, sum, first, last)
     select @width, stream, at - at % @width, count(*), count(*), min(value), max(value), sum(value), 15, 15
     from reading where stream = @stream group by at - at % @width`,
  );
  for (const stream of streams) {
    connection.transaction(() => {
      insert.run(PER_STREAM, stream, END - YEAR);
      for (const width of [15 * 60_000, THREE_HOURS, DAY]) roll.run({ width, stream });
    })();
  }
  connection.pragma("optimize");
  connection.close();
}

interface Asked {
  readonly from: Instant;
  readonly to: Instant;
  readonly stream: number;
}

export async function run({ readings, scale, say }: BenchOptions): Promise<BenchRow[]> {
  const wanted = scaled(readings, scale, PER_STREAM);
  const systems = Math.max(1, Math.round(wanted / PER_STREAM / MEASURED_PER_SYSTEM));
  const { store, file, dispose } = await temporaryStore();
  try {
    const site = await setUpBenchSite(store, systems, END - YEAR);
    const filling = await timed(() =>
      fill(
        file,
        site.streams.map((stream) => stream.id),
      ),
    );
    const stored = site.streams.length * PER_STREAM;
    say(`  ${stored} readings stored in ${Math.round(filling / 1_000)} s`);
    const clock = () => END;
    const deps = readingDeps(store, clock);
    const bare = new BetterSqlite3(file, { readonly: true });
    const raw = bare
      .prepare<[number, number, number], unknown[]>(
        "select at, value, delay from reading where stream = ? and at >= ? and at < ? order by at",
      )
      .raw();
    const rollups = bare
      .prepare<[number, number, number, number], unknown[]>(
        "select start, n, good, min, max, sum from rollup where width = ? and stream = ? and start >= ? and start < ? order by start",
      )
      .raw();
    const random = steadyRandom();
    const ask = (span: number): Asked & { query: Parameters<typeof readSeries>[2]; system: string } => {
      const stream = site.streams[Math.floor(random() * site.streams.length)] as (typeof site.streams)[0];
      const to = END - Math.floor((random() * (YEAR - span)) / HOUR) * HOUR;
      const [from, { quantity, pointCode: point, system }] = [to - span, stream];
      return { from, to, stream: stream.id, system, query: { quantity, point, from, to } };
    };
    const repeat = scaled(300, scale, 20);
    const measured = async (span: number, reference: (asked: Asked) => readonly unknown[]) => {
      const [ours, theirs]: [number[], number[]] = [[], []];
      let columns = 0;
      for (let n = -20; n < repeat; n += 1) {
        const asked = ask(span);
        let rows = 0;
        // In turn who goes first, so that neither always finds the pages in memory.
        const query = async () => {
          const ms = await timed(async () => {
            columns = (await readSeries(deps, asked.system, asked.query)).columns.at.length;
          });
          if (n >= 0) ours.push(ms);
        };
        const statement = async () => {
          const ms = await timed(() => {
            rows = reference(asked).length;
          });
          if (n >= 0) theirs.push(ms);
        };
        for (const each of n % 2 === 0 ? [query, statement] : [statement, query]) await each();
        if (columns !== rows) throw new Error(`${columns} columns beside ${rows} rows of the bare query`);
      }
      return { ours, theirs, columns };
    };
    const day = await measured(DAY, ({ stream, from, to }) => raw.all(stream, from, to));
    const year = await measured(YEAR, ({ stream, from, to }) => rollups.all(DAY, stream, from, to));
    bare.close();
    const rows = (
      what: string,
      { ours, theirs, columns }: typeof day,
      target: BenchRow["target"],
    ): BenchRow => ({
      what: `${what} (${columns} columns), p95`,
      unit: "ms",
      ours: percentile(ours, 0.95),
      reference: percentile(theirs, 0.95),
      referenceIs: "the bare prepared query",
      target,
    });
    return [
      rows("a day", day, { of: "ours", atMost: 15 }),
      rows("a year", year, { of: "ours", atMost: 3 }),
      {
        what: "a year beside a day",
        unit: "ms",
        ours: median(year.ours),
        reference: median(day.ours),
        referenceIs: `a day through the service; ${(stored / 1e6).toFixed(1)} million readings stored`,
        target: { of: "ratio", atMost: 2 },
      },
    ];
  } finally {
    await dispose();
  }
}
