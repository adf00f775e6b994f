/** `npm run backup`: one verified backup now; see ingest/backup. */
import { userInfo } from "node:os";
import { runBackup } from "../backup/run.ts";

process.exitCode = await runBackup({
  environment: process.env,
  clock: Date.now,
  user: userInfo().username,
  out: (line) => process.stdout.write(`${line}\n`),
  complain: (line) => process.stderr.write(`${line}\n`),
});
