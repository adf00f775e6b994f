/** `npm run -s sums -- NAME < rows.csv > rows.csv`: one sum over a whole table, row by row. */
import { runSums } from "../tables/sums.ts";

process.exitCode = await runSums(process.argv.slice(2), {
  input: process.stdin,
  output: process.stdout,
  tell: (line) => process.stderr.write(`${line}\n`),
});
