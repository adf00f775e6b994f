import type { SystemState } from "#contract/views.ts";

/**
 * What makes a system's state another one. The place on a plan moves with every millisecond and the sentences with the day; neither is
 * news by itself.
 */
export function fingerprint(state: SystemState): string {
  const streams = state.streams.map((row) =>
    [
      row.stream,
      row.at,
      row.value,
      row.flag,
      row.received,
      row.silent,
      row.deviation,
      row.standing,
      row.rate,
      row.low,
      row.high,
    ].join(),
  );
  const bands = state.streams.map(
    (row) => row.band && [row.band.low, row.band.high, row.band.actionLow, row.band.actionHigh].join(),
  );
  const findings = state.findings.map((row) =>
    [row.id, row.severity, row.alarm?.id, row.alarm?.state, row.evidence.worst].join(),
  );
  return [state.name, state.standing, state.residents.join(), ...streams, ...bands, ...findings].join("|");
}

/** Which systems changed from one look to the next, and at which journal position each was last seen to change. */
export function createChanges() {
  const prints = new Map<string, string>();
  const changedAt = new Map<string, number>();
  let since: number | null = null;
  return {
    /** Codes of the systems that are not as they were at the look before. */
    look(systems: readonly SystemState[], seq: number): string[] {
      const changed: string[] = [];
      for (const state of systems) {
        const print = fingerprint(state);
        if (prints.get(state.system) === print) continue;
        prints.set(state.system, print);
        changedAt.set(state.system, seq);
        changed.push(state.system);
      }
      since ??= seq;
      return changed;
    },
    /** Codes changed at or after a position; undefined where that lies before the first look, so nobody can know. */
    after(seq: number): string[] | undefined {
      if (since === null || seq < since) return undefined;
      return [...changedAt].filter(([, at]) => at >= seq).map(([code]) => code);
    },
  };
}
