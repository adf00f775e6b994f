/** `npm run replay -- FILE.csv --time COLUMN --map COLUMN=system/point/quantity:unit`: plays recorded data into the broker. */
import { replay } from "../replay/run.ts";

process.exitCode = await replay(process.argv.slice(2), {
  environment: process.env,
  clock: Date.now,
  out: (line) => process.stdout.write(`${line}\n`),
  progress: (line) => process.stderr.write(`${line}\n`),
});
