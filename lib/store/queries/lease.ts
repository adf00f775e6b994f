import { and, eq } from "drizzle-orm";
import type { Database } from "../kits/postgres.ts";
import type { Lease } from "../port.ts";
import type { Tables } from "../tables/tables.ts";

/** Takes or prolongs a lease where it is free, expired or the holder's own; the epoch rises with each change of holder. */
export async function acquireLease(
  db: Database,
  { lease }: Tables,
  wanted: { readonly name: string; readonly holder: string; readonly now: number; readonly forMs: number },
): Promise<Lease | null> {
  const { name, holder } = wanted;
  const expires = wanted.now + wanted.forMs;
  const [held] = await db.select().from(lease).where(eq(lease.name, name));
  if (held === undefined) {
    await db.insert(lease).values({ name, holder, epoch: 1, expires });
    return { epoch: 1 };
  }
  if (held.holder !== holder && held.expires > wanted.now) return null;
  const epoch = held.holder === holder ? held.epoch : held.epoch + 1;
  await db.update(lease).set({ holder, epoch, expires }).where(eq(lease.name, name));
  return { epoch };
}

/** Gives a lease back; does nothing where somebody else holds it by now. */
export async function releaseLease(
  db: Database,
  { lease }: Tables,
  name: string,
  given: Lease,
): Promise<void> {
  await db
    .update(lease)
    .set({ holder: "", expires: 0 })
    .where(and(eq(lease.name, name), eq(lease.epoch, given.epoch)));
}
