/** `npm run doctor`: what is wrong and what to do; see ingest/doctor. */
import { runDoctor } from "../doctor/run.ts";
import { answersHelp } from "../options/help.ts";

const HELP = `Usage: npm run doctor

Checks everything Homewater needs, whether it runs or not: the settings as read, the data folder, whether the database
is intact and its schema current, disk, ports, backup, clock and the Node version. Says what is wrong and what to do.
Changes nothing. Exit code 1 if something needs fixing.

There are no options; the settings are read from the environment (HOMEWATER_...).

Example:
  HOMEWATER_DATA=/srv/homewater npm run doctor`;

const out = (line: string) => process.stdout.write(`${line}\n`);
if (!answersHelp(process.argv.slice(2), HELP, out))
  process.exitCode = await runDoctor({
    environment: process.env,
    clock: Date.now,
    out,
    nodeVersion: process.versions.node,
  });
