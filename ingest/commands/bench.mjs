// `npm run bench`: installs what is missing, then runs the benchmarks with the same arguments.
import { join } from "node:path";
import { bootstrap } from "./bootstrap.mjs";
import { runNode, stopChildrenOnSignals } from "./children.mjs";
import { ROOT } from "./project.mjs";
import { runCommand } from "./say.mjs";

await runCommand(async () => {
  stopChildrenOnSignals();
  await bootstrap("full");
  const args = ["--import", "tsx", join(ROOT, "tests/bench/main.ts"), ...process.argv.slice(2)];
  return (await runNode(args, { cwd: ROOT })).code;
});
