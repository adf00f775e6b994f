import {
  addPointRequest,
  addSystemRequest,
  type ChangeAnswer,
  changeSystemRequest,
} from "#contract/set-up-forms.ts";
import type { System } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, invalid, notFound, shorten } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demand, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, systemOf } from "../set-up.ts";
import { answerOf } from "./change-band.ts";

const POINTS = ["display"];

const taken = (field: string, value: string, what: string) =>
  new AppError("conflict", `${what} "${shorten(value)}" exists already.`, {
    issues: [{ field, value, says: "exists already", remedy: "choose another short name" }],
  });

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
  const codes = request.points ?? POINTS;
  if (new Set(codes).size !== codes.length)
    throw invalid([{ field: "points", value: null, says: "names a point twice", remedy: "name each once" }]);
  const system: System = {
    id: deps.newId(now),
    site: site.id,
    code: request.code,
    name: request.name,
    kind: request.kind,
    water: request.water,
    volume: request.volume,
    duty: request.duty ?? null,
    opened: request.opened ?? now,
    closed: null,
    youngFilter: request.youngFilter ?? false,
  };
  const points = codes.map((code) => ({ id: deps.newId(now), system: system.id, code, twinOf: null }));
  const subject = `system:${system.code}`;
  const written = await deps.store.writeSetUp(
    { systems: [system], points },
    [{ system: system.id, from: now }],
    now,
    audited(actor, now, "add-system", subject, { system, points, reason: request.reason ?? null }),
  );
  return answerOf(written, subject, false, now);
}

/** Changes what is said of a system, with a reason. Throws AppError "forbidden", "not_found", "invalid". */
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
    throw invalid([
      { field: "", value: null, says: "nothing is changed", remedy: "give the field to change" },
    ]);
  const before = at.system;
  const after: System = { ...before, ...given };
  if (after.closed !== null && after.closed < after.opened)
    throw invalid([
      {
        field: "closed",
        value: new Date(after.closed).toISOString(),
        says: "lies before it was opened",
        remedy: "check the date",
      },
    ]);
  const subject = `system:${before.code}`;
  const written = await deps.store.writeSetUp(
    { systems: [after] },
    [{ system: before.id, from: now }],
    now,
    audited(actor, now, "change-system", subject, { before, after, reason }),
  );
  return answerOf(written, subject, true, now);
}

/** Sets up a point of a system. Throws AppError "forbidden", "not_found"; "conflict" where the short name is taken. */
export async function addPoint(
  deps: WriteDeps,
  actor: Actor,
  system: string,
  body: unknown,
): Promise<ChangeAnswer> {
  demandSomewhere(actor, "change-system");
  const request = parse(addPointRequest, body);
  const at = await lookUp(deps.setUp, (index) => systemOf(index, system));
  demandAt(actor, "change-system", at);
  if (at.points.some((point) => point.code === request.code)) throw taken("code", request.code, "A point");
  const twin = request.twinOf === undefined || request.twinOf === null ? null : request.twinOf;
  const twinOf = twin === null ? null : at.points.find((point) => point.code === twin);
  if (twinOf === undefined)
    throw invalid([
      {
        field: "twinOf",
        value: shorten(twin),
        says: `is not a point of ${system}`,
        remedy: `use one of ${at.points.map((point) => point.code).join(", ")}`,
      },
    ]);
  const now = deps.clock();
  const point = { id: deps.newId(now), system: at.system.id, code: request.code, twinOf: twinOf?.id ?? null };
  const subject = `point:${point.id}`;
  const written = await deps.store.writeSetUp(
    { points: [point] },
    [{ system: at.system.id, from: now }],
    now,
    audited(actor, now, "add-point", subject, { point }),
  );
  return answerOf(written, subject, false, now);
}
