// `npm run soak [-- --kills N] [--payloads N] [--seed N] [vitest filters]`: the tests of faults with counts that take an hour or more.
import { parseArgs } from "node:util";
import { bootstrap } from "./bootstrap.mjs";
import { runNode, stopChildrenOnSignals } from "./children.mjs";
import { ROOT } from "./project.mjs";
import { runCommand, say } from "./say.mjs";

const HELP = `Usage: npm run soak [-- options] [vitest filters]

Runs the fault tests with large counts; takes an hour or more.

  --kills N          kills on each store and kind of broker (default: 100)
  --payloads N       payloads, good and broken (default: 100000)
  --seed N           seed of the random choices, to repeat a run

Example:
  npm run soak -- --kills 10`;

await runCommand(async () => {
  stopChildrenOnSignals();
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      kills: { type: "string", default: "100" },
      payloads: { type: "string", default: "100000" },
      seed: { type: "string" },
    },
  });
  for (const [name, text] of Object.entries(values))
    if (!/^\d+$/.test(text)) {
      say(`--${name} is "${text}": write a whole number`);
      return 2;
    }
  await bootstrap("full");
  say(`soak: ${values.kills} kills on each store and kind of broker, ${values.payloads} payloads`);
  const env = {
    ...process.env,
    HOMEWATER_TEST_KILLS: values.kills,
    HOMEWATER_TEST_PAYLOADS: values.payloads,
    ...(values.seed === undefined ? {} : { HOMEWATER_TEST_SEED: values.seed }),
  };
  const args = [
    "node_modules/vitest/vitest.mjs",
    "run",
    "--config",
    "tests/soak/vitest.config.ts",
    ...positionals,
  ];
  return (await runNode(args, { cwd: ROOT, env })).code;
}, HELP);
