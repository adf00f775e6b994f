/** `npm run restore -- FILE`: puts a backup in place of a store that is not running; see ingest/backup. */
import { userInfo } from "node:os";
import { runRestore } from "../backup/run.ts";

process.exitCode = await runRestore(process.argv.slice(2), {
  environment: process.env,
  clock: Date.now,
  user: userInfo().username,
  out: (line) => process.stdout.write(`${line}\n`),
  complain: (line) => process.stderr.write(`${line}\n`),
});
