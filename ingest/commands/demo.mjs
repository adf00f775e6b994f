// `npm run demo`: installs and builds what is missing, then runs demo.ts with the same arguments.
import { runBesideBuild } from "./beside-build.mjs";
import { runCommand } from "./say.mjs";

const HELP = `Usage: npm run demo [-- --fast-history]

Starts Homewater with an invented aquarium: twelve systems, a year of history, readings arriving now. Installs and
builds what is missing. Prints where to open it, how to sign in and how to send a reading of your own. Ctrl-C stops
everything; the same command continues from there.

  --fast-history     load the last two days instead of fourteen days and the year before them

Ports and the data folder come from HOMEWATER_HTTP_PORT, HOMEWATER_MQTT_PORT (0: any free port) and HOMEWATER_DATA.

Example:
  HOMEWATER_DATA=./demo-data npm run demo -- --fast-history`;

await runCommand(() => runBesideBuild("demo.ts"), HELP);
