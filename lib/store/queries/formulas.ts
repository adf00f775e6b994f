import { inArray } from "drizzle-orm";
import type { Database } from "../kits/postgres.ts";
import type { Tables } from "../tables/tables.ts";
import { chunks } from "./rows.ts";

/** The number of each of these texts, given out where a text is new. There are few: one an equation and set of constants. */
export async function formulaNumbers(
  db: Database,
  { formula }: Tables,
  texts: ReadonlySet<string>,
): Promise<ReadonlyMap<string, number>> {
  const numbers = new Map<string, number>();
  for (const chunk of chunks([...texts])) {
    const known = await db.select().from(formula).where(inArray(formula.text, chunk));
    for (const { id, text } of known) numbers.set(text, id);
    const fresh = chunk.filter((text) => !numbers.has(text));
    if (fresh.length === 0) continue;
    const made = await db
      .insert(formula)
      .values(fresh.map((text) => ({ text })))
      .returning();
    for (const { id, text } of made) numbers.set(text, id);
  }
  return numbers;
}
