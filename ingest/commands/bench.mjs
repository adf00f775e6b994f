// `npm run bench`: installs what is missing, then runs the benchmarks with the same arguments.
import { join } from "node:path";
import { bootstrap } from "./bootstrap.mjs";
import { runNode, stopChildrenOnSignals } from "./children.mjs";
import { ROOT } from "./project.mjs";
import { runCommand } from "./say.mjs";

const HELP = `Usage: npm run bench [-- NAME ...] [options]

Runs the benchmarks, or only the named ones, one after another; prints one table and writes the same as JSON. All
traffic stays on this machine.

  --readings N       readings in the large store, 200,000 to 200,000,000 (default: 5,000,000)
  --scale N          size of the run, 0.001 to 1 (default: 1, the full run)
  --data FOLDER      folder of the recorded files that some benchmarks use
  --json PATH        file for the JSON (default: data/bench/TIME.json)

Example:
  npm run bench -- --scale 0.1`;

await runCommand(async () => {
  stopChildrenOnSignals();
  await bootstrap("full");
  const args = ["--import", "tsx", join(ROOT, "tests/bench/main.ts"), ...process.argv.slice(2)];
  return (await runNode(args, { cwd: ROOT })).code;
}, HELP);
