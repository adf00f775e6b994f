import { type Evaluator, openEvaluator } from "#services/evaluate/evaluator.ts";
import type { Finding, Store } from "#store/port.ts";

/** Opens an evaluator under a clock of the test's own. */
export async function evaluatorOf(
  store: Store,
  clock: () => number = () => 0,
  holder = "test",
): Promise<Evaluator> {
  const evaluator = await openEvaluator({
    store,
    leaseHolder: holder,
    clock,
    monotonic: () => performance.now(),
  });
  if (!evaluator) throw new Error("another evaluator holds the lease");
  return evaluator;
}

/** Evaluates until nothing is waiting, late data included. */
export async function evaluateAll(evaluator: Evaluator): Promise<void> {
  while (!(await evaluator.pass({ hurry: true })).isIdle);
}

/** Everything the evaluator claims about the water, for comparing runs: silence and the moment of arrival left out. */
export async function claimsOf(store: Store): Promise<unknown> {
  const { streams } = await store.readSetUp();
  const [from, to] = [0, Number.MAX_SAFE_INTEGER];
  const claims: Record<string, unknown> = {};
  for (const stream of streams) {
    const name = `${stream.system}/${stream.pointCode}/${stream.quantity}/${stream.origin}`;
    const rollups = [];
    for (const width of [900_000, 10_800_000, 86_400_000])
      rollups.push(await store.readRollups({ streams: [stream.id], from, to, width }));
    claims[name] = {
      flags: await store.readFlags(stream.id, from, to, 1_000_000),
      derived: await store.readDerived(stream.id, from, to, 1_000_000),
      rollups,
    };
  }
  const findings = await store.readFindings({ limit: 1_000_000 });
  claims.findings = findings
    .filter((finding) => finding.kind !== "silent")
    .map(({ late, ...finding }: Finding) => finding)
    .sort((a, b) => (a.id < b.id ? -1 : 1));
  return claims;
}
