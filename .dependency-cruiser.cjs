// Which part may import which: the direction of imports is one way, from the edges to the pure middle.
//   app, ingest -> lib/services -> ports, lib/contract, lib/core      lib/store, lib/notify, lib/auth -> lib/core
//   lib/config builds the dependencies of both edges     parts of pages (browser) -> lib/contract -> lib/core
// Type-only imports count too (tsPreCompilationDeps), otherwise a rule can be walked round by `import type`.
// tests/tree/imports.test.ts plants one violation of each rule and expects it to be reported.

const NPM = "(^|/)node_modules/";
const npm = (names) => `${NPM}(@types/)?(${names.join("|")})(/|$)`;
const PORTS = "^lib/(store|notify|auth)/port(-rows)?\\.ts$";
// Shared by pages, or beside the page that they serve.
const BROWSER_PARTS = "^app/(_components|.+/_parts)/";
const STORE_DRIVERS = ["drizzle-orm", "drizzle-kit", "better-sqlite3", "pg"];

/** @type {import("dependency-cruiser").IConfiguration} */
module.exports = {
  forbidden: [
    {
      name: "no-cycles",
      comment: "Two modules that need each other are one module, or miss a third one.",
      severity: "error",
      from: {},
      to: { circular: true },
    },
    {
      name: "resolvable",
      comment: "An import that cannot be found. server-only and client-only are answered by Next itself.",
      severity: "error",
      from: {},
      to: { couldNotResolve: true, pathNot: "^(server|client)-only$" },
    },
    {
      name: "units-import-nothing",
      comment: "Everything speaks in units, so units depend on nothing.",
      severity: "error",
      from: { path: "^lib/core/units/" },
      to: { pathNot: "^lib/core/units/" },
    },
    {
      name: "core-is-pure",
      comment:
        "The core knows no clock, no input or output and no environment; of npm only zod, a temporal polyfill and edit distance.",
      severity: "error",
      from: { path: "^lib/core/" },
      to: {
        pathNot: ["^lib/core/", npm(["zod", "temporal-polyfill", "temporal-spec", "fastest-levenshtein"])],
      },
    },
    {
      name: "contract-speaks-core",
      comment:
        "What the API promises is said in schemas and the words of the core; the core knows none of it.",
      severity: "error",
      from: { path: "^lib/contract/" },
      to: { pathNot: ["^lib/(core|contract)/", npm(["zod"])] },
    },
    {
      name: "ports-speak-core",
      comment: "A port is a contract in the words of the core.",
      severity: "error",
      from: { path: PORTS },
      to: { pathNot: ["^lib/core/", PORTS] },
    },
    {
      name: "services-use-ports",
      comment:
        "Services know core, contract, each other and the ports; never an adapter, the configuration or an edge.",
      severity: "error",
      from: { path: "^lib/services/" },
      to: { path: "^(app|ingest|lib)/", pathNot: ["^lib/(core|contract|services)/", PORTS] },
    },
    {
      name: "services-have-no-drivers",
      comment: "What talks to a disk, a network or a framework belongs to an adapter or an edge.",
      severity: "error",
      from: { path: "^lib/services/" },
      to: {
        dependencyTypes: ["npm", "npm-dev", "npm-optional", "npm-peer", "npm-no-pkg", "npm-unknown"],
        pathNot: npm(["zod", "temporal-polyfill", "temporal-spec", "papaparse", "uuid", "@zxcvbn-ts"]),
      },
    },
    {
      name: "services-do-no-io",
      comment:
        "Files, sockets and processes come in through ports; hashing, buffers and streams are computing.",
      severity: "error",
      from: { path: "^lib/services/" },
      to: {
        dependencyTypes: ["core"],
        pathNot: "^(node:)?(crypto|buffer|util|stream|stream/promises|zlib)$",
      },
    },
    {
      name: "adapters-know-the-core",
      comment:
        "An adapter knows the core, its own folder, its driver and ports; never services, configuration or edges.",
      severity: "error",
      from: { path: "^lib/(store|notify|auth|climate)/" },
      to: { path: "^(app|ingest|lib)/", pathNot: ["^lib/core/", "^lib/$1/", PORTS] },
    },
    {
      name: "config-below-edges",
      comment: "The configuration builds adapters; of services it may name types, it calls none.",
      severity: "error",
      from: { path: "^lib/config/" },
      to: { path: "^(app|ingest)/" },
    },
    {
      name: "config-calls-no-service",
      comment: "The configuration builds adapters; of services it may name types, it calls none.",
      severity: "error",
      from: { path: "^lib/config/" },
      to: { path: "^lib/services/", dependencyTypesNot: ["type-only"] },
    },
    {
      name: "browser-parts-import-core",
      comment:
        "What runs in the browser sees core, contract and other browser parts; data and actions are handed to it.",
      severity: "error",
      from: { path: BROWSER_PARTS },
      to: { path: "^(app|ingest|lib)/", pathNot: [BROWSER_PARTS, "^lib/(core|contract)/"] },
    },
    {
      name: "shared-parts-know-no-page",
      comment: "What pages share stands below them; it cannot lean on the parts of one.",
      severity: "error",
      from: { path: "^app/_components/" },
      to: { path: "^app/", pathNot: "^app/_components/" },
    },
    {
      name: "parts-stay-with-their-page",
      comment:
        "A part that a second page wants is shared: it moves to _components. The gallery shows all parts.",
      severity: "error",
      from: { path: "^app/([^/]+)/", pathNot: "^app/parts/" },
      to: { path: "^app/[^/]+/_parts/", pathNot: "^app/$1/" },
    },
    {
      name: "browser-parts-have-no-drivers",
      comment: "Drivers of stores and brokers need Node and do not run in a browser.",
      severity: "error",
      from: { path: BROWSER_PARTS },
      to: { path: npm([...STORE_DRIVERS, "mqtt", "aedes", "pino"]) },
    },
    {
      name: "browser-parts-have-no-builtins",
      comment: "Node's own modules do not exist in a browser.",
      severity: "error",
      from: { path: BROWSER_PARTS },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "edges-call-services",
      comment:
        "Pages and processes reach data through services, the core and what lib/config built; ports for their types.",
      severity: "error",
      from: { path: "^(app|ingest)/" },
      to: { path: "^lib/", pathNot: ["^lib/(core|contract|services|config)/", PORTS] },
    },
    {
      name: "edges-stay-apart",
      comment: "The dashboard and the processes beside it meet only in the store.",
      severity: "error",
      from: { path: "^(app|ingest)/" },
      to: { path: "^(app|ingest)/", pathNot: "^$1/" },
    },
    {
      name: "edges-have-no-store-drivers",
      comment: "The dialect of the store is known in lib/store and lib/config only.",
      severity: "error",
      from: { path: "^(app|ingest)/" },
      to: { path: npm(STORE_DRIVERS) },
    },
    {
      name: "server-only-stays-in-app",
      comment: '`import "server-only"` throws under plain Node, so the processes could not start.',
      severity: "error",
      from: { pathNot: "^app/" },
      to: { path: "^server-only$" },
    },
    {
      name: "product-knows-no-tests",
      comment:
        "Tests and fixtures look at the product, never the other way round; fixtures are read as data.",
      severity: "error",
      from: { path: "^(app|ingest|lib)/" },
      to: { path: "^(tests|fixtures)/" },
    },
    {
      name: "product-needs-no-tools",
      comment:
        "The demo installs without development tools, so what the product imports is in `dependencies`.",
      severity: "error",
      from: { path: "^(app|ingest|lib)/", pathNot: "^lib/store/drizzle-[a-z]+\\.config\\.ts$" },
      to: { dependencyTypes: ["npm-dev"], dependencyTypesNot: ["npm"] },
    },
    {
      name: "commands-start-bare",
      comment: "The .mjs commands run before anything is installed: built-in modules and each other.",
      severity: "error",
      from: { path: "^ingest/commands/[^/]+\\.mjs$" },
      to: { dependencyTypesNot: ["core"], pathNot: "^ingest/commands/[^/]+\\.mjs$" },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    doNotFollow: { path: "node_modules" },
    exclude: { path: "\\.css$" },
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "require", "node", "default", "types"],
      mainFields: ["module", "main", "types", "typings"],
    },
  },
};
