import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { type AddressInfo, connect, createServer as createConnectionServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { startEmbeddedBroker } from "#ingest/accept/embedded-broker.ts";
import { readArguments } from "#ingest/replay/arguments.ts";
import { replay } from "#ingest/replay/run.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { readHealth } from "#services/upkeep/read-health.ts";
import { StoreError } from "#store/port.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { keptLog, readingsAt, setUpKelpGallery, troubledStore, until } from "./accept-parts.ts";

const closers: (() => unknown)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

const MINUTE = 60_000;
const PUBLISHER = { user: "gateway", password: "kelp-forest-7" };
const MAPS = ["temp=kelp-gallery/display/temperature:degF", "ph=kelp-gallery/display/ph"];
const TIME = Date.parse("2024-05-01T10:00:00Z");

/** A CSV file as a logger writes it. */
function csv(text: string): string {
  const folder = mkdtempSync(join(tmpdir(), "homewater-replay-"));
  closers.push(() => rmSync(folder, { recursive: true }));
  const file = join(folder, "records.csv");
  writeFileSync(file, text);
  return file;
}
const SMALL = [
  "\uFEFFt,temp,ph,note",
  '2024-05-01T10:00,50,8.1,"calm, clear"',
  '2024-05-01T10:01,"50.9",,"he said ""fine"""',
  "2024-05-01T10:02,,8.2,",
  "2024-05-01T10:03,sensor off,8.3,",
  "",
].join("\r\n");

async function started() {
  const opened = await temporaryStore();
  closers.push(() => opened.dispose());
  await setUpKelpGallery(opened.store, Date.now());
  const store = troubledStore(opened.store);
  const acceptor = createAcceptor({ store, clock: Date.now });
  const broker = await startEmbeddedBroker({
    acceptor,
    log: keptLog().log,
    host: "127.0.0.1",
    port: 0,
    publisher: PUBLISHER,
  });
  closers.push(() => broker.close());
  // The dashboard's own answer about its health: the counters only for who brings the token.
  const token = "not-a-secret-of-anybody";
  const dashboard = createServer((request, response) => {
    const isKnown = request.headers.authorization === `Bearer ${token}`;
    void readHealth({ store, clock: Date.now }, "0.1.0", isKnown).then((view) =>
      response.end(JSON.stringify(view)),
    );
  });
  await new Promise<void>((resolve) => dashboard.listen(0, "127.0.0.1", resolve));
  closers.push(() => dashboard.close());
  const data = mkdtempSync(join(tmpdir(), "homewater-replay-data-"));
  closers.push(() => rmSync(data, { recursive: true }));
  const demo = {
    mqttUrl: `mqtt://127.0.0.1:${broker.port}`,
    ...PUBLISHER,
    httpUrl: `http://127.0.0.1:${(dashboard.address() as AddressInfo).port}`,
    token,
  };
  writeFileSync(join(data, "demo.json"), JSON.stringify(demo));
  return { store, acceptor, demo, data };
}

/** Runs the command with the running demo's connection file; what it says comes back. */
async function run(data: string, argv: readonly string[]) {
  const [out, said]: [string[], string[]] = [[], []];
  const code = await replay(argv, {
    environment: { HOMEWATER_DATA: data },
    clock: Date.now,
    out: (line) => out.push(line),
    progress: (line) => said.push(line),
  });
  return { code, out: out.join("\n"), said: said.join("\n") };
}
const withMaps = (file: string, ...more: string[]) => [
  file,
  "--time",
  "t",
  ...MAPS.flatMap((map) => ["--map", map]),
  ...more,
];

describe("replay", () => {
  it("sends a file's cells through the broker found in the demo's file, moved so that the last record is now", async () => {
    const { store, data } = await started();
    const before = Date.now();
    const { code, out, said } = await run(data, withMaps(csv(SMALL)));
    // On a slow machine it says in between how far it has come.
    const trouble = said.split("\n").filter((line) => line !== "" && !line.endsWith("not yet acknowledged"));
    expect([code, trouble]).toEqual([0, []]);
    const ph = await readingsAt(store, "ph");
    expect(ph.map((one) => one.value)).toEqual([8.1, 8.2, 8.3]);
    const last = ph.at(-1)?.at ?? 0;
    expect(last).toBeGreaterThanOrEqual(before);
    expect(last).toBeLessThanOrEqual(Date.now());
    expect(ph.map((one) => last - one.at)).toEqual([3 * MINUTE, MINUTE, 0]);
    const temperature = await readingsAt(store, "temperature");
    // 50 °F is 10 °C and 50.9 °F is 10.5 °C by the definition of the scale.
    expect(temperature.map((one) => one.value.toFixed(6))).toEqual(["10.000000", "10.500000"]);
    expect(out).toContain("4 rows from 2024-05-01T10:00:00.000Z to 2024-05-01T10:03:00.000Z");
    expect(out).toContain("taken as Z (--offset was not given)");
    expect(out).toContain("5 cells sent");
    expect(out).toContain("2 empty cells left out");
    expect(out).toContain(
      '1 cells could not be read and were not sent; the first: "sensor off" in temp at 2024-05-01T10:03',
    );
    expect(out).toContain("accepted 5, duplicate 0, conflicting 0, rejected 0, unclaimed 0");
  });

  it("keeps times when asked, as recorded data, with the file's offset; a second run is all duplicates", async () => {
    const { store, data } = await started();
    const file = csv(SMALL);
    const first = await run(data, withMaps(file, "--keep-times", "--offset", "-07:00"));
    expect(first.out).toContain("taken as -07:00\n");
    expect(first.out).toContain("accepted 5, duplicate 0");
    const ph = await readingsAt(store, "ph");
    expect(ph.map((one) => one.at)).toEqual([0, 2, 3].map((n) => TIME + 7 * 60 * MINUTE + n * MINUTE));
    const { sources } = await store.readSetUp();
    expect(sources.map((one) => one.kind)).toEqual(["history"]);
    const second = await run(data, withMaps(file, "--keep-times", "--offset=-07:00"));
    expect(second.out).toContain("accepted 0, duplicate 5");
  });

  it("sorts a file that is out of order and says so", async () => {
    const { store, data } = await started();
    const file = csv(
      "t,temp,ph\n2024-05-01T10:02,50,8.2\n2024-05-01T10:00,50,8.0\n2024-05-01T10:01,50,8.1\n",
    );
    const { out } = await run(data, withMaps(file, "--keep-times"));
    const entries = await store.journalAfter(0, 100);
    const inOrderOfArrival = await store.readingsOf(entries.filter((one) => one.kind === "readings"));
    const ph = await readingsAt(store, "ph");
    expect(ph.map((one) => one.value)).toEqual([8, 8.1, 8.2]);
    expect(inOrderOfArrival.map((one) => one.at)).toEqual(
      inOrderOfArrival.map((one) => one.at).sort((a, b) => a - b),
    );
    expect(out).toContain("not in order of time; its rows were sorted");
  });

  it("keeps the records' pace when asked, never ahead of the clock", async () => {
    const { store, data } = await started();
    const file = csv(
      "t,temp,ph\n2024-05-01T10:00:00,50,8.0\n2024-05-01T10:00:01,50,8.1\n2024-05-01T10:00:02,50,8.2\n",
    );
    const began = performance.now();
    const { said } = await run(data, withMaps(file, "--speed", "1"));
    expect(performance.now() - began).toBeGreaterThan(1_990);
    const ph = await readingsAt(store, "ph");
    for (const one of ph) expect(one.received - one.at).toBeGreaterThanOrEqual(0);
    // Live: each record is received about when it says it was measured. The machine may be busy: within a second.
    for (const one of ph) expect(one.received - one.at).toBeLessThan(1_000);
    expect(said).toMatch(/\d of 3 rows, \d cells sent/);
  });

  it("sends again what was not acknowledged, through refusals and reconnections, and nothing is lost or doubled", {
    timeout: 30_000,
  }, async () => {
    const { store, acceptor, data } = await started();
    const rows = Array.from(
      { length: 1_500 },
      (_, n) => `${new Date(TIME + n * 1_000).toISOString()},,${7 + n / 2_000}`,
    );
    const file = csv(["t,temp,ph", ...rows].join("\n"));
    const running = run(data, withMaps(file, "--keep-times"));
    await until(() => acceptor.counts().stored > 200, "it has begun");
    store.trouble = new StoreError("full", "The disk is full: free some space.");
    await until(() => acceptor.counts().failedCommits > 2, "commits fail");
    store.trouble = null;
    const { code, out } = await running;
    expect(code).toBe(0);
    expect((await readingsAt(store, "ph")).map((one) => one.value)).toEqual(
      rows.map((_, n) => 7 + n / 2_000),
    );
    expect(out).toMatch(/connection was lost and restored \d+ times/);
    expect(out).toContain("accepted 1,500");
    expect(out).toContain("rejected 0");
  });

  it.each([
    [
      "an unknown column",
      ["--time", "t", "--map", "tmp=kelp-gallery/display/ph"],
      'There is no column "tmp" in the file: its columns are t, temp, ph, note.',
    ],
    ["an unknown time column", ["--time", "when", "--map", MAPS[1] ?? ""], 'There is no column "when"'],
    [
      "a unit that does not convert",
      ["--time", "t", "--map", "temp=kelp-gallery/display/temperature:mg/L"],
      '"mg/L" does not convert exactly to Cel',
    ],
    [
      "a misspelt quantity",
      ["--time", "t", "--map", "temp=kelp-gallery/display/temprature"],
      "did you mean temperature?",
    ],
    [
      "a map that cannot be read",
      ["--time", "t", "--map", "temp"],
      "write COLUMN=system/point/quantity:unit",
    ],
    [
      "a unit on a state",
      ["--time", "t", "--map", "ph=kelp-gallery/pump-1/pump:1"],
      "is a state and has no unit",
    ],
    [
      "no broker",
      ["--time", "t", "--map", MAPS[1] ?? "", "--url", "mqtt://127.0.0.1:1"],
      "cannot be reached (ECONNREFUSED)",
    ],
    [
      "a wrong password",
      ["--time", "t", "--map", MAPS[1] ?? "", "--password", "guess"],
      "refuses the connection",
    ],
    ["a speed of nought", ["--time", "t", "--map", MAPS[1] ?? "", "--speed", "0"], '--speed is "0"'],
    [
      "an offset that does not exist",
      ["--time", "t", "--map", MAPS[1] ?? "", "--offset", "PST"],
      '--offset is "PST"',
    ],
    ["an unknown argument", ["--tmie", "t"], "--tmie is not an option"],
    [
      "a time that cannot be read",
      ["--time", "note", "--map", MAPS[1] ?? ""],
      'note "calm, clear" is not a date and time',
    ],
  ])("ends with code 1 and a sentence for %s", async (_, argv, sentence) => {
    const { data, acceptor } = await started();
    const { code, said } = await run(data, [csv(SMALL), ...argv]);
    expect(code).toBe(1);
    expect(said).toContain(sentence);
    expect(acceptor.counts().stored).toBe(0);
  });

  it("ends with code 1 for a file that is not there", async () => {
    const { data } = await started();
    const { code, said } = await run(data, withMaps("no-such-file.csv"));
    expect([code, said]).toEqual([1, expect.stringContaining("no-such-file.csv cannot be read")]);
  });

  it("goes on where the connection is lost again while it is still sending again", async () => {
    const { store, data, demo } = await started();
    const broker = Number(new URL(demo.mqttUrl).port);
    // Every connection but the last ends after a few hundred acknowledgements (a PUBACK is four bytes, MQTT 3.1.1 section 3.4).
    let connections = 0;
    const line = createConnectionServer((near) => {
      connections += 1;
      let left = connections < 6 ? 4 * (connections % 2 === 0 ? 120 : 700) : Number.POSITIVE_INFINITY;
      const far = connect(broker, "127.0.0.1");
      const end = () => {
        near.destroy();
        far.destroy();
      };
      near.on("data", (chunk) => far.write(chunk));
      far.on("data", (chunk) => {
        near.write(chunk);
        left -= chunk.length;
        if (left <= 0) end();
      });
      for (const socket of [near, far]) socket.on("error", end).on("close", end);
    });
    await new Promise<void>((resolve) => line.listen(0, "127.0.0.1", resolve));
    closers.push(() => line.close());
    const minutes = Array.from({ length: 3_000 }, (_, n) => new Date(TIME + n * MINUTE).toISOString());
    const file = csv(`t,temp,ph\n${minutes.map((t, n) => `${t},,${7.5 + (n % 100) / 100}`).join("\n")}\n`);
    const url = `mqtt://127.0.0.1:${(line.address() as AddressInfo).port}`;
    const login = ["--user", PUBLISHER.user, "--password", PUBLISHER.password];
    const { code, said, out } = await run(data, withMaps(file, "--keep-times", "--url", url, ...login));
    expect([code, said.includes("was not accepted")]).toEqual([0, false]);
    expect(out).toContain("3,000 cells sent");
    expect(connections).toBeGreaterThan(2);
    expect((await readingsAt(store, "ph")).map((one) => one.at)).toEqual(minutes.map((t) => Date.parse(t)));
  });

  it("gives the demo's token to the demo's dashboard alone, and says where counters are not shown without one", async () => {
    const { data, demo } = await started();
    const another = demo.httpUrl.replace("127.0.0.1", "localhost");
    const { code, out } = await run(data, withMaps(csv(SMALL), "--http", another));
    expect(code).toBe(0);
    expect(out).toContain(`not known, ${another} shows its counters only if HOMEWATER_API_TOKEN is set here`);
  });

  it("still says what it sent where no dashboard answers", async () => {
    const { data } = await started();
    const { code, out } = await run(data, withMaps(csv(SMALL), "--http", "http://127.0.0.1:1"));
    expect(code).toBe(0);
    expect(out).toContain("not known, no dashboard answers at http://127.0.0.1:1");
  });

  it("gives the demo's password to no other broker", async () => {
    const { data, demo } = await started();
    const { said } = await run(
      data,
      withMaps(csv(SMALL), "--url", demo.mqttUrl.replace("127.0.0.1", "localhost")),
    );
    expect(said).toContain("refuses the connection");
  });

  it("reads a value that begins with a hyphen", () => {
    expect(readArguments(["f.csv", "--time", "t", "--map", "a=b/c/ph", "--offset", "-03:30"]).offset).toBe(
      "-03:30",
    );
  });
});
