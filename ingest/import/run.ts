/** `npm run import`: the same services as the page, on a file of this machine. */
import { basename } from "node:path";
import { readSettings, SettingsError } from "#config/env.ts";
import { openDependencies } from "#config/open.ts";
import { type ImportPlan, targetsOf } from "#core/importing/plan.ts";
import { EMPTY_POSITION } from "#core/importing/progress.ts";
import { EMPTY_REPORT, mergeReports } from "#core/importing/report.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Actor, WriteDeps } from "#services/deps.ts";
import { AppError } from "#services/errors.ts";
import {
  beginImport,
  continueImport,
  readImports,
  tryImport,
  withdrawImport,
} from "#services/importing/import-readings.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { StoreError } from "#store/port.ts";
import { answersHelp } from "../options/help.ts";
import { type ImportArguments, readArguments, USAGE } from "./arguments.ts";
import { openRecorded, type RecordedFile } from "./file.ts";
import { ImportError } from "./import-error.ts";
import { reportLines, runLine } from "./words.ts";

export interface ImportEnvironment {
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly clock: () => Instant;
  /** Name of the person who runs the command, for the audit trail. */
  readonly user: string;
  /** One line each. */
  readonly out: (line: string) => void;
  readonly progress: (line: string) => void;
}

/** Imports, lists or withdraws; resolves with the process's exit code: 0, or 1 with a sentence on `progress`. */
export async function runImport(argv: readonly string[], around: ImportEnvironment): Promise<number> {
  if (answersHelp(argv, USAGE, around.out)) return 0;
  try {
    const args = readArguments(argv);
    const settings = readSettings(around.environment);
    const { store } = await openDependencies(settings, { migrate: false });
    try {
      await act(
        args,
        { store, clock: around.clock, setUp: createSetUpReader(store, around.clock), newId: uuidV7 },
        around,
      );
    } finally {
      await store.close();
    }
    return 0;
  } catch (error) {
    if (error instanceof ImportError || error instanceof SettingsError || error instanceof StoreError)
      around.progress(error.message);
    else if (error instanceof AppError) {
      around.progress(error.message);
      for (const issue of error.issues)
        around.progress(`  ${issue.field} "${issue.value ?? ""}" ${issue.says}: ${issue.remedy}`);
    } else throw error;
    return 1;
  }
}

/** Whoever sits at the machine that holds the store may do what a curator may. */
const operator = (user: string): Actor => ({
  id: "command",
  name: `${user} (command line)`,
  kind: "token",
  grants: [{ role: "curator", site: null, system: null }],
  mustChange: false,
});

async function act(args: ImportArguments, deps: WriteDeps, around: ImportEnvironment): Promise<void> {
  const actor = operator(around.user);
  if (args.do === "list") {
    const { imports } = await readImports(deps, actor);
    for (const run of imports) around.out(runLine(run));
    if (imports.length === 0) around.out("Nothing has been imported yet.");
    return;
  }
  if (args.do === "withdraw") {
    around.out(runLine(await withdrawImport(deps, actor, args.id, { reason: args.reason })));
    return;
  }
  const file = await openRecorded(args.file);
  try {
    const plan = await withSiteZone(deps, args.plan);
    if (args.store) await store(deps, actor, args.file, file, plan, around);
    else await attempt(deps, actor, file, plan, around);
  } finally {
    await file.close();
  }
}

async function withSiteZone(deps: WriteDeps, plan: ImportPlan): Promise<ImportPlan> {
  if (plan.time.zone !== "site") return plan;
  const { byCode } = await deps.setUp.read();
  const zones = new Set(targetsOf(plan).flatMap(({ target }) => byCode.get(target.system)?.site.zone ?? []));
  const [zone] = zones;
  if (zone === undefined || zones.size > 1)
    throw new ImportError(
      `--zone site: the systems in --map are in ${zones.size} zones: give the zone of the file.`,
    );
  return { ...plan, time: { ...plan.time, zone } };
}

async function attempt(
  deps: WriteDeps,
  actor: Actor,
  file: RecordedFile,
  plan: ImportPlan,
  around: ImportEnvironment,
): Promise<void> {
  let position = EMPTY_POSITION;
  let report = EMPTY_REPORT;
  const say = pace(around.progress);
  for (let final = false; !final; ) {
    const piece = await file.piece(position.bytes, plan.encoding);
    const tried = await tryImport(deps, actor, { plan, ...piece, position });
    report = mergeReports(report, tried.report);
    position = tried.position;
    final = piece.final;
    say(() => `read ${percent(position.bytes, file.bytes)}`);
  }
  for (const line of reportLines(report, false)) around.out(line);
  around.out("Nothing was stored. Run the command again with --yes to store it.");
}

async function store(
  deps: WriteDeps,
  actor: Actor,
  path: string,
  file: RecordedFile,
  plan: ImportPlan,
  around: ImportEnvironment,
): Promise<void> {
  const { bytes, fingerprint } = file;
  let run = await beginImport(deps, actor, { plan, file: basename(path), bytes, fingerprint });
  if (run.position.bytes > 0)
    around.out(
      `continues where it stopped, at line ${run.position.line} (${percent(run.position.bytes, bytes)})`,
    );
  const say = pace(around.progress);
  while (run.state === "running") {
    const piece = await file.piece(run.position.bytes, plan.encoding);
    run = await continueImport(deps, actor, run.id, { bytes: run.position.bytes, ...piece });
    say(() => `stored ${percent(run.position.bytes, bytes)}, line ${run.position.line}`);
  }
  for (const line of reportLines(run.report, true)) around.out(line);
  around.out(`import ${run.id}; to withdraw it: npm run import -- --withdraw ${run.id} --reason TEXT`);
}

const percent = (part: number, whole: number) => `${Math.floor((100 * part) / whole)} %`;

/** Says at most one line a second. */
function pace(say: (line: string) => void): (line: () => string) => void {
  let last = performance.now();
  return (line) => {
    if (performance.now() - last < 1_000) return;
    last = performance.now();
    say(line());
  };
}
