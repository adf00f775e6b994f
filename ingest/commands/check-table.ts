/** `npm run -s check-table -- QUANTITY FILE.csv`: holds the equations against a table of check values. */
import { runCheckTable } from "../tables/check-table.ts";

process.exitCode = await runCheckTable(
  process.argv.slice(2),
  (line) => process.stdout.write(`${line}\n`),
  (line) => process.stderr.write(`${line}\n`),
);
