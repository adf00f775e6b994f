/** `npm run import -- FILE.csv ...`: recorded values out of a CSV file into the store; see ingest/import. */
import { userInfo } from "node:os";
import { runImport } from "../import/run.ts";

process.exitCode = await runImport(process.argv.slice(2), {
  environment: process.env,
  clock: Date.now,
  user: userInfo().username,
  out: (line) => process.stdout.write(`${line}\n`),
  progress: (line) => process.stderr.write(`${line}\n`),
});
