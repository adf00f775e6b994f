import { execFile } from "node:child_process";
import { mkdtemp, readdir, rm, writeFile } from "node:fs/promises";
import { type AddressInfo, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { readSettings } from "#config/env.ts";
import { openSigningIn } from "#config/open.ts";
import { checkStart } from "#ingest/first-start/check-start.ts";
import { runNewPassword } from "#ingest/first-start/new-password.ts";
import { uuidV7 } from "#services/new-id.ts";
import { openSqlite } from "#store/sqlite/open.ts";

let folder: string;
let base: Record<string, string>;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "homewater-first-start-"));
  base = {
    HOMEWATER_DATA: join(folder, "data"),
    HOMEWATER_MQTT_PORT: "0",
    HOMEWATER_HTTP_PORT: "0",
  };
});
afterEach(() => rm(folder, { recursive: true, force: true }));
const login = { HOMEWATER_MQTT_USER: "gateway", HOMEWATER_MQTT_PASSWORD: "kelp-forest-7" };

describe("a start that cannot go on", () => {
  test("without the broker's settings nothing is made, no account either", { timeout: 60_000 }, async () => {
    const command = ["--import", "tsx", "ingest/commands/start.ts"];
    const run = promisify(execFile)(process.execPath, command, {
      env: { PATH: process.env.PATH, NODE_ENV: "test", ...base },
    });
    await expect(run).rejects.toMatchObject({
      code: 1,
      stderr: expect.stringMatching(/HOMEWATER_MQTT_USER and HOMEWATER_MQTT_PASSWORD are not set/),
    });
    expect(await readdir(folder)).toEqual([]);
  });

  test("names a port that another program uses", async () => {
    const other = createServer();
    await new Promise<void>((resolve) => other.listen(0, "127.0.0.1", resolve));
    const port = String((other.address() as AddressInfo).port);
    for (const setting of ["HOMEWATER_MQTT_PORT", "HOMEWATER_HTTP_PORT"]) {
      const settings = readSettings({ ...base, ...login, [setting]: port });
      await expect(checkStart(settings)).rejects.toThrow(`${setting} is ${port}, which another program uses`);
    }
    await new Promise((resolve) => other.close(resolve));
    expect(await readdir(folder)).toEqual([]);
  });

  test("names a folder that is none", async () => {
    await writeFile(join(folder, "file"), "");
    for (const setting of ["HOMEWATER_DATA", "HOMEWATER_BACKUP_FOLDER"]) {
      const settings = readSettings({ ...base, ...login, [setting]: join(folder, "file", "deeper") });
      await expect(checkStart(settings)).rejects.toThrow(/needs .*file, which is not a folder/);
    }
  });

  test("lets a good one pass", async () => {
    await expect(checkStart(readSettings({ ...base, ...login }))).resolves.toBeUndefined();
  });
});

describe("a new password at the machine", () => {
  let said: string[];
  const ask = async (...argv: string[]) => {
    said = [];
    const say = (line: string) => said.push(line);
    return runNewPassword(argv, { environment: base, user: "keeper", out: say, complain: say });
  };
  const passwordSaid = () => /one-time password (\S+)/.exec(said.join("\n"))?.[1] ?? "";
  const store = () => openSqlite({ file: join(folder, "homewater.db"), migrate: true });
  beforeEach(async () => {
    base = { ...base, HOMEWATER_DATA: folder };
    await (await store()).close();
  });

  test("is printed once more whenever it is asked for, and the one before no longer works", async () => {
    expect(await ask()).toBe(0);
    const first = passwordSaid();
    expect(await ask("administrator")).toBe(0);
    const second = passwordSaid();
    expect(second).not.toBe(first);
    const opened = await store();
    const { auth } = await openSigningIn(readSettings(base), {
      ...{ store: opened, clock: Date.now, newId: uuidV7 },
    });
    const enter = (password: string) =>
      auth.signIn({ name: "administrator", password, address: null, userAgent: null });
    expect(await enter(first)).toEqual({ ok: false, why: "wrong" });
    expect(await enter(second)).toMatchObject({ ok: true, person: { mustChange: true } });
    const rows = await opened.readAudit({ limit: 10 });
    expect(rows).toContainEqual(
      expect.objectContaining({ verb: "renew-password", actor: "keeper at the machine" }),
    );
    await opened.close();
  });

  test("an account that is not there is refused with those that are", async () => {
    await ask();
    expect(await ask("nobody")).toBe(1);
    expect(said).toEqual(["No account has the name nobody: name one of administrator."]);
  });
});
