import { addSystemRequest, type ChangeAnswer, changeSystemRequest } from "#contract/set-up-forms.ts";
import { systemType } from "#core/set-up/system-type.ts";
import type { Instant } from "#core/time/instant.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import type { System } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demand, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { answerOf } from "./change-band.ts";
import { firstPoints } from "./change-point.ts";
import { taken } from "./taken.ts";

/** Throws AppError "conflict" where animals live in a system that is to keep none. */
export function demandEmpty(at: SystemSetUp, after: System, now: Instant): void {
  const { keepsAnimals, label } = systemType(after.type);
  if (keepsAnimals || at.residents.every((stay) => stay.to !== null && stay.to <= now)) return;
  throw new AppError(
    "conflict",
    `${after.name} cannot be a ${labelInSentence(label)} while animals live in it.`,
    {
      issues: [
        { field: "type", value: after.type, says: "keeps no animals", remedy: "move the animals out first" },
      ],
    },
  );
}

/** Sets up a system with its points. Throws AppError "forbidden", "not_found", "invalid"; "conflict" where the short name is taken. */
export async function addSystem(deps: WriteDeps, actor: Actor, body: unknown): Promise<ChangeAnswer> {
  demandSomewhere(actor, "change-system");
  const request = parse(addSystemRequest, body);
  const now = deps.clock();
  const { site, index } = await lookUp(deps.setUp, (found) => {
    const known = found.setUp.sites.find((row) => row.code === request.site);
    if (!known)
      throw notFound(
        "site",
        request.site,
        `Sites are ${found.setUp.sites.map((row) => row.code).join(", ")}.`,
      );
    return { site: known, index: found };
  });
  demand(actor, "change-system", { site: site.id, system: null }, site.code);
  if (index.byCode.has(request.code)) throw taken("code", request.code, "A system");
  const system: System = {
    id: deps.newId(now),
    site: site.id,
    code: request.code,
    name: request.name,
    kind: request.kind,
    type: request.type,
    startingBands: request.startingBands ?? null,
    water: request.water,
    volume: request.volume,
    duty: request.duty ?? null,
    opened: request.opened ?? now,
    closed: null,
    youngFilter: request.youngFilter ?? systemType(request.type).hasYoungFilter,
  };
  const points = firstPoints(request.points, system.id, () => deps.newId(now));
  const subject = `system:${system.code}`;
  const written = await deps.store.writeSetUp(
    { systems: [system], points },
    [{ system: system.id, from: now }],
    now,
    audited(actor, now, "add-system", subject, { system, points, reason: request.reason ?? null }),
  );
  return answerOf(written, subject, false, now);
}

/** Changes the details of a system, with a reason. Throws AppError "forbidden", "not_found", "invalid"; "conflict" where animals are in the way of a type. */
export async function changeSystem(
  deps: WriteDeps,
  actor: Actor,
  code: string,
  body: unknown,
): Promise<ChangeAnswer> {
  demandSomewhere(actor, "change-system");
  const { reason, ...fields } = parse(changeSystemRequest, body);
  const at = await lookUp(deps.setUp, (index) => systemOf(index, code));
  demandAt(actor, "change-system", at);
  const now = deps.clock();
  const given = Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));
  if (Object.keys(given).length === 0)
    throw invalid([{ field: "", value: null, says: "changes nothing", remedy: "give the field to change" }]);
  const before = at.system;
  const after: System = { ...before, ...given };
  if (after.closed !== null && after.closed < after.opened)
    throw invalid([
      {
        field: "closed",
        value: new Date(after.closed).toISOString(),
        says: "is before it was opened",
        remedy: "check the date",
      },
    ]);
  if (after.type !== before.type) demandEmpty(at, after, now);
  const subject = `system:${before.code}`;
  const written = await deps.store.writeSetUp(
    { systems: [after] },
    [{ system: before.id, from: now }],
    now,
    audited(actor, now, "change-system", subject, { before, after, reason }),
  );
  return answerOf(written, subject, true, now);
}
