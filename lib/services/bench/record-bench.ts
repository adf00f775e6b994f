import type { BenchAnswer } from "#contract/answers.ts";
import { type BenchRequest, benchRequest } from "#contract/api.ts";
import type { NewAudit } from "#core/audit/audit.ts";
import { ANSWERS, answerInReason } from "#core/bench/answer.ts";
import { DAY, type Instant, MINUTE } from "#core/time/instant.ts";
import {
  type BenchOutcome,
  type NewBenchResult,
  type NewBenchTest,
  type Point,
  StoreError,
} from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, type FieldIssue, invalid, shorten } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { answerOf, repeatOf } from "./bench-answer.ts";
import { readTypedValue, type TypedValue } from "./typed-value.ts";

/** A phone's clock may run a little ahead. */
const AHEAD = 2 * MINUTE;
const OLDEST = 20 * 366 * DAY;

function pointOf(at: SystemSetUp, code: string): Point {
  const point = at.points.find((row) => row.code === code);
  if (point) return point;
  const known = at.points.map((row) => row.code).join(", ");
  throw invalid([
    {
      field: "point",
      value: shorten(code),
      says: `is not a point of ${at.system.code}`,
      remedy: known === "" ? "set one up first" : `use one of ${known}`,
    },
  ]);
}

function timeIssues(sampledAt: Instant, now: Instant): FieldIssue[] {
  const issue = (says: string, remedy: string) => [
    { field: "sampledAt", value: new Date(sampledAt).toISOString(), says, remedy },
  ];
  if (sampledAt > now + AHEAD)
    return issue("is in the future", "send when the sample was taken; check the clock of the device");
  if (sampledAt < now - OLDEST) return issue("is more than 20 years ago", "check the year");
  return [];
}

type SentResult = BenchRequest["results"][number];

/** A first entry whose reason holds the answer to a question, as earlier versions sent it. The reason of a correction is its own. */
function withAnswer(sent: SentResult): SentResult {
  if (sent.answer !== undefined || sent.asked !== undefined || sent.supersedes !== undefined) return sent;
  const said = sent.reason === undefined ? null : answerInReason(sent.reason);
  return said === null ? sent : { ...sent, ...said, reason: undefined };
}

/** Results that make no sense together. */
function relatedIssues(results: BenchRequest["results"]): FieldIssue[] {
  const seen = new Map<string, number>();
  return results.flatMap((sent, i): FieldIssue[] => {
    const field = `results.${i}`;
    if (sent.supersedes !== undefined && sent.reason === undefined)
      return [
        {
          field: `${field}.reason`,
          value: null,
          says: "a correction needs a reason",
          remedy: "say why the earlier result is wrong",
        },
      ];
    if (sent.asked !== undefined && sent.answer === undefined)
      return [
        {
          field: `${field}.answer`,
          value: null,
          says: "a question was put to the tester, and what was answered is missing",
          remedy: `send one of ${ANSWERS.join(", ")}`,
        },
      ];
    const key = `${sent.quantity}/${sent.replicate ?? 1}`;
    const first = seen.get(key);
    seen.set(key, first ?? i);
    if (first === undefined) return [];
    const says = `${sent.quantity} is in this test twice (also results.${first})`;
    return [
      {
        field: `${field}.replicate`,
        value: String(sent.replicate ?? 1),
        says,
        remedy: "number repeats with replicate: 2, 3 ...",
      },
    ];
  });
}

function understood(request: Pick<BenchRequest, "sampledAt" | "results">, now: Instant): TypedValue[] {
  const issues = [...timeIssues(request.sampledAt, now), ...relatedIssues(request.results)];
  const values: TypedValue[] = [];
  for (const [i, sent] of request.results.entries()) {
    const read = readTypedValue(sent, `results.${i}`);
    if (read.ok) values.push(read.result);
    else issues.push(read.issue);
  }
  if (issues.length > 0) throw invalid(issues);
  return values;
}

