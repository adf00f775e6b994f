// `npm run mutate [-- FILES]`: mutation testing of the equations and units. Its tools live in a package folder of their own,
// installed on the first run: in one lock with the rest they would make every install two to three times longer.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { bootstrap } from "./bootstrap.mjs";
import { runNode, runNpm, stopChildrenOnSignals } from "./children.mjs";
import { ROOT } from "./project.mjs";
import { CommandError, narrated, runCommand } from "./say.mjs";

const TOOLS = join(ROOT, "tests/tools/mutate");

const HELP = `Usage: npm run mutate [-- FILE ...]

Mutation testing of the equations and units, or of the given files only. Installs its own tools on the first run.

Example:
  npm run mutate -- lib/core/chemistry/salinity.ts`;

await runCommand(async () => {
  stopChildrenOnSignals();
  await bootstrap("full");
  if (!existsSync(join(TOOLS, "node_modules/.package-lock.json"))) {
    const args = [
      "ci",
      "--ignore-scripts",
      "--no-audit",
      "--no-fund",
      "--prefer-offline",
      "--loglevel=error",
    ];
    const { code, output } = await narrated("Installing the tools for mutation testing", () =>
      runNpm(args, { cwd: TOOLS, capture: true }),
    );
    if (code !== 0) throw new CommandError(`npm ci failed in tests/tools/mutate: ${output.trim()}`, code);
  }
  const files = process.argv.slice(2);
  const args = [
    join(TOOLS, "node_modules/@stryker-mutator/core/bin/stryker.js"),
    "run",
    join(TOOLS, "stryker.config.json"),
    ...(files.length > 0 ? ["--mutate", files.join(",")] : []),
  ];
  return (await runNode(args, { cwd: ROOT })).code;
}, HELP);
