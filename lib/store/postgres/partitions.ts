import type pg from "pg";
import { BEGIN_WRITING } from "./locks.ts";
import { transact } from "./pool.ts";

// Instants outside these years are kept in the default partition: a broken clock must not create a thousand tables.
const FIRST_YEAR = 2000;
const LAST_YEAR = 2100;

/** The partition a month of readings lies in: UTC, [from, to) in milliseconds; null where it is the default one. */
export function partitionOf(
  at: number,
): { readonly name: string; readonly from: number; readonly to: number } | null {
  const date = new Date(at);
  const year = date.getUTCFullYear();
  const month = date.getUTCMonth();
  if (!(year >= FIRST_YEAR && year < LAST_YEAR)) return null;
  return {
    name: `reading_${year}_${String(month + 1).padStart(2, "0")}`,
    from: Date.UTC(year, month),
    to: Date.UTC(year, month + 1),
  };
}

/** Makes the monthly partitions of readings before the first row of a month is inserted. */
export class Partitions {
  readonly #pool: pg.Pool;
  readonly #known = new Set<string>();

  constructor(pool: pg.Pool) {
    this.#pool = pool;
  }

  async ensure(instants: readonly number[]): Promise<void> {
    const missing = new Map<string, { from: number; to: number }>();
    let [from, to] = [0, 0];
    for (const at of instants) {
      if (at >= from && at < to) continue;
      const partition = partitionOf(at);
      if (partition === null) continue;
      ({ from, to } = partition);
      if (!this.#known.has(partition.name)) missing.set(partition.name, { from, to });
    }
    if (missing.size === 0) return;
    // In a transaction of its own: the short exclusive lock on the parent table is not held through a batch.
    await transact(this.#pool, BEGIN_WRITING, async (client) => {
      for (const [name, month] of missing) {
        const found = await client.query("select to_regclass($1) as found", [name]);
        if (found.rows[0]?.found !== null) continue;
        await client.query(
          `create table "${name}" partition of reading for values from (${month.from}) to (${month.to})`,
        );
      }
    });
    for (const name of missing.keys()) this.#known.add(name);
  }
}
