import { openClimatology } from "#config/open.ts";
import { nativeWaterQuery } from "#contract/native-water.ts";
import { AppError } from "#services/errors.ts";
import { readNativeWater } from "#services/home-water/read-native-water.ts";
import { parse } from "#services/parse.ts";

const HELP = `npm run -s native-water -- LATITUDE LONGITUDE [DEPTH]

Twelve months of the sea around a place, offline, as JSON: degrees north and east positive, depth in metres (0, 20, 50, 100 or 200).
The nearest complete box of sea within 300 km is taken and named; beyond that nothing is said.`;

interface Streams {
  readonly say: (text: string) => void;
  readonly tell: (line: string) => void;
}

/** Runs the command; gives its exit code: 0 said, 1 no sea near enough, 2 not understood. */
export async function runNativeWater(args: readonly string[], { say, tell }: Streams): Promise<number> {
  if (args.includes("--help")) {
    say(HELP);
    return 0;
  }
  const numbers = args.map((text) => (text.trim() === "" ? Number.NaN : Number(text)));
  const odd = args.find((_, i) => !Number.isFinite(numbers[i]));
  if (args.length < 2 || args.length > 3 || odd !== undefined) {
    tell(odd === undefined ? HELP : `"${odd}" is no number: give degrees like 48.4 -123.5\n\n${HELP}`);
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
