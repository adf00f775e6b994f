import { type HabitatAnswer, withdrawCompromiseRequest } from "#contract/habitat.ts";
import { compromiseWords } from "#core/habitat/compromise-words.ts";
import type { Compromise } from "#core/habitat/index.ts";
import { followResidents } from "#core/set-up/follow-residents.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, invalid } from "../errors.ts";
import { parse } from "../parse.ts";
import { demandSomewhere } from "../permission.ts";
import { changeable, logOf, momentOf, writeChange } from "./habitat-write.ts";

/**
 * Withdraws a signed compromise from a day on: it stays in history with its end, and from then on its months are a conflict again, which waits
 * for a person. The limits that stood go on ringing until somebody signs others: nothing loosens by itself. Throws AppError "forbidden",
 * "not_found", "conflict" where it has ended by then, "invalid" where the day lies before it was in force.
 */
export async function withdrawCompromise(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-habitat");
  const request = parse(withdrawCompromiseRequest, body);
  const habitat = await deps.store.readHabitat();
  const { row: signed, at } = await changeable(deps, actor, "compromise", habitat.compromises, id);
  const now = deps.clock();
  const from = momentOf("from", request.from, now);
  if (signed.validTo !== null && signed.validTo <= from)
    throw new AppError("conflict", "This compromise has ended by then: there is nothing to withdraw.");
  if (from < signed.validFrom)
    throw invalid([
      {
        field: "from",
        value: new Date(from).toISOString(),
        says: "is before the compromise came into force",
        remedy: `give ${new Date(signed.validFrom).toISOString()} or later`,
      },
    ]);
  const ended: Compromise = { ...signed, validTo: from };
  const { quantity } = signed;
  const reason = `Compromise withdrawn: ${request.reason}`;
  const written = followResidents(
    {
      at,
      stays: at.residents,
      profiles: habitat.profiles,
      compromises: habitat.compromises.map((each) => (each.id === id ? ended : each)),
      from,
      now,
      newId: deps.newId,
      by: actor.name,
      reason,
      signature: null,
      startsNewVersion: true,
    },
    quantity,
  );
  const log = logOf(deps, actor, now, {
    kind: "note",
    systems: [at.system.id],
    at: from,
    text: `Compromise for ${compromiseWords(signed)}, withdrawn: ${request.reason}`,
    animals: [],
  });
  return writeChange(
    deps,
    actor,
    now,
    "withdraw-compromise",
    `compromise:${id}`,
    id,
    { compromises: [ended], setUp: { bands: written.bands }, bandBasis: written.bandBasis, log: [log] },
    [{ system: at.system.id, from: Math.min(from, now) }],
  );
}
