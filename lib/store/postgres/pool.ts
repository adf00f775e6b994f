import pg from "pg";

// A wait long enough for a failover's first seconds, short enough that a page says "unavailable" instead of hanging.
const CONNECT_MS = 10_000;
const INT8 = 20;

/** Connections whose whole numbers arrive as numbers (node-postgres hands int8 over as text). */
export function openPool(url: string, max: number): pg.Pool {
  const pool = new pg.Pool({
    connectionString: url,
    max,
    connectionTimeoutMillis: CONNECT_MS,
    types: {
      getTypeParser: (oid: number, format?: "text" | "binary") =>
        oid === INT8 && format !== "binary" ? Number : pg.types.getTypeParser(oid, format as "text"),
    },
  });
  // A connection that breaks while idle, or between two statements of a transaction, reports it as an event and would end the
  // process. Nothing is lost here: the pool drops the connection, and the next statement on it rejects with the cause.
  pool.on("error", () => undefined);
  pool.on("connect", (client) => client.on("error", () => undefined));
  return pool;
}

/** Runs a body between `begin` and `commit` on one connection; rolls back and rejects with the body's error. */
export async function transact<T>(
  pool: pg.Pool,
  begin: string,
  body: (client: pg.PoolClient) => Promise<T>,
): Promise<T> {
  const client = await pool.connect();
  let broken = false;
  try {
    await client.query(begin);
    const result = await body(client);
    const end = await client.query("commit");
    // PostgreSQL answers the commit of a failed transaction with a rollback and no error.
    if (end.command !== "COMMIT")
      throw new Error(`the transaction ended with ${end.command} instead of COMMIT`);
    return result;
  } catch (error) {
    await client.query("rollback").catch(() => {
      broken = true;
    });
    throw error;
  } finally {
    client.release(broken);
  }
}
