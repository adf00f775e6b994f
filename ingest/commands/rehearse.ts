/** `npm run -s rehearse -- FILE.csv --time COLUMN --map COLUMN=quantity:unit`: what the evaluator finds in a recorded file. */
import { rehearse } from "../rehearse/run.ts";

process.exitCode = await rehearse(process.argv.slice(2), {
  out: (line) => process.stdout.write(`${line}\n`),
  complain: (line) => process.stderr.write(`${line}\n`),
});
