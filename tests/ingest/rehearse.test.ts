import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeAll, describe, expect, test } from "vitest";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import { startEmbeddedBroker } from "#ingest/accept/embedded-broker.ts";
import { type RehearsedLine, rehearse } from "#ingest/rehearse/run.ts";
import { replay } from "#ingest/replay/run.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import type { Store } from "#store/port.ts";
import { steadyRandom } from "../bench/bench-row.ts";
import { evaluateAll, evaluatorOf } from "../helpers/evaluated.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { keptLog } from "./accept-parts.ts";

const [MINUTE, HOUR, DAY] = [60_000, 3_600_000, 86_400_000];
const START = Date.parse("2026-03-02T00:00:00Z");
const ROWS = 8 * 144;
const COLUMNS = { temp: "temperature", ph: "ph", cond: "conductivity" } as const;
type Column = keyof typeof COLUMNS;

const closers: (() => unknown)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

/** Eight days of a sea-water pool every ten minutes, with what goes wrong from the fifth day on. Invented. */
const rows: (readonly [at: number, Record<Column, number | null>])[] = [];
beforeAll(() => {
  const next = steadyRandom(11);
  const noise = (size: number) => size * (next() + next() + next() - 1.5);
  for (let i = 0; i < ROWS; i++) {
    const at = START + i * 10 * MINUTE;
    const day = (at - START) / DAY;
    const light = Math.sin(2 * Math.PI * (day - 0.4));
    const values: Record<Column, number | null> = {
      temp: 25 + 0.15 * light + noise(0.04),
      ph: 8.1 + 0.05 * light + noise(0.01),
      cond: 53 + noise(0.05),
    };
    if (day > 4.5) values.ph = (values.ph ?? 0) - 0.3;
    if (day > 5.1 && day < 5.9) values.temp = 25.02;
    if (day > 6.2 && day < 6.3) values.cond = (values.cond ?? 0) + (i % 2 === 0 ? 2 : -2);
    if (day > 6.6 && day < 6.75) values.temp = (values.temp ?? 0) + 8 * (day - 6.6);
    if (day > 7.1 && day < 7.2) values.ph = null;
    if (day > 7.5 && day < 7.55) values.cond = 0.2;
    rows.push([at, values]);
  }
});

function csv(count: number = ROWS): string {
  const folder = mkdtempSync(join(tmpdir(), "homewater-rehearse-"));
  closers.push(() => rmSync(folder, { recursive: true }));
  const file = join(folder, "record.csv");
  const text = (value: number | null) => value?.toFixed(3) ?? "";
  const lines = rows
    .slice(0, count)
    .map(
      ([at, v]) => `${new Date(at).toISOString().slice(0, 16)},${text(v.temp)},${text(v.ph)},${text(v.cond)}`,
    );
  writeFileSync(file, `t,temp,ph,cond\n${lines.join("\n")}\n`);
  return file;
}

async function rehearsed(file: string, ...more: string[]): Promise<RehearsedLine[]> {
  const [out, said]: [string[], string[]] = [[], []];
  const maps = Object.entries(COLUMNS).flatMap(([column, quantity]) => ["--map", `${column}=${quantity}`]);
  const code = await rehearse([file, "--time", "t", ...maps, ...more], {
    out: (line) => out.push(line),
    complain: (line) => said.push(line),
  });
  expect([code, said]).toEqual([0, []]);
  return out.map((line) => JSON.parse(line) as RehearsedLine);
}

const claim = (line: Pick<RehearsedLine, "stream" | "kind" | "rule" | "began" | "ended">) =>
  `${line.stream} ${line.kind} ${line.rule} ${line.began} ${line.ended}`;
const claims = (lines: readonly RehearsedLine[]) =>
  lines
    .filter((line) => line.kind !== "silent")
    .map(claim)
    .sort();

