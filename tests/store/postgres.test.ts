import { afterAll, beforeAll, describe } from "vitest";
import { type PostgresServer, postgresMissing, startPostgres } from "../helpers/postgres-server.ts";
import { describeStore } from "./contract.ts";
import { postgresSubject } from "./subjects.ts";

const missing = await postgresMissing();

describe.skipIf(missing !== null)(`PostgreSQL${missing === null ? "" : ` (skipped: ${missing})`}`, () => {
  let server: PostgresServer;
  beforeAll(async () => {
    server = await startPostgres();
  });
  afterAll(async () => {
    await server.stop();
  });

  describeStore("PostgreSQL", () => postgresSubject(server));
});
