/** Places what came under a clock that ran ahead at the corrected time, and takes that back. Readings never change: they stay as they were sent. */
import { type PlacementAnswer, placeClockRequest, withdrawPlacementRequest } from "#contract/clocks.ts";
import { aheadBy, clockBookOf } from "#core/gateway/clock-book.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { type Store, StoreError } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp } from "../set-up.ts";
import { type ClockGroup, readClockGroups } from "./clock-groups.ts";

/** No stamp that comes under such a clock is older than this: what is older is not believed in any case. */
const OLDEST = 30 * DAY;
const RIGHT = "place-readings";

/**
 * Places the readings of one clock, once a client id; those that still come under it too. The right is needed for every system they are of.
 * Throws AppError "forbidden", "not_found", "invalid"; "conflict" where they are placed already.
 */
export async function placeReadings(
  deps: WriteDeps,
  actor: Actor,
  clock: string,
  body: unknown,
): Promise<PlacementAnswer> {
  demandSomewhere(actor, RIGHT);
  const request = parse(placeClockRequest, body);
  const group = (await readClockGroups(deps.store)).find(({ id }) => id === clock);
  if (!group) throw notFound("clock", clock, "GET /api/v1/clocks lists them.");
  await demandAll(deps, actor, group);
  const now = deps.clock();
  const offset = request.offset ?? group.offset;
  const added = {
    id: deps.newId(now),
    clientId: request.clientId,
    clock,
    offset,
    by: actor.name,
    byId: actor.id,
  };
  const { stored, repeated } = await deps.store
    .placeClock(
      added,
      await judgedAgain(deps.store, group, offset),
      now,
      audited(actor, now, "place-readings", `clock:${clock}`, added),
    )
    .catch(asConflict("These readings are placed already: take that back first."));
  return { placement: stored.id, offset: stored.offset, repeated };
}

/** Takes a placement back: the readings are held again. Throws AppError "forbidden", "not_found", "invalid", "conflict". */
export async function withdrawPlacement(
  deps: WriteDeps,
  actor: Actor,
  placement: string,
  body: unknown,
): Promise<PlacementAnswer> {
  demandSomewhere(actor, RIGHT);
  const request = parse(withdrawPlacementRequest, body);
  const group = (await readClockGroups(deps.store)).find((each) => each.placement?.id === placement);
  if (!group?.placement) throw notFound("placement", placement, "GET /api/v1/clocks lists those in force.");
  await demandAll(deps, actor, group);
  const now = deps.clock();
  const { offset } = group.placement;
  const added = {
    id: deps.newId(now),
    clientId: request.clientId,
    placement,
    by: actor.name,
    byId: actor.id,
    reason: request.reason ?? "taken back",
    at: now,
  };
  await deps.store
    .voidPlacement(
      added,
      await judgedAgain(deps.store, group, offset),
      now,
      audited(actor, now, "withdraw-placement", `clock:${group.id}`, added),
    )
    .catch(asConflict("This placement has been taken back already."));
  return { placement, offset, repeated: false };
}

const asConflict = (says: string) => (cause: unknown) => {
  if (cause instanceof StoreError && cause.code === "invalid")
    throw new AppError("conflict", says, { cause });
  throw cause;
};

async function demandAll(deps: WriteDeps, actor: Actor, { members, id }: ClockGroup): Promise<void> {
  const systems = await lookUp(deps.setUp, (index) =>
    members.map(({ stream }) => {
      const at = index.byId.get(index.streams.get(stream)?.system ?? "");
      if (!at) throw notFound("clock", id, "GET /api/v1/clocks lists them.");
      return at;
    }),
  );
  for (const at of new Set(systems)) demandAt(actor, RIGHT, at);
}

/** From the earliest time that a reading of each stream is placed at. */
async function judgedAgain(
  store: Pick<Store, "readingsBetween">,
  { members, placement, id }: ClockGroup,
  offset: number,
): Promise<{ readonly stream: number; readonly from: Instant }[]> {
  const known = placement ?? { id: "", clientId: "", clock: id, offset, by: "", byId: "", received: 0 };
  const book = clockBookOf(members, [{ ...known, offset }]);
  const since = Math.min(...members.map((each) => each.since));
  const found: { stream: number; from: Instant }[] = [];
  for (const stream of book.keys()) {
    const readings = await store.readingsBetween(
      [stream],
      since - OLDEST,
      Number.MAX_SAFE_INTEGER,
      Number.MAX_SAFE_INTEGER,
    );
    const first = readings.find((reading) => aheadBy(book, reading) === offset);
    if (first) found.push({ stream, from: first.at - offset });
  }
  return found;
}
