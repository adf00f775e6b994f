import "server-only";
import type { Auth } from "#auth/port.ts";
import { readSettings, type Settings } from "#config/env.ts";
import { openClimatology, openDependencies, openLibrary, openSigningIn } from "#config/open.ts";
import type { Instant } from "#core/time/instant.ts";
import type { ReadDeps, WriteDeps } from "#services/deps.ts";
import { type Acceptor, createAcceptor } from "#services/gateway/accept-message.ts";
import type { LibraryDeps } from "#services/habitat/profiles.ts";
import type { NativeDeps } from "#services/home-water/read-native-water.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import type { PeopleDeps } from "#services/people/people.ts";
import { createScope, type Scope } from "#services/scope.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import type { Store } from "#store/port.ts";
import packageJson from "../../package.json" with { type: "json" };
import type { Guard, GuardSettings } from "./guard.ts";
import { createLiveHub, type LiveHub } from "./live.ts";

/** What pages and route handlers are built on: one of each a process. */
export interface AppDeps {
  /** Sees every system; what an actor may see is `scope(actor)`. */
  readonly read: ReadDeps;
  readonly scope: Scope;
  readonly write: WriteDeps;
  readonly people: PeopleDeps;
  readonly auth: Auth;
  /** Readings that come over the API share its commits and what it has learnt. */
  readonly acceptor: Acceptor;
  /** Native water by coordinates, from a table that is read at the first question. */
  readonly native: NativeDeps;
  readonly library: LibraryDeps;
  readonly live: LiveHub;
  readonly guard: Guard;
  readonly version: string;
  readonly log: (line: {
    readonly message: string;
    readonly error: unknown;
    readonly reference?: string;
  }) => void;
}

/** One line of JSON a failure, so that text from outside cannot forge a second one. */
function log({ message, error, reference }: Parameters<AppDeps["log"]>[0]): void {
  const causes: string[] = [];
  for (let inner = error; inner instanceof Error; inner = inner.cause)
    causes.push(inner.stack ?? inner.message);
  const said = causes.length > 0 ? causes : [String(error)];
  console.error(
    JSON.stringify({ time: new Date().toISOString(), level: "error", message, reference, error: said }),
  );
}

export interface SigningIn {
  readonly auth: Auth;
  readonly oneTimePassword: () => string;
}

export function buildAppDeps(
  store: Store,
  clock: () => Instant,
  settings: GuardSettings,
  { auth, oneTimePassword }: SigningIn,
): AppDeps {
  const setUp = createSetUpReader(store, clock);
  const read: ReadDeps = {
    store,
    clock,
    setUp,
    sweep: createSweepReader(store),
    ahead: createAheadReader(store),
    seesAll: true,
  };
  const write: WriteDeps = { store, clock, setUp, newId: uuidV7 };
  const live = createLiveHub({
    mark: () => store.changeMark(),
    peopleMark: () => store.peopleMark(),
    read: async () => {
      const [view, { counts }] = await Promise.all([readSystems(read), store.status()]);
      return { view, counts: { rejected: counts.rejected, unclaimed: counts.unclaimed } };
    },
    failed: (error) => log({ message: "live updates could not read the store", error }),
  });
  return {
    read,
    scope: createScope(read),
    write,
    people: { ...write, auth, oneTimePassword },
    auth,
    acceptor: createAcceptor({ store, clock }),
    native: { climatology: openClimatology() },
    library: { library: openLibrary() },
    live,
    guard: { settings, store, auth, clock },
    version: packageJson.version,
    log,
  };
}

const guardSettings = ({ apiToken, http: { host, publicUrl } }: Settings): GuardSettings => ({
  apiToken,
  host,
  publicUrl,
});

async function open(): Promise<AppDeps> {
  const settings = readSettings(process.env);
  const { store, clock } = await openDependencies(settings, { migrate: false });
  const signingIn = await openSigningIn(settings, { store, clock, newId: uuidV7 });
  return buildAppDeps(store, clock, guardSettings(settings), signingIn);
}

const KEY = Symbol.for("homewater.app-deps");
type GlobalDeps = { [KEY]?: Promise<AppDeps> | undefined };

/** The dependencies of this process, opened at the first question; an opening that failed is tried again at the next one. */
export function appDeps(): Promise<AppDeps> {
  const kept = globalThis as GlobalDeps;
  kept[KEY] ??= open().catch((error: unknown) => {
    kept[KEY] = undefined;
    throw error;
  });
  return kept[KEY];
}

/** Puts other dependencies in place (a test's own store); undefined: open again at the next request. */
export function setAppDeps(deps: AppDeps | undefined): void {
  (globalThis as GlobalDeps)[KEY] = deps && Promise.resolve(deps);
}