describe("rehearse", () => {
  test("finds what is wrong with a record, each in its hour, and says whether it would call", async () => {
    const found = await rehearsed(csv());
    const first = (stream: string, kind: string) =>
      found.find((line) => line.stream === stream && line.kind === kind);
    const day = (line: RehearsedLine | undefined) => (Date.parse(line?.raised ?? "") - START) / DAY;
    expect(day(first("ph", "stepped"))).toBeCloseTo(4.5, 1);
    expect(day(first("temp", "stuck"))).toBeGreaterThan(5.1 + 6 / 24);
    expect(day(first("temp", "stuck"))).toBeLessThan(5.1 + 12.5 / 24);
    expect(day(first("cond", "noisy"))).toBeCloseTo(6.25, 1);
    expect(day(found.find((line) => line.kind === "too fast" && day(line) > 6.5))).toBeCloseTo(6.65, 1);
    expect(day(first("cond", "exposed"))).toBeCloseTo(7.5, 1);
    expect(first("ph", "silent")).toMatchObject({ rule: "gap", interrupts: true });
    expect(first("ph", "stepped")).toMatchObject({
      interrupts: true,
      says: expect.stringMatching(/stepped down by 0\.3/),
    });
    expect(found.filter((line) => Date.parse(line.raised) < START + 4.5 * DAY)).toEqual([]);
    const times = found.map((line) => Date.parse(line.raised));
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });

  test("nothing depends on later rows: a file cut short gives the same lines up to there", async () => {
    const whole = await rehearsed(csv());
    for (const count of [650, 760, 901]) {
      const end = new Date(rows[count - 1]?.[0] ?? 0).toISOString();
      const cut = await rehearsed(csv(count));
      const known = whole.filter((line) => line.raised <= end);
      expect(cut.map((line) => [line.stream, line.kind, line.raised, line.says])).toEqual(
        known.map((line) => [line.stream, line.kind, line.raised, line.says]),
      );
      expect(cut.map((line) => line.cleared)).toEqual(
        known.map((line) => (line.cleared !== null && line.cleared <= end ? line.cleared : null)),
      );
    }
  });

  test("bands, a schedule and a tolerance come from a settings file; what is wrong with one is said", async () => {
    const file = csv();
    const settings = join(file, "../settings.json");
    const streams = {
      ph: { band: { low: 8, actionLow: 7.5 }, tolerance: 5 },
      temp: { intervalSeconds: 600 },
      cond: { tolerance: 50 },
    };
    writeFileSync(settings, JSON.stringify({ volume: 40, streams }));
    const found = await rehearsed(file, "--settings", settings);
    expect(found.some((line) => line.stream === "ph" && line.kind === "stepped")).toBe(false);
    expect(found.find((line) => line.stream === "ph" && line.kind === "out of band")?.severity).toBe("look");
    writeFileSync(settings, JSON.stringify({ volume: "large" }));
    const said: string[] = [];
    const code = await rehearse([file, "--time", "t", "--map", "ph=ph", "--settings", settings], {
      out: () => undefined,
      complain: (line) => said.push(line),
    });
    expect(code).toBe(1);
    expect(said.join()).toMatch(/volume/);
  });

  test.each([
    [["--map", "ph=acidity"], /acidity/],
    [["--map", "ph=ph", "--twin", "ph=temp"], /two columns that are mapped/],
    [["--map", "oxygen=ph"], /no column "oxygen"/],
    [[], /--map is missing/],
  ])("refuses %j with a sentence", async (more, sentence) => {
    const said: string[] = [];
    const code = await rehearse([csv(3), "--time", "t", ...more], {
      out: () => undefined,
      complain: (line) => said.push(line),
    });
    expect(code).toBe(1);
    expect(said.join()).toMatch(sentence);
  });
});

