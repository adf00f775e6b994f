import type { BenchAnswer, Question } from "#contract/answers.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { NewBenchTest, Point } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { demandAt } from "../permission.ts";
import { lookUp, type SystemSetUp } from "../set-up.ts";
import { benchAmmonia } from "./bench-ammonia.ts";
import { readTypedValue, type TypedValue } from "./typed-value.ts";

/** Entered later than this the test is marked late, not refused. */
const LATE = DAY;

function questionsOf(
  test: Pick<NewBenchTest, "sampledAt" | "enteredAt">,
  at: SystemSetUp,
  values: readonly TypedValue[],
): Question[] {
  const questions = values.flatMap((row) => row.questions);
  if (test.enteredAt - test.sampledAt > LATE)
    questions.push({
      code: "entered_late",
      field: "sampledAt",
      says: "The sample was taken more than a day ago; the test is marked late.",
    });
  if (test.sampledAt < at.system.opened)
    questions.push({
      code: "before_system_opened",
      field: "sampledAt",
      says: `${at.system.name} was not open then. Is the date right?`,
    });
  return questions;
}

interface Place {
  readonly at: SystemSetUp;
  readonly point: Point;
}

/** What a stored test is answered with; read again from what was typed, so that a repeat gets the same answer. */
export async function answerOf(
  deps: Pick<WriteDeps, "store">,
  { at, point }: Place,
  test: NewBenchTest & { readonly received: Instant },
  repeated: boolean,
): Promise<BenchAnswer> {
  const values = test.results.flatMap((row, i): TypedValue[] => {
    const { quantity, typed, qualifier, unitTyped } = row;
    const read = readTypedValue({ quantity, value: typed, qualifier, unit: unitTyped }, `results.${i}`);
    return read.ok ? [read.result] : [];
  });
  const { id, clientId, received, sampledAt, enteredAt, analyst, note } = test;
  return {
    id,
    clientId,
    repeated,
    received,
    system: at.system.code,
    point: point.code,
    sampledAt,
    enteredAt,
    analyst,
    note,
    results: test.results.map((row) => {
      const { label, unit, unitLabel } = labelOf(row.quantity);
      const {
        id: result,
        quantity,
        typed,
        qualifier,
        unitTyped,
        value,
        method,
        replicate,
        supersedes,
        reason,
        answer,
        asked,
      } = row;
      return {
        id: result,
        quantity,
        label,
        typed,
        qualifier,
        unitTyped,
        value,
        unit,
        unitLabel,
        method,
        replicate,
        supersedes,
        reason,
        answer,
        asked,
      };
    }),
    questions: questionsOf(test, at, values),
    unionisedAmmonia: await benchAmmonia(deps.store, { at, point: point.code }, values, sampledAt),
  };
}

/** The answer to a client id that was stored before; null where it was not. Throws AppError "forbidden" for another's place. */
export async function repeatOf(deps: WriteDeps, actor: Actor, clientId: string): Promise<BenchAnswer | null> {
  const test = await deps.store.readBenchTest({ clientId });
  if (!test) return null;
  const place = await lookUp(deps.setUp, (index) => placeOf(index.byId.get(test.system), test.point));
  demandAt(actor, "record-bench", place.at);
  return answerOf(deps, place, test, true);
}

/** Where a stored test was taken; points and systems are never removed. */
export function placeOf(at: SystemSetUp | undefined, id: string): Place {
  const point = at?.points.find((row) => row.id === id);
  if (!at || !point) throw new Error(`a stored bench test belongs to point ${id}, which is not set up`);
  return { at, point };
}
