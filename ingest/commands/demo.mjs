// `npm run demo`: installs and builds what is missing, then runs demo.ts with the same arguments.
import { runBesideBuild } from "./beside-build.mjs";
import { runCommand } from "./say.mjs";

await runCommand(() => runBesideBuild("demo.ts"));
