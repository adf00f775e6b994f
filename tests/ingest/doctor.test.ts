import { chmod, mkdtemp, rm, writeFile } from "node:fs/promises";
import type { AddressInfo } from "node:net";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { runDoctor } from "#ingest/doctor/run.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { T, withParts } from "../store/contract/subject.ts";

let folder: string;
let said: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "homewater-doctor-"));
});
afterEach(async () => {
  await chmod(folder, 0o755);
  await rm(folder, { recursive: true, force: true });
});

async function doctor(
  environment: Record<string, string> = {},
  nodeVersion = process.versions.node,
): Promise<number> {
  said = "";
  return await runDoctor({
    environment: {
      HOMEWATER_DATA: folder,
      HOMEWATER_MQTT_USER: "gateway",
      HOMEWATER_MQTT_PASSWORD: "kelp-forest-7",
      HOMEWATER_MQTT_PORT: "1",
      HOMEWATER_HTTP_PORT: "1",
      ...environment,
    },
    clock: Date.now,
    out: (line) => {
      said += `${line}\n`;
    },
    nodeVersion,
  });
}

test("before the first start nothing is wrong: it says what is made when, lists the settings and hides what is secret", async () => {
  expect(await doctor({ HOMEWATER_API_TOKEN: "0123456789abcdef" })).toBe(0);
  expect(said).toContain(`HOMEWATER_DATA = ${folder}`);
  expect(said).toMatch(/HOMEWATER_API_TOKEN = \(set, not shown\)/);
  expect(said).not.toContain("0123456789abcdef");
  expect(said).not.toContain("kelp-forest-7");
  expect(said).toMatch(/Database: .* does not exist yet/);
  expect(said).toMatch(/Nothing listens at 127.0.0.1:1/);
  expect(said).toContain("Nothing needs fixing.");
});

test("a store whose processes do not run, a broken file, a wrong setting, an old Node: each is named with what to do, and the exit code is 1", async () => {
  const file = join(folder, "homewater.db");
  const store = await openSqlite({ file, migrate: true });
  const { append, reading } = await withParts(store);
  await append([reading(T, 1)], Date.now());
  await store.close();
  expect(await doctor()).toBe(1);
  expect(said).toMatch(/ok {4}Database: .*homewater.db opens, has schema \d+ and is intact/);
  expect(said).toMatch(/WRONG Accepting readings: No accepting process has reported yet/);
  expect(said).toMatch(/WRONG Evaluating readings: .*Start Homewater/);
  expect(said).toMatch(/ok {4}Clock: The last reading, test or entry of any kind was received/);
  expect(said).toMatch(/ok {4}Disk: .* free. The database takes/);
  await writeFile(file, "not a database at all, and long enough to be looked at as one: ".repeat(100));
  expect(await doctor()).toBe(1);
  expect(said).toMatch(/WRONG Database: /);
  expect(await doctor({ HOMEWATER_HTTP_PORT: "many" })).toBe(1);
  expect(said).toMatch(
    /WRONG Settings: HOMEWATER_HTTP_PORT is "many"; nothing else was checked\. Write a port/,
  );
  expect(await doctor({}, "18.20.1")).toBe(1);
  expect(said).toMatch(/WRONG Node: 18.20.1 is too old/);
});

test("a place that cannot be read is not taken for one that will be made", async () => {
  // POSIX leaves names longer than NAME_MAX (255 bytes on common file systems) to fail with ENAMETOOLONG.
  const far = join(folder, "x".repeat(300));
  expect(await doctor({ HOMEWATER_DATA: far })).toBe(1);
  expect(said).toMatch(/Data folder: .* cannot be read \(ENAMETOOLONG\)/);
  expect(said).toMatch(/Database: .* cannot be read \(ENAMETOOLONG\)/);
});

test("a broker that cannot be reached and one that can are told apart", async () => {
  expect(await doctor({ HOMEWATER_MQTT_URL: "mqtt://127.0.0.1:1" })).toBe(1);
  expect(said).toMatch(/WRONG Broker: 127.0.0.1:1 cannot be reached/);
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  expect(await doctor({ HOMEWATER_MQTT_URL: `mqtt://127.0.0.1:${port}` })).toBe(0);
  expect(said).toMatch(/ok {4}Broker: 127.0.0.1:\d+ answers/);
  await new Promise((resolve) => server.close(resolve));
});