async function rowsOf(
  deps: WriteDeps,
  point: Point,
  sent: BenchRequest["results"],
  values: readonly TypedValue[],
  now: Instant,
) {
  const rows: NewBenchResult[] = [];
  for (const [i, { spec, typed, qualifier, unitTyped, value }] of values.entries()) {
    const { method = null, replicate = 1, supersedes = null } = sent[i] ?? {};
    const { reason = null, answer = null, asked = null } = sent[i] ?? {};
    const stream = await deps.store.ensureStream(point.id, spec.id, "bench");
    if (supersedes !== null) await checkCorrected(deps, stream.id, supersedes, `results.${i}`);
    const id = deps.newId(now);
    rows.push({
      id,
      stream: stream.id,
      quantity: spec.id,
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
    });
  }
  return rows;
}

const conflict = (issue: FieldIssue, cause?: unknown) =>
  new AppError("conflict", `${issue.field}: ${issue.says}`, { issues: [issue], cause });

/** A correction points at a result of the same quantity and point. One that is corrected already is the store's to refuse. */
async function checkCorrected(deps: WriteDeps, stream: number, id: string, field: string): Promise<void> {
  const results = await deps.store.benchBetween(
    [stream],
    0,
    Number.MAX_SAFE_INTEGER,
    Number.MAX_SAFE_INTEGER,
  );
  if (results.some((row) => row.id === id || row.supersedes === id)) return;
  throw conflict({
    field: `${field}.supersedes`,
    value: shorten(id),
    says: "is not a result of this quantity at this point, or has already been corrected",
    remedy: "correct the latest result",
  });
}

/** Stores the test. Two corrections of one result meet in the store: the second is refused. */
async function stored(
  deps: WriteDeps,
  test: NewBenchTest,
  now: Instant,
  audit: NewAudit,
): Promise<BenchOutcome> {
  try {
    return await deps.store.recordBench(test, now, audit);
  } catch (cause) {
    const corrects = test.results.findIndex((row) => row.supersedes !== null);
    if (!(cause instanceof StoreError) || cause.code !== "invalid" || corrects < 0) throw cause;
    const value = test.results[corrects]?.supersedes ?? null;
    const says = "has already been corrected by somebody else";
    throw conflict(
      { field: `results.${corrects}.supersedes`, value, says, remedy: "correct the latest result" },
      cause,
    );
  }
}

/** One test as it is asked to be stored: where, when, what. */
type TestRequest = Pick<BenchRequest, "clientId" | "sampledAt" | "note" | "results">;

/** Stores a test whose place and right are proven, and answers with what is stored. Throws AppError "invalid" or "conflict". */
export async function storeTest(
  deps: WriteDeps,
  actor: Actor,
  { at, point }: { readonly at: SystemSetUp; readonly point: Point },
  request: TestRequest,
  verb: "record-bench" | "correct-bench",
): Promise<BenchAnswer> {
  const now = deps.clock();
  const { clientId, sampledAt, note = null } = request;
  const sent = request.results.map(withAnswer);
  const values = understood({ sampledAt, results: sent }, now);
  const results = await rowsOf(deps, point, sent, values, now);
  const test: NewBenchTest = {
    id: deps.newId(now),
    clientId,
    system: at.system.id,
    point: point.id,
    sampledAt,
    enteredAt: now,
    analyst: actor.name,
    note,
    results,
  };
  const { received, repeated } = await stored(
    deps,
    test,
    now,
    audited(actor, now, verb, `bench-test:${test.id}`, test),
  );
  // Sent by two at once: what the other one stored is what stands.
  if (repeated)
    return (
      (await repeatOf(deps, actor, clientId)) ?? answerOf(deps, { at, point }, { ...test, received }, true)
    );
  return answerOf(deps, { at, point }, { ...test, received }, false);
}

/**
 * Stores one bench test in one durable commit, once per client id, each result as typed and in the registry's unit. What is doubtful is
 * stored and asked about; what cannot be is refused whole, with every fault named. A client id that was stored before is answered with what
 * is stored. Throws AppError "forbidden", "not_found", "invalid", "conflict".
 */
export async function recordBench(deps: WriteDeps, actor: Actor, body: unknown): Promise<BenchAnswer> {
  demandSomewhere(actor, "record-bench");
  const request = parse(benchRequest, body);
  const repeat = await repeatOf(deps, actor, request.clientId);
  if (repeat) return repeat;
  const place = await lookUp(deps.setUp, (index) => {
    const system = systemOf(index, request.system);
    return { at: system, point: pointOf(system, request.point) };
  });
  demandAt(actor, "record-bench", place.at);
  return storeTest(deps, actor, place, request, "record-bench");
}
