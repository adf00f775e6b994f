import { type HandoverAnswer, handoverRequest } from "#contract/handover.ts";
import { canonicalJson } from "#core/audit/audit.ts";
import type { Actor, ReadDeps, WriteDeps } from "../deps.ts";
import { AppError, invalid, shorten } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demand } from "../permission.ts";
import { lookUp, systemOf } from "../set-up.ts";
import { draftHandover, handoverView } from "./read-handovers.ts";

/**
 * Signs a handover, once a client id: freezes what is known now, with the notes, and names to whom the unanswered passes. Throws AppError
 * "forbidden", "invalid"; "conflict" where an alarm is unanswered that was not on the signer's screen.
 */
export async function signHandover(
  deps: WriteDeps & ReadDeps,
  actor: Actor,
  body: unknown,
): Promise<HandoverAnswer> {
  demand(actor, "sign-handover");
  const request = parse(handoverRequest, body);
  const known = await deps.store.readHandover({ clientId: request.clientId });
  if (known) return { handover: handoverView(known), repeated: true };
  const draft = await draftHandover(deps, request.from);
  const seen = new Set(request.seen);
  const unseen = draft.unanswered.filter((alarm) => !seen.has(alarm.id));
  if (unseen.length > 0)
    throw new AppError("conflict", "An alarm has been raised that was not on the screen: reload the draft.", {
      issues: unseen.map((alarm) => ({
        field: "seen",
        value: alarm.id,
        says: `${alarm.systemName}: ${alarm.finding?.says ?? alarm.quantityLabel}`,
        remedy: "read it, then sign",
      })),
    });
  const passesTo = request.passesTo === undefined || request.passesTo === "" ? null : request.passesTo;
  if (draft.unanswered.length > 0 && passesTo === null)
    throw invalid([
      {
        field: "passesTo",
        value: null,
        says: `${draft.unanswered.length} alarms are unanswered`,
        remedy: "say who takes them over",
      },
    ]);
  const notes = await lookUp(deps.setUp, (index) =>
    (request.notes ?? []).map(({ system, text }) => {
      const at = systemOf(index, system);
      return { system: at.system.code, name: at.system.name, text };
    }),
  );
  const { from, to, ...frozen } = draft;
  const signed = deps.clock();
  const id = deps.newId(signed);
  const added = {
    id,
    clientId: request.clientId,
    from,
    to,
    signed,
    signedBy: actor.name,
    signedById: actor.id,
    passesTo,
    unanswered: draft.unanswered.length,
    note: request.note,
    copy: canonicalJson({ ...frozen, notes }),
  };
  const { copy: _copy, ...record } = added;
  const { stored, repeated } = await deps.store.signHandover(
    added,
    audited(actor, signed, "sign-handover", `handover:${shorten(id)}`, {
      ...record,
      alarms: draft.unanswered.map((alarm) => alarm.id),
    }),
  );
  return { handover: handoverView(stored), repeated };
}
