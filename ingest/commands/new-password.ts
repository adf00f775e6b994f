/** `npm run new-password -- USER`: a one-time password, given at the machine; see ingest/first-start. */
import { userInfo } from "node:os";
import { runNewPassword } from "../first-start/new-password.ts";
import { answersHelp } from "../options/help.ts";

const HELP = `Usage: npm run new-password -- USER

Prints a one-time password for an account, for somebody who cannot sign in: the first password was never seen, was lost
or ran out. Only whoever works at this machine can run it; it is in the audit trail, and ends the sessions of that
account. USER may be left out while there is only one account. Homewater may run meanwhile.

There are no options; the settings are read from the environment (HOMEWATER_...), as for npm start.

Example:
  HOMEWATER_DATA=/srv/homewater npm run new-password -- administrator`;

const out = (line: string) => process.stdout.write(`${line}\n`);
if (!answersHelp(process.argv.slice(2), HELP, out))
  process.exitCode = await runNewPassword(process.argv.slice(2), {
    environment: process.env,
    user: userInfo().username,
    out,
    complain: (line) => process.stderr.write(`${line}\n`),
  });
