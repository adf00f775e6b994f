import { createHash } from "node:crypto";
import type * as z from "zod";
import type { AuditView, auditQuery } from "#contract/people.ts";
import { type AuditCheck, type AuditRow, chainedText } from "#core/audit/audit.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { demand } from "../permission.ts";

const USUAL = 100;

/** Whether rows, newest first, follow from one another. */
function followsAll(rows: readonly AuditRow[]): boolean {
  return rows.every((row, i) => {
    const before = rows[i + 1];
    const hash = createHash("sha256").update(chainedText(row)).digest("hex");
    const isNext = before?.seq !== row.seq - 1 || before.hash === row.before;
    return hash === row.hash && isNext;
  });
}

/** The audit trail, newest first. Throws AppError "forbidden" for anyone who may not read it. */
export async function readAudit(
  deps: Pick<WriteDeps, "store">,
  actor: Actor,
  query: z.output<typeof auditQuery>,
): Promise<AuditView> {
  demand(actor, "read-audit");
  const { before, actor: by, verb, limit = USUAL } = query;
  const rows = await deps.store.readAudit({
    limit,
    ...(before === undefined ? {} : { before }),
    ...(by === undefined ? {} : { actor: by }),
    ...(verb === undefined ? {} : { verb }),
  });
  return {
    rows: rows.map(({ seq, at, actor: name, verb: done, subject, record, hash }) => ({
      seq,
      at,
      actor: name,
      verb: done,
      subject,
      record,
      hash,
    })),
    next: rows.length === limit ? (rows.at(-1)?.seq ?? null) : null,
    intact: followsAll(rows),
  };
}

/** Follows the whole chain. Throws AppError "forbidden" for anyone who may not read it. */
export async function checkAudit(deps: Pick<WriteDeps, "store">, actor: Actor): Promise<AuditCheck> {
  demand(actor, "read-audit");
  return deps.store.verifyAudit();
}
