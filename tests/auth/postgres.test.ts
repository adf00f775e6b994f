import { afterAll, beforeAll, describe } from "vitest";
import { type PostgresServer, postgresMissing, startPostgres } from "../helpers/postgres-server.ts";
import { postgresSubject } from "../store/subjects.ts";
import { describeAuth } from "./contract.ts";

const missing = await postgresMissing();

describe.skipIf(missing !== null)(`PostgreSQL${missing === null ? "" : ` (skipped: ${missing})`}`, () => {
  let server: PostgresServer;
  beforeAll(async () => {
    server = await startPostgres();
  });
  afterAll(async () => {
    await server.stop();
  });

  describeAuth("signing in over PostgreSQL", () => postgresSubject(server));
});