async function server(): Promise<Store> {
  const opened = await temporaryStore();
  closers.push(() => opened.dispose());
  const { store } = opened;
  const site = {
    id: "site-id",
    code: "test-house",
    name: "Test house",
    zone: "UTC",
    latitude: 50,
    longitude: -4,
  };
  const system = { id: "pool-id", site: "site-id", code: "pool", name: "Pool", kind: "marine", volume: 100 };
  await store.writeSetUp(
    {
      sites: [{ ...site, elevation: 0 }],
      systems: [
        {
          ...system,
          water: "marine",
          duty: null,
          opened: 0,
          closed: null,
          type: "exhibit",
          startingBands: null,
          youngFilter: false,
        },
      ],
      points: Object.keys(COLUMNS).map((code) => ({
        id: `${code}-id`,
        system: "pool-id",
        code,
        role: guessedRole(code),
        roleGuessed: true,
        twinOf: null,
      })),
    },
    [],
    Date.now(),
  );
  return store;
}

async function claimsOfServer(store: Store): Promise<string[]> {
  await evaluateAll(await evaluatorOf(store));
  const streams = new Map((await store.readSetUp()).streams.map((stream) => [stream.id, stream]));
  const text = (at: number | null) => (at === null ? null : new Date(at).toISOString());
  return (await store.readFindings({ limit: 10_000 }))
    .filter((finding) => finding.kind !== "silent")
    .map((finding) => {
      const stream = streams.get(finding.stream);
      const name =
        stream?.origin === "derived" ? `${stream.quantity} of ${stream.pointCode}` : stream?.pointCode;
      const { kind, rule, began, ended } = finding;
      return claim({ stream: name ?? "", kind, rule, began: text(began) ?? "", ended: text(ended) });
    })
    .sort();
}

describe("a server that is told the same file finds the same", () => {
  test("replayed into its broker with its times kept", async () => {
    const file = csv();
    const store = await server();
    const publisher = { user: "gateway", password: "tide-pool-9" };
    const broker = await startEmbeddedBroker({
      acceptor: createAcceptor({ store, clock: Date.now }),
      log: keptLog().log,
      host: "127.0.0.1",
      port: 0,
      publisher,
    });
    closers.push(() => broker.close());
    const maps = Object.entries(COLUMNS).flatMap(([column, quantity]) => [
      "--map",
      `${column}=pool/${column}/${quantity}`,
    ]);
    const url = `mqtt://127.0.0.1:${broker.port}`;
    const said: string[] = [];
    const code = await replay(
      [
        file,
        "--time",
        "t",
        ...maps,
        "--keep-times",
        "--site",
        "test-house",
        "--url",
        url,
        "--user",
        publisher.user,
        "--password",
        publisher.password,
      ],
      { environment: {}, clock: Date.now, out: () => undefined, progress: (line) => said.push(line) },
    );
    expect(code, said.join(" ")).toBe(0);
    expect(await claimsOfServer(store)).toEqual(claims(await rehearsed(file)));
  });

  test("delivered in other batches: column by column, newest days first", async () => {
    const store = await server();
    const source = await store.ensureSource("history:other", "history");
    let now = Date.parse("2026-06-01T00:00:00Z");
    for (const column of ["cond", "ph", "temp"] as const) {
      const stream = await store.ensureStream(`${column}-id`, COLUMNS[column], "probe");
      for (const days of [
        [6, 8],
        [0, 3],
        [3, 6],
      ] as const) {
        const readings = rows.flatMap(([at, values]) => {
          const value = values[column];
          const isDue = at >= START + days[0] * DAY && at < START + days[1] * DAY;
          if (value === null || !isDue) return [];
          const typed = Number(value.toFixed(3));
          return [{ stream: stream.id, at, value: typed, source: source.id, sequence: null, mark: null }];
        });
        now += HOUR;
        await store.append({ now, readings, rejected: [], unclaimed: [] });
        await evaluateAll(await evaluatorOf(store));
      }
    }
    expect(await claimsOfServer(store)).toEqual(claims(await rehearsed(csv())));
  });
});
