// `npm start`: installs and builds what is missing, then runs start.ts with the same arguments.
import { runBesideBuild } from "./beside-build.mjs";
import { runCommand } from "./say.mjs";

await runCommand(() => runBesideBuild("start.ts"));
