/** What a curator signs: a compromise where the animals' ranges do not overlap, and the action limits that follow the residents. */

import { compromiseRequest, confirmBandRequest, type HabitatAnswer } from "#contract/habitat.ts";
import { compromiseWords } from "#core/habitat/compromise-words.ts";
import { type Compromise, composite, faultsAt, livingAt, type Side } from "#core/habitat/index.ts";
import { askedAt, followResidents, YEAR_ROUND } from "#core/set-up/follow-residents.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, systemOf } from "../set-up.ts";
import { logOf, momentOf, writeChange } from "./habitat-write.ts";

const sideKey = ({ low, high }: { low: Side; high: Side }) =>
  [low.species, low.stage, high.species, high.stage].join("\u0000");

/**
 * Records the compromise a curator signs for months in which the residents have no range in common, with reason and date; one row for each
 * pair of sides. It sets target and limits from its date, and the conflict goes on showing. Throws AppError "forbidden", "not_found",
 * "invalid" where a month has no conflict or the numbers are not sound.
 */
export async function signCompromise(
  deps: WriteDeps,
  actor: Actor,
  system: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-habitat");
  const request = parse(compromiseRequest, body);
  const at = await lookUp(deps.setUp, (index) => systemOf(index, system));
  demandAt(actor, "change-habitat", at);
  const now = deps.clock();
  const from = momentOf("from", request.from, now);
  const { low, high, actionLow, actionHigh, quantity } = request;
  const faults = faultsAt({ low, high, actionLow, actionHigh, urgentLow: null, urgentHigh: null });
  if (faults.length > 0)
    throw invalid(
      faults.map(({ edge, says }) => ({
        field: edge,
        value: null,
        says,
        remedy: "put action limits outside the band edges, and urgent limits beyond those",
      })),
    );
  const habitat = await deps.store.readHabitat();
  const here = livingAt(at.residents, at.system.id, from);
  const made = composite(quantity, here, habitat.profiles, [], from);
  const pairs = new Map<string, { low: Side; high: Side; months: number[] }>();
  for (const month of new Set(request.months)) {
    const conflict = made.months[month - 1]?.conflict;
    if (!conflict)
      throw invalid([
        {
          field: "months",
          value: String(month),
          says: "is not a month in conflict: no known ranges of the residents contradict each other",
          remedy: "leave it out",
        },
      ]);
    const sides = { low: conflict.low, high: conflict.high };
    const known = pairs.get(sideKey(sides));
    if (known) known.months.push(month);
    else pairs.set(sideKey(sides), { ...sides, months: [month] });
  }
  const signed = [...pairs.values()].map(
    (pair): Compromise => ({
      id: deps.newId(now),
      system: at.system.id,
      quantity,
      months: pair.months.sort((a, b) => a - b),
      lowSide: { species: pair.low.species, stage: pair.low.stage },
      highSide: { species: pair.high.species, stage: pair.high.stage },
      low,
      high,
      actionLow,
      actionHigh,
      reason: request.reason,
      signedBy: actor.name,
      signedAt: now,
      validFrom: from,
      validTo: null,
    }),
  );
  const written = followResidents(
    {
      at,
      stays: at.residents,
      profiles: habitat.profiles,
      compromises: [...habitat.compromises, ...signed],
      from,
      now,
      newId: deps.newId,
      by: actor.name,
      reason: request.reason,
      signature: { quantity, months: request.months, from, by: actor.name, reason: request.reason },
    },
    quantity,
  );
  const [first] = signed;
  if (!first) throw new AppError("invalid", "No month was given.");
  const text = `Compromise signed for ${compromiseWords(request)}: ${request.reason}`;
  const log = logOf(deps, actor, now, { kind: "note", systems: [at.system.id], at: from, text, animals: [] });
  return writeChange(
    deps,
    actor,
    now,
    "sign-compromise",
    `compromise:${first.id}`,
    first.id,
    { compromises: signed, setUp: { bands: written.bands }, bandBasis: written.bandBasis, log: [log] },
    [{ system: at.system.id, from: Math.min(from, now) }],
  );
}

/**
 * Confirms the action limits that follow the residents (or the type) for a quantity: from then on they ring, tighter or looser than before.
 * A band somebody typed ends there, and the quantity follows the residents. Throws AppError "forbidden", "not_found", "conflict".
 */
export async function confirmBand(
  deps: WriteDeps,
  actor: Actor,
  system: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-habitat");
  const request = parse(confirmBandRequest, body);
  const at = await lookUp(deps.setUp, (index) => systemOf(index, system));
  demandAt(actor, "change-habitat", at);
  const now = deps.clock();
  const from = momentOf("from", request.from, now);
  const { profiles, compromises } = await deps.store.readHabitat();
  const following = { at, stays: at.residents, profiles, compromises };
  const { quantity, reason } = request;
  const name = labelInSentence(labelOf(quantity).label);
  if (!askedAt(following, quantity, from))
    throw notFound(
      "band",
      quantity,
      "Neither the residents' profiles nor the default bands of the system say anything about it.",
    );
  const written = followResidents(
    {
      ...following,
      from,
      now,
      newId: deps.newId,
      by: actor.name,
      reason,
      signature: { quantity, months: YEAR_ROUND, from, by: actor.name, reason },
    },
    quantity,
  );
  const id = written.bands.findLast((band) => band.validFrom === from)?.id;
  if (id === undefined)
    throw new AppError("conflict", `The ${name} band is already what the residents need, and confirmed.`);
  const log = logOf(deps, actor, now, {
    kind: "note",
    systems: [at.system.id],
    at: from,
    text: `Limits of ${name} confirmed: ${reason}`,
    animals: [],
  });
  return writeChange(
    deps,
    actor,
    now,
    "confirm-band",
    `band:${id}`,
    id,
    { setUp: { bands: written.bands }, bandBasis: written.bandBasis, log: [log] },
    [{ system: at.system.id, from: Math.min(from, now) }],
  );
}
