import { passwordRequest } from "#contract/people.ts";
import type { Actor } from "../deps.ts";
import { AppError, invalid } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited } from "../permission.ts";
import { passwordFault } from "./password-fault.ts";
import type { PeopleDeps } from "./people.ts";

/**
 * Changes the actor's own password and ends their other sessions; `session` is the token of the one that asks. The only thing open to
 * those who signed in with a one-time password. Throws AppError "forbidden" for anyone who is not a person, "invalid", "too_many".
 */
export async function changeOwnPassword(
  deps: PeopleDeps,
  actor: Actor,
  session: string,
  body: unknown,
): Promise<{ readonly ok: true }> {
  const now = deps.clock();
  const person = actor.kind === "person" ? await deps.store.readPerson({ id: actor.id }, now) : null;
  if (!person) throw new AppError("forbidden", `${actor.name} has no password.`);
  const { current, next } = parse(passwordRequest, body);
  const key = `password:${person.id}`;
  const { windowMs, attemptsAnAccount } = deps.auth.limits;
  const [tried] = await deps.store.readAttempts([key], now, windowMs);
  if (tried && tried.count >= attemptsAnAccount)
    throw new AppError("too_many", "Too many wrong passwords: try again in a quarter of an hour.");
  const refuse = (field: string, says: string, remedy: string) =>
    invalid([{ field, value: null, says, remedy }]);
  if (!(await deps.auth.isPassword(person.id, current))) {
    await deps.store.addAttempt([key], now, windowMs);
    throw refuse("current", "is not your current password", "type the password you signed in with");
  }
  const fault = await passwordFault(next, [person.userName, person.name]);
  if (fault !== undefined) throw refuse("next", fault.says, fault.remedy);
  if (next === current) throw refuse("next", "is your current password", "choose another one");
  const { grants: _grants, sessions: _sessions, ...row } = person;
  await deps.store.writePerson(
    {
      person: { ...row, mustChange: false, oneTimeUntil: null },
      passwordHash: await deps.auth.hash(next),
      endSessions: { but: session },
    },
    now,
    audited(actor, now, "change-own-password", `person:${person.id}`, { userName: person.userName }),
  );
  await deps.store.clearAttempts([key]);
  return { ok: true };
}
