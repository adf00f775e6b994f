import { existsSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { backUpPostgres, restorePostgres } from "#store/postgres/backup.ts";
import { type PostgresServer, postgresMissing, startPostgres } from "../helpers/postgres-server.ts";

const missing = await postgresMissing();

describe.skipIf(missing !== null)(
  `backups of a PostgreSQL server${missing === null ? "" : ` (skipped: ${missing})`}`,
  () => {
    let server: PostgresServer;
    let folder: string;
    beforeAll(async () => {
      server = await startPostgres();
      folder = await mkdtemp(join(tmpdir(), "homewater-dump-"));
    });
    afterAll(async () => {
      await server.stop();
      await rm(folder, { recursive: true, force: true });
    });

    it("say in one sentence what is missing where the server's tools are not installed or not of its version, and leave no file", async () => {
      const url = await server.createMigrated();
      const to = join(folder, "a.dump");
      const path = process.env.PATH;
      process.env.PATH = folder;
      try {
        await expect(backUpPostgres(url, to)).rejects.toMatchObject({
          code: "unavailable",
          message: expect.stringMatching(/^pg_dump is not installed.*client tools/),
        });
      } finally {
        process.env.PATH = path;
      }
      expect(existsSync(to)).toBe(false);
      expect(existsSync(`${to}.partial`)).toBe(false);
    });

    it("are restored into an empty database only: what is there is never overwritten", async () => {
      const url = await server.createMigrated();
      await expect(restorePostgres(join(folder, "none.dump"), url)).rejects.toMatchObject({
        message: expect.stringMatching(/not empty.*createdb.*HOMEWATER_DATABASE_URL/s),
      });
    });
  },
);
