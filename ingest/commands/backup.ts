/** `npm run backup`: one verified backup now; see ingest/backup. */
import { userInfo } from "node:os";
import { runBackup } from "../backup/run.ts";
import { answersHelp } from "../options/help.ts";

const HELP = `Usage: npm run backup

Makes one backup now, while Homewater runs or not, reads it back to verify it, and removes old backups by the rule of
HOMEWATER_BACKUP_KEEP. On PostgreSQL it uses pg_dump, which must be installed in the server's version.

There are no options; HOMEWATER_BACKUP_FOLDER says where backups go (default: backups in the data folder).

Example:
  HOMEWATER_BACKUP_FOLDER=/mnt/second-disk/homewater npm run backup`;

const out = (line: string) => process.stdout.write(`${line}\n`);
if (!answersHelp(process.argv.slice(2), HELP, out))
  process.exitCode = await runBackup({
    environment: process.env,
    clock: Date.now,
    user: userInfo().username,
    out,
    complain: (line) => process.stderr.write(`${line}\n`),
  });
