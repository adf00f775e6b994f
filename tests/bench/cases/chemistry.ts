/**
 * Evaluations a second of salinity, un-ionised ammonia and the whole carbonate system, one by one and over columns, beside GSW-Python
 * (salinity) and the same published equations in NumPy (the others, which GSW has not), on the same inputs with the same checksum, in processor time.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { carbonateColumns } from "#core/chemistry/carbonate-columns.ts";
import { ammoniaColumn, salinityColumn } from "#core/chemistry/columns.ts";
import { ammoniaFraction, carbonateFromPhAlkalinity, practicalSalinity } from "#core/chemistry/index.ts";
import { dbar, degC, meqPerL, msPerCm, phUnits, psu } from "#core/units/index.ts";
import { type BenchOptions, type BenchRow, median, scaled, steadyRandom } from "../bench-row.ts";

export const name = "chemistry";

/** Debian's own interpreter: the packages are installed for it and not for another that stands first on the path. */
const PYTHON = "/usr/bin/python3";
/** As many as the reference has, after those in which the compiler has not done its work yet. */
const ROUNDS = 15;
const WARM_UP = 10;
const SAME = 1e-7;

interface Columns {
  readonly c: Float64Array;
  readonly t: Float64Array;
  readonly p: Float64Array;
  readonly s: Float64Array;
  readonly tan: Float64Array;
  readonly ph: Float64Array;
  readonly alkalinity: Float64Array;
}

function inputs(rows: number): Columns {
  const random = steadyRandom(7);
  const column = (from: number, to: number) =>
    Float64Array.from({ length: rows }, () => from + (to - from) * random());
  return {
    c: column(35, 55),
    t: column(5, 30),
    p: column(0, 10),
    s: column(25, 38),
    tan: column(0.01, 1),
    ph: column(7.6, 8.3),
    alkalinity: column(1.8, 3.5),
  };
}

const sum = (column: Float64Array) => column.reduce((total, value) => total + value, 0);

/** Rows in a second of processor time: what else runs on the machine counts for neither side. The checksum is not timed. */
function perSecond<Result>(rows: number, body: () => Result, sumOf: (result: Result) => number) {
  const times: number[] = [];
  let last: Result | undefined;
  for (let round = 0; round < WARM_UP + ROUNDS; round++) {
    const began = process.cpuUsage();
    last = body();
    const { user, system } = process.cpuUsage(began);
    if (round >= WARM_UP) times.push((user + system) / 1e6);
  }
  return { rate: rows / median(times), sum: sumOf(last as Result) };
}

type Subject = "salinity" | "ammonia" | "carbonate";
interface Measured {
  readonly single: number;
  readonly column: number;
  readonly sum: number;
}

function ours(columns: Columns): Record<Subject, Measured> {
  const { c, t, p, s, tan, ph, alkalinity } = columns;
  const rows = c.length;
  const at = (column: Float64Array, i: number) => column[i] as number;
  const both = <Found>(
    column: () => Found,
    sumOf: (found: Found) => number,
    single: (i: number) => number,
  ): Measured => {
    const whole = perSecond(rows, column, sumOf);
    const each = perSecond(
      rows,
      () => {
        let total = 0;
        for (let i = 0; i < rows; i++) total += single(i);
        return total;
      },
      (total) => total,
    );
    // The two forms must agree with each other before either is compared with the reference.
    agree("one by one and column", each.sum, whole.sum);
    return { single: each.rate, column: whole.rate, sum: whole.sum };
  };
  const into = { value: new Float64Array(rows), status: new Uint8Array(rows) };
  return {
    salinity: both(
      () => salinityColumn(c, t, p, into),
      ({ value }) => sum(value),
      (i) => practicalSalinity(msPerCm(at(c, i)), degC(at(t, i)), dbar(at(p, i))).value ?? Number.NaN,
    ),
    ammonia: both(
      () => ammoniaColumn("marine", tan, ph, t, s, into),
      ({ value }) => sum(value),
      (i) =>
        at(tan, i) *
        (ammoniaFraction({
          ph: phUnits(at(ph, i)),
          phScale: "total",
          t: degC(at(t, i)),
          s: psu(at(s, i)),
          water: "marine",
        }).value ?? Number.NaN),
    ),
    carbonate: both(
      () => carbonateColumns("marine", ph, alkalinity, t, s),
      ({ pco2, aragonite }) => sum(pco2) + sum(aragonite),
      (i) => {
        const { value } = carbonateFromPhAlkalinity({
          ph: phUnits(at(ph, i)),
          phScale: "total",
          alkalinity: meqPerL(at(alkalinity, i)),
          t: degC(at(t, i)),
          s: psu(at(s, i)),
          water: "marine",
        });
        return value === null ? Number.NaN : value.pco2 + (value.aragoniteSaturation ?? Number.NaN);
      },
    ),
  };
}

function agree(what: string, a: number, b: number): void {
  if (!(Math.abs(a / b - 1) < SAME)) throw new Error(`${what}: checksums ${a} and ${b} differ`);
}

/** Why the reference cannot run here, or null. */
function missing(): string | null {
  const tried = spawnSync(PYTHON, ["-c", "import gsw, numpy"], { encoding: "utf8" });
  if (tried.status === 0) return null;
  return "GSW-Python is not there (Debian, Ubuntu: apt-get install python3-gsw python3-numpy)";
}

type Reference = Record<Subject, Measured> & { readonly version: string };

function theirs(columns: Columns, few: number): Reference {
  const folder = mkdtempSync(join(tmpdir(), "homewater-bench-"));
  try {
    const { c, t, p, s, tan, ph, alkalinity } = columns;
    const file = join(folder, "columns.f64");
    writeFileSync(
      file,
      Buffer.concat([c, t, p, s, tan, ph, alkalinity].map((column) => Buffer.from(column.buffer))),
    );
    const script = join(import.meta.dirname, "../chemistry-reference.py");
    const said = execFileSync(PYTHON, [script, file, String(c.length), String(few)], { encoding: "utf8" });
    return JSON.parse(said) as Reference;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const LABELS: Readonly<Record<Subject, string>> = {
  salinity: "salinity",
  ammonia: "un-ionised ammonia",
  carbonate: "carbonate system",
};

export async function run({ scale, say }: BenchOptions): Promise<BenchRow[]> {
  const columns = inputs(scaled(200_000, scale, 2_000));
  const reason = missing();
  const mine = ours(columns);
  const reference = reason === null ? theirs(columns, scaled(20_000, scale, 1_000)) : null;
  if (reference) say(`  reference: GSW-Python ${reference.version}`);
  return (["salinity", "ammonia", "carbonate"] as const).flatMap((subject) => {
    const [a, b] = [mine[subject], reference?.[subject] ?? null];
    if (b) agree(subject, a.sum, b.sum);
    const by = subject === "salinity" ? "GSW-Python" : "the same equations in";
    const note = reason === null ? {} : { note: reason };
    return [
      {
        what: `${LABELS[subject]}, one by one`,
        unit: "evaluations/s",
        ours: a.single,
        reference: b?.single ?? null,
        referenceIs: subject === "salinity" ? `${by}, a call each` : `${by} Python, a call each`,
        target: { of: "ratio", atLeast: 1 },
        ...note,
      },
      {
        what: `${LABELS[subject]}, a column`,
        unit: "evaluations/s",
        ours: a.column,
        reference: b?.column ?? null,
        referenceIs: subject === "salinity" ? `${by} over an array` : `${by} NumPy over an array`,
        target: { of: "ratio", atLeast: 0.5 },
        ...note,
      },
    ] satisfies BenchRow[];
  });
}
