import { openClimatology } from "#config/open.ts";
import { nativeWaterQuery } from "#contract/native-water.ts";
import { AppError } from "#services/errors.ts";
import { readNativeWater } from "#services/home-water/read-native-water.ts";
import { parse } from "#services/parse.ts";

const HELP = `Usage: npm run -s native-water -- LATITUDE LONGITUDE [DEPTH]

Prints twelve months of the sea around a place as JSON, offline: temperature and how far two climatologies differ,
annual salinity, day length, and the ocean box they are from. The nearest complete box within 300 km is used and named;
if there is none, there is no answer (exit code 1). It is an ocean box, not a bay.

  LATITUDE LONGITUDE   degrees, north and east positive
  DEPTH                metres: 0 (default), 20, 50, 100 or 200

Example:
  npm run -s native-water -- 48.4 -123.5 20`;

interface Streams {
  readonly say: (text: string) => void;
  readonly tell: (line: string) => void;
}

/** Runs the command; returns its exit code: 0 answered, 1 no sea near enough, 2 wrong arguments. */
export async function runNativeWater(args: readonly string[], { say, tell }: Streams): Promise<number> {
  if (args.includes("--help")) {
    say(HELP);
    return 0;
  }
  const numbers = args.map((text) => (text.trim() === "" ? Number.NaN : Number(text)));
  const odd = args.find((_, i) => !Number.isFinite(numbers[i]));
  if (args.length < 2 || args.length > 3 || odd !== undefined) {
    tell(odd === undefined ? HELP : `"${odd}" is not a number: give degrees such as 48.4 -123.5\n\n${HELP}`);
    return 2;
  }
  const [latitude, longitude, depth] = numbers;
  try {
    const query = parse(nativeWaterQuery, {
      latitude,
      longitude,
      ...(depth === undefined ? {} : { depth }),
    });
    say(JSON.stringify(await readNativeWater({ climatology: openClimatology() }, query), null, 2));
    return 0;
  } catch (error) {
    if (!(error instanceof AppError)) throw error;
    const [issue] = error.issues;
    tell(issue ? `${issue.field} ${issue.value ?? ""}: ${issue.says}: ${issue.remedy}` : error.message);
    return error.code === "not_found" ? 1 : 2;
  }
}
