import type pg from "pg";
import type { StoredReading } from "../port.ts";
import type { Engine } from "../queries/engine.ts";
import { type MarkRow, markFinder } from "../spans.ts";

type Row = [stream: number, at: number, value: number, received: number, source: number];

/** The evaluator's reads as named statements. */
export function readingReads(
  pool: pg.Pool,
): Pick<Engine, "readingsOf" | "readingsBetween" | "firstReadingAt"> {
  const read = async (name: string, text: { readings: string; marks: string }, values: unknown[]) => {
    const rows = await pool.query<Row>({ name, text: text.readings, values, rowMode: "array" });
    const marks = await pool.query<MarkRow>({ name: `${name}-marks`, text: text.marks, values });
    const markOf = markFinder(marks.rows);
    return rows.rows.map(
      ([stream, at, value, received, source]): StoredReading => ({
        stream,
        at,
        value,
        received,
        source,
        mark: markOf(stream, at),
      }),
    );
  };

  return {
    async readingsOf(entries) {
      const spans = entries.flatMap(({ spans: of, received }) =>
        (of?.readings ?? []).map(([stream, from, to]) => ({ stream, from, to, received })),
      );
      if (spans.length === 0) return [];
      return await read(
        "readings-of",
        {
          readings: `select r.stream, r.at, r.value, s.received, r.source
            from ${SPANS} join lateral (
              select * from reading where stream = s.stream and at between s.first and s.last and at + delay = s.received
            ) r on true order by s.received, r.at, r.stream`,
          marks: `select m.stream, m.at, m.mark
            from ${SPANS} join reading_mark m on m.stream = s.stream and m.at between s.first and s.last and m.received = s.received`,
        },
        [
          spans.map((span) => span.stream),
          spans.map((span) => span.from),
          spans.map((span) => span.to),
          spans.map((span) => span.received),
        ],
      );
    },
    async readingsBetween(streams, from, to, receivedUpTo) {
      const range = "stream = any($1::integer[]) and at >= $2 and at < $3";
      return await read(
        "readings-between",
        {
          readings: `select stream, at, value, at + delay, source from reading
            where ${range} and at + delay <= $4
              and source <> all (array(select source from import_run where withdrawn <= $4)) order by at, stream`,
          marks: `select stream, at, mark from reading_mark where ${range} and received <= $4`,
        },
        [streams, from, to, receivedUpTo],
      );
    },
    async firstReadingAt(streams, from) {
      const found = await pool.query<{ at: number | null }>({
        name: "reading-first",
        text: `select min(r.at) as at from unnest($1::integer[]) as s(stream) join lateral (
            select at from reading where stream = s.stream and at >= $2
              and source <> all (array(select source from import_run where withdrawn is not null)) order by at limit 1
          ) r on true`,
        values: [streams, from],
      });
      return found.rows[0]?.at ?? null;
    },
  };
}

const SPANS =
  "unnest($1::integer[], $2::bigint[], $3::bigint[], $4::bigint[]) as s(stream, first, last, received)";
