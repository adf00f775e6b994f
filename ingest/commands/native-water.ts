/** `npm run -s native-water -- LATITUDE LONGITUDE [DEPTH]`: twelve months of the sea around a place, as JSON. */
import { runNativeWater } from "../tables/native-water.ts";

process.exitCode = await runNativeWater(process.argv.slice(2), {
  say: (text) => process.stdout.write(`${text}\n`),
  tell: (line) => process.stderr.write(`${line}\n`),
});
