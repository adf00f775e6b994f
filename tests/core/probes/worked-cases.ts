import { readFileSync } from "node:fs";

interface WorkedCase {
  readonly name: string;
  readonly source: string;
  readonly given: Readonly<Record<string, unknown>>;
  readonly expected: Readonly<Record<string, unknown>>;
}
const file = JSON.parse(
  readFileSync(new URL("../../../fixtures/probes/worked-cases.json", import.meta.url), "utf8"),
) as { readonly sources: Readonly<Record<string, string>>; readonly cases: readonly WorkedCase[] };

/** A worked case of fixtures/probes by name, with what it says and where it is from. */
export function workedCase(name: string) {
  const found = file.cases.find((row) => row.name === name);
  const source = found && file.sources[found.source];
  if (!found || !source) throw new Error(`no worked case ${name} with a source`);
  const numbers = (key: string): number[] => found.given[key] as number[];
  const number = (key: string): number => found.given[key] as number;
  const expected = (key: string): number => found.expected[key] as number;
  const expectedList = (key: string): number[] => found.expected[key] as number[];
  return { source, numbers, number, expected, expectedList };
}
