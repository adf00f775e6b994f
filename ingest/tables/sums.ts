import { once } from "node:events";
import type { Readable, Writable } from "node:stream";
import { answerSum, type Sent, SUMS, type Sum, sumNamed, sumView } from "#core/sums/index.ts";
import { csvLine, csvRecords } from "./records.ts";

const LIST = `Usage:
  npm run -s sums -- NAME < rows.csv > results.csv
  npm run -s sums -- NAME --help

Runs one sum (a calculator) over a CSV table from standard input. Each row comes back with its own columns, the results, a
status and a note. A row that cannot be computed does not stop the rest.

NAME is one of the following; NAME --help lists its columns:
${SUMS.map(({ name, about }) => `  ${name.padEnd(26)}${about}`).join("\n")}

Example:
  npm run -s sums -- ${SUMS[0]?.name} < rows.csv > results.csv
`;

const UNIT = "_unit";

function helpOf(sum: Sum): string {
  const { fields, outputs, cautions } = sumView(sum);
  const rows = fields.map((field) => {
    const how =
      field.kind === "number"
        ? `${field.units.map(({ unit }) => unit).join(", ")}${field.isOptional ? `; optional${field.usual === null ? "" : `, default ${field.usual}`}` : ""}`
        : field.kind === "choice"
          ? `${field.choices.map(({ value }) => value).join(", ")}; default ${field.usual}`
          : (field.hint ?? "");
    return `  ${field.name.padEnd(24)}${field.label}: ${how}`;
  });
  return [
    `npm run -s sums -- ${sum.name} < rows.csv > results.csv`,
    "",
    sum.about,
    "",
    "Columns read, by heading (others are passed through):",
    ...rows,
    `  <column>${UNIT}`.padEnd(26) +
      "the unit of that column's value in this row; default: the first one listed",
    "",
    "Columns added (with result_ in front of a name that the table already has):",
    ...outputs.map(
      ({ name, label, unit }) => `  ${name.padEnd(24)}${label}${unit === "" ? "" : `, ${unit}`}`,
    ),
    `  ${"low, high".padEnd(24)}interval of about 95 % of the first result, if one is known`,
    `  ${"status".padEnd(24)}ok, extrapolated (outside the published range), invalid (no number is defensible), bad row`,
    `  ${"note".padEnd(24)}why, if there is something to say`,
    "",
    ...cautions,
  ].join("\n");
}

interface Layout {
  readonly header: readonly string[];
  /** Index of each field's column and of its unit's, -1 where the table has none. */
  readonly columns: readonly { readonly name: string; readonly value: number; readonly unit: number }[];
}

function layoutOf(sum: Sum, header: readonly string[]): Layout | string {
  const names = header.map((name) => name.trim());
  const doubled = names.find((name, i) => name !== "" && names.indexOf(name) !== i);
  if (doubled !== undefined) return `the column "${doubled}" appears twice`;
  const missing = sum.fields.filter((field) => !field.isOptional && !names.includes(field.name));
  if (missing.length > 0)
    return `the table lacks ${missing.map((field) => field.name).join(", ")}; it has ${names.join(", ")}`;
  return {
    header: names,
    columns: sum.fields.map(({ name }) => ({
      name,
      value: names.indexOf(name),
      unit: names.indexOf(`${name}${UNIT}`),
    })),
  };
}

const addedNames = (sum: Sum) => [...sum.outputs.map((spec) => spec.name), "low", "high", "status", "note"];

type Status = "ok" | "extrapolated" | "invalid" | "bad row";
interface Answered {
  readonly cells: readonly (string | number)[];
  readonly status: Status;
}

function answerRow(sum: Sum, layout: Layout, cells: readonly string[]): Answered {
  const added = addedNames(sum).length;
  const bad = (note: string): Answered => ({
    cells: [...Array<string>(added - 2).fill(""), "bad row", note],
    status: "bad row",
  });
  if (cells.length !== layout.header.length)
    return bad(`the row has ${cells.length} cells and the heading ${layout.header.length}`);
  const sent: Record<string, Sent> = {};
  for (const { name, value, unit } of layout.columns) {
    if (value < 0) continue;
    const typed = unit < 0 ? "" : (cells[unit] ?? "").trim();
    sent[name] = { value: cells[value] ?? "", unit: typed === "" ? undefined : typed };
  }
  const found = answerSum(sum, sent);
  if (!found.ok)
    return bad(
      found.issues
        .map(
          ({ field, value, says, remedy }) =>
            `${field}${value === null ? "" : ` "${value}"`} ${says}: ${remedy}`,
        )
        .join("; "),
    );
  const { outputs, status, note } = found.answer;
  const first = outputs[0];
  return {
    cells: [
      ...outputs.map((output) => output.value ?? ""),
      first?.low ?? "",
      first?.high ?? "",
      status,
      note ?? "",
    ],
    status,
  };
}

interface Streams {
  readonly input: Readable;
  readonly output: Writable;
  /** For messages to the person, apart from the table. */
  readonly tell: (line: string) => void;
}

/** Runs the command over a stream of rows, holding no more than a few of them; gives its exit code. */
export async function runSums(args: readonly string[], { input, output, tell }: Streams): Promise<number> {
  const write = async (line: string) => {
    if (!output.write(`${line}\n`)) await once(output, "drain");
  };
  const [name, ...more] = args;
  if (name === undefined || name === "--help") {
    await write(LIST.trimEnd());
    return name === undefined ? 2 : 0;
  }
  const sum = sumNamed(name);
  if (sum === undefined) {
    tell(`There is no sum "${name}". There are ${SUMS.map((each) => each.name).join(", ")}.`);
    return 2;
  }
  if (more.includes("--help")) {
    await write(helpOf(sum));
    return 0;
  }
  if (more.length > 0) {
    tell(
      `"${more[0]}" is not understood: rows come from standard input. See npm run -s sums -- ${name} --help`,
    );
    return 2;
  }
  let layout: Layout | null = null;
  const counts: Record<Status, number> = { ok: 0, extrapolated: 0, invalid: 0, "bad row": 0 };
  for await (const cells of csvRecords(input)) {
    if (layout === null) {
      const found = layoutOf(sum, cells);
      if (typeof found === "string") {
        tell(`This table cannot be computed: ${found}. See npm run -s sums -- ${name} --help`);
        return 2;
      }
      layout = found;
      const added = addedNames(sum).map((each) => (found.header.includes(each) ? `result_${each}` : each));
      await write(csvLine([...found.header, ...added]));
      continue;
    }
    const answered = answerRow(sum, layout, cells);
    counts[answered.status] += 1;
    // A row of too few or too many cells is brought to the heading's width, so that the added columns stand under their headings.
    const own = layout.header.map((_, i) => cells[i] ?? "");
    await write(csvLine([...own, ...answered.cells]));
  }
  if (layout === null) {
    tell("Nothing came in: give a heading and rows as CSV on standard input.");
    return 2;
  }
  const told = Object.entries(counts).map(([status, n]) => `${n} ${status}`);
  tell(`${Object.values(counts).reduce((a, b) => a + b, 0)} rows: ${told.join(", ")}`);
  return 0;
}
