import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Numbered, sequenceAccount } from "#core/gateway/index.ts";

const T = Date.UTC(2026, 2, 1);
const of = (stream: number, ...sequences: number[]): Numbered[] =>
  sequences.map((sequence) => ({ stream, at: T + sequence * 1_000, sequence }));

describe("what is missing of a sender's count", () => {
  it("is what lies between the first and the last number and is not there", () => {
    const account = sequenceAccount(of(1, 5, 6, 9, 10, 12));
    expect(account).toMatchObject({ counts: "each stream", numbered: 5, missing: 3, restarts: 0 });
    expect(account.gaps).toEqual([
      { after: 6, before: 9, missing: 2, from: T + 6_000, to: T + 9_000, stream: 1 },
      { after: 10, before: 12, missing: 1, from: T + 10_000, to: T + 12_000, stream: 1 },
    ]);
  });

  it("is filled by what comes late, whatever the order", () => {
    expect(sequenceAccount(of(1, 5, 6, 9, 10, 12, 8, 11, 7)).missing).toBe(0);
  });

  it("is counted over all streams where the sender counts them together", () => {
    const account = sequenceAccount([...of(1, 1, 3, 7), ...of(2, 2, 4, 5)]);
    expect(account).toMatchObject({ counts: "all streams", missing: 1 });
    expect(account.gaps[0]).toMatchObject({ after: 5, before: 7, stream: null });
  });

  it("is counted for each stream where two carry the same numbers", () => {
    const account = sequenceAccount([...of(1, 1, 2, 3), ...of(2, 1, 3)]);
    expect(account).toMatchObject({ counts: "each stream", missing: 1 });
    expect(account.gaps[0]).toMatchObject({ after: 1, before: 3, stream: 2 });
  });

  it("does not reach over a count that began again", () => {
    const later = of(1, 0, 1, 2).map((one) => ({ ...one, at: one.at + 3_600_000 }));
    expect(sequenceAccount([...of(1, 500, 501, 502), ...later])).toMatchObject({ missing: 0, restarts: 1 });
  });

  it("is exactly what was left out, of any run in which both ends arrived", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.nat({ max: 90 }), { minLength: 2 }),
        fc.nat({ max: 1_000_000 }),
        (kept, first) => {
          const sequences = kept.map((n) => first + 1 + n);
          const account = sequenceAccount(of(1, ...sequences));
          const wanted = Math.max(...sequences) - Math.min(...sequences) + 1 - sequences.length;
          expect(account.missing).toBe(wanted);
          const named = account.gaps.flatMap((gap) =>
            Array.from({ length: gap.missing }, (_, n) => gap.after + 1 + n),
          );
          expect(named.filter((number) => sequences.includes(number))).toEqual([]);
        },
      ),
    );
  });

  it("is nothing where there are no numbers", () => {
    expect(sequenceAccount([])).toMatchObject({ numbered: 0, missing: 0, restarts: 0, gaps: [] });
  });
});
