import type { z } from "zod";
import {
  addPointRequest,
  type addSystemRequest,
  type ChangeAnswer,
  changePointRequest,
} from "#contract/set-up-forms.ts";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import type { PointRole } from "#core/set-up/point-role.ts";
import type { Instant } from "#core/time/instant.ts";
import { DAY } from "#core/time/instant.ts";
import type { Point } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { invalid, notFound, shorten } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { answerOf } from "./change-band.ts";
import { taken } from "./taken.ts";

const OLDEST = 20 * 366 * DAY;
/** Where nobody names the points of a new system. */
const FIRST = { code: "display", role: "exhibit" } as const;

const roleOf = (code: string, role: PointRole | undefined): Pick<Point, "role" | "roleGuessed"> =>
  role === undefined ? { role: guessedRole(code), roleGuessed: true } : { role, roleGuessed: false };

const namesOf = (at: SystemSetUp) => at.points.map((point) => point.code).join(", ");

/** The points of a new system as they were asked for. Throws AppError "invalid" where a name comes twice. */
export function firstPoints(
  asked: z.output<typeof addSystemRequest>["points"],
  system: string,
  newId: () => string,
): Point[] {
  const wanted = (asked ?? [FIRST]).map((each) =>
    typeof each === "string" ? { code: each, role: undefined } : { code: each.code, role: each.role },
  );
  if (new Set(wanted.map(({ code }) => code)).size !== wanted.length)
    throw invalid([{ field: "points", value: null, says: "lists a point twice", remedy: "list each once" }]);
  return wanted.map(({ code, role }) => ({
    id: newId(),
    system,
    code,
    ...roleOf(code, role),
    twinOf: null,
  }));
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
        remedy: `use one of ${namesOf(at)}`,
      },
    ]);
  const now = deps.clock();
  const point: Point = {
    id: deps.newId(now),
    system: at.system.id,
    code: request.code,
    ...roleOf(request.code, request.role),
    twinOf: twinOf?.id ?? null,
  };
  const subject = `point:${point.id}`;
  const written = await deps.store.writeSetUp(
    { points: [point] },
    [{ system: at.system.id, from: now }],
    now,
    audited(actor, now, "add-point", subject, { point }),
  );
  return answerOf(written, subject, false, now);
}

function judgedFrom(asked: Instant | undefined, now: Instant): Instant {
  if (asked === undefined) return now;
  if (asked > now || asked < now - OLDEST)
    throw invalid([
      {
        field: "from",
        value: new Date(asked).toISOString(),
        says: "is in the future, or more than 20 years ago",
        remedy: "give the time from which the water is judged again",
      },
    ]);
  return asked;
}

/**
 * Says what a point is for; a guess that is right is confirmed by saying the same. The water is judged again from the time given, from now on
 * where none is. Throws AppError "forbidden", "not_found", "invalid".
 */
export async function changePoint(
  deps: WriteDeps,
  actor: Actor,
  system: string,
  code: string,
  body: unknown,
): Promise<ChangeAnswer> {
  demandSomewhere(actor, "change-system");
  const request = parse(changePointRequest, body);
  const { at, before } = await lookUp(deps.setUp, (index) => {
    const found = systemOf(index, system);
    const point = found.points.find((row) => row.code === code);
    if (!point) throw notFound("point", code, `Points of ${system} are ${namesOf(found)}.`);
    return { at: found, before: point };
  });
  demandAt(actor, "change-system", at);
  if (before.role === request.role && !before.roleGuessed)
    throw invalid([
      { field: "role", value: request.role, says: "is already its role", remedy: "choose another role" },
    ]);
  const now = deps.clock();
  const from = judgedFrom(request.from, now);
  const after: Point = { ...before, role: request.role, roleGuessed: false };
  const subject = `point:${before.id}`;
  const written = await deps.store.writeSetUp(
    { points: [after] },
    [{ system: at.system.id, from }],
    now,
    audited(actor, now, "change-point", subject, { before, after, from, reason: request.reason }),
  );
  return answerOf(written, subject, true, now);
}
