/** `npm run restore -- FILE`: puts a backup in place of a store that is not running; see ingest/backup. */
import { userInfo } from "node:os";
import { runRestore } from "../backup/run.ts";
import { answersHelp } from "../options/help.ts";

const HELP = `Usage: npm run restore -- FILE

Puts a backup in place of the present data. Stop Homewater first; otherwise it refuses. The present database is kept
beside the restored one. It says what was restored, up to which moment, and ends all sessions: everybody signs in
again. On PostgreSQL it uses pg_restore and needs an empty database.

There are no options. Without FILE it names the newest backup.

Example:
  npm run restore -- data/backups/homewater-20261125T070509Z.db`;

const out = (line: string) => process.stdout.write(`${line}\n`);
if (!answersHelp(process.argv.slice(2), HELP, out))
  process.exitCode = await runRestore(process.argv.slice(2), {
    environment: process.env,
    clock: Date.now,
    user: userInfo().username,
    out,
    complain: (line) => process.stderr.write(`${line}\n`),
  });
