// `npm start`: installs and builds what is missing, then runs start.ts with the same arguments.
import { runBesideBuild } from "./beside-build.mjs";
import { runCommand } from "./say.mjs";

const HELP = `Usage: npm start

Runs Homewater on your own data: broker or subscriber, evaluator, dashboard. Installs and builds what is missing. At
the first start it makes one administrator and prints a one-time password, once everything runs; npm run new-password
prints another one. Ctrl-C stops everything.

There are no options; the settings are environment variables (HOMEWATER_...), listed in README.md under Deployment.
npm run doctor prints them as read.

Example:
  HOMEWATER_DATA=/srv/homewater HOMEWATER_MQTT_USER=gateway HOMEWATER_MQTT_PASSWORD=... npm start`;

await runCommand(() => runBesideBuild("start.ts"), HELP);
