import { testTrend, withResult } from "../drift/bench-trend.ts";
import type { Judged } from "./judge.ts";
import { move } from "./move.ts";
import type { Outputs } from "./outputs.ts";

/** A good result of the bench beside the ones before it: do they go somewhere. */
export function judgeResults(judged: Judged, out: Outputs): void {
  const { state, stream, at, value } = judged;
  if (stream.repeats === null) return;
  state.results = withResult(state.results ?? [], at, value);
  const trend = testTrend(state.results, stream.repeats);
  const { change = null, days = null, tests = null, threshold = null } = trend ?? {};
  const evidence = () => ({ change, days, tests, threshold });
  move(judged, "trend", "tests", trend ? 1 : 0, Math.abs(change ?? 0), 0, evidence, out, trend?.from ?? at);
}
