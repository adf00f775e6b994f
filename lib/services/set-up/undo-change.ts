import { type ChangeAnswer, undoRequest } from "#contract/set-up-forms.ts";
import { canonicalJson } from "#core/audit/audit.ts";
import type { TargetBand } from "#core/habitat/index.ts";
import { firstDifference } from "#core/set-up/probe-basis.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Point, SetUp, Stream, System } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandAt, demandSomewhere } from "../permission.ts";
import { type IndexedSetUp, lookUp, type SystemSetUp } from "../set-up.ts";
import { answerOf, type EndedBand, endedBy } from "./change-band.ts";
import { demandEmpty } from "./change-system.ts";

const RIGHTS = {
  "change-band": "change-band",
  "change-system": "change-system",
  "change-stream": "change-stream",
  "change-point": "change-system",
} as const;
type Verb = keyof typeof RIGHTS;
const isVerb = (verb: string): verb is Verb => Object.hasOwn(RIGHTS, verb);

interface Undoing {
  readonly at: SystemSetUp;
  readonly change: Partial<SetUp>;
  readonly from: Instant;
}

const overtaken = () =>
  new AppError(
    "conflict",
    "This has been changed again since: look at the present set-up, then change that.",
  );
type EarlierSystem = Omit<System, "type" | "startingBands"> & Partial<System>;
/** Of a stream what is its own; the name and the role of its point are not. */
const ownOf = ({ pointCode: _code, pointRole: _role, ...own }: Stream) => own;
const same = (a: unknown, b: unknown) => canonicalJson(a) === canonicalJson(b);

function systemOfId(index: IndexedSetUp, id: string): SystemSetUp {
  const at = index.byId.get(id);
  if (!at) throw notFound("system", id, "It is no longer set up.");
  return at;
}

/** Bands as they were, as new versions; the undone one ends where it began, and stays readable. */
function undoBand(
  deps: WriteDeps,
  actor: Actor,
  index: IndexedSetUp,
  { band, ended }: { readonly band: TargetBand; readonly ended: readonly EndedBand[] },
  reason: string,
  now: Instant,
): Undoing {
  const at = systemOfId(index, band.system);
  const current = at.bands.find((row) => row.id === band.id);
  if (!current || current.validTo !== null || endedBy(at.bands, band).length !== 1) throw overtaken();
  const again = ended.flatMap(({ id, validTo }): TargetBand[] => {
    const old = at.bands.find((row) => row.id === id);
    if (!old) return [];
    const validFrom = Math.max(old.validFrom, band.validFrom);
    return [{ ...old, id: deps.newId(now), validFrom, validTo, recordedAt: now, setBy: actor.name, reason }];
  });
  return {
    at,
    change: { bands: [{ ...current, validTo: current.validFrom }, ...again] },
    from: Math.min(band.validFrom, now),
  };
}

function undoing(
  deps: WriteDeps,
  actor: Actor,
  index: IndexedSetUp,
  verb: Verb,
  record: unknown,
  reason: string,
  now: Instant,
): Undoing {
  switch (verb) {
    case "change-band":
      return undoBand(deps, actor, index, record as Parameters<typeof undoBand>[3], reason, now);
    case "change-system": {
      const { before, after } = record as { before: EarlierSystem; after: EarlierSystem };
      const at = systemOfId(index, after.id);
      const { type, startingBands } = at.system;
      // Rows of an older program know neither, so both stay as they are.
      if (!same(at.system, { type, startingBands, ...after })) throw overtaken();
      const again: System = { type, startingBands, ...before };
      if (again.type !== type) demandEmpty(at, again, now);
      return { at, change: { systems: [again] }, from: now };
    }
    case "change-stream": {
      const { before, after } = record as { before: Stream; after: Stream };
      const current = index.streams.get(after.id);
      if (!current || !same(ownOf(current), ownOf(after))) throw overtaken();
      const from = Math.min(now, firstDifference(before.basis, after.basis) ?? now);
      return { at: systemOfId(index, after.system), change: { streams: [before] }, from };
    }
    case "change-point": {
      const { before, after, from } = record as { before: Point; after: Point; from: Instant };
      const at = systemOfId(index, after.system);
      if (!same(at.points.find((point) => point.id === after.id) ?? null, after)) throw overtaken();
      return { at, change: { points: [before] }, from: Math.min(from, now) };
    }
  }
}

/**
 * Undoes a change of set-up by the number of its audit row: what was before is written as a new version. Throws AppError "forbidden",
 * "not_found", "invalid"; "conflict" where it cannot be undone or was overtaken.
 */
export async function undoChange(
  deps: WriteDeps,
  actor: Actor,
  change: number,
  body: unknown,
): Promise<ChangeAnswer> {
  demandSomewhere(actor, "change-stream");
  const { reason } = parse(undoRequest, body);
  const row = Number.isSafeInteger(change) ? await deps.store.readAuditRow(change) : null;
  if (!row) throw notFound("change", String(change), "The answer to every set-up change gives its number.");
  const { verb } = row;
  if (!isVerb(verb))
    throw new AppError(
      "conflict",
      `A change of kind "${verb}" cannot be undone: close or change what it made.`,
    );
  const now = deps.clock();
  const done = await lookUp(deps.setUp, (index) =>
    undoing(deps, actor, index, verb, JSON.parse(row.record), reason, now),
  );
  demandAt(actor, RIGHTS[verb], done.at);
  const written = await deps.store.writeSetUp(
    done.change,
    [{ system: done.at.system.id, from: done.from }],
    now,
    audited(actor, now, "undo-change", row.subject, { undoes: change, change: done.change, reason }),
  );
  return answerOf(written, row.subject, false, now);
}
