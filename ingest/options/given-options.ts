/** What is on a command line: words without a name, options with values, switches. */
export interface GivenOptions<V extends string, S extends string> {
  readonly words: readonly string[];
  all(name: V): readonly string[];
  /** Null where it is not given. Throws where it is given more than once. */
  one(name: V): string | null;
  has(name: S): boolean;
}

export interface KnownOptions<V extends string, S extends string> {
  readonly values: readonly V[];
  readonly switches?: readonly S[];
  readonly usage: string;
  /** The command's own error, with a text that names the argument and what to write. */
  readonly refuse: (says: string) => Error;
}

/**
 * Reads options written `--name value` or `--name=value`. A value may begin with a hyphen (an offset west of Greenwich does), which is why
 * the usual parser does not serve. Throws the command's own error for an unknown name or a value that is missing.
 */
export function readOptions<V extends string, S extends string = never>(
  argv: readonly string[],
  { values, switches = [], usage, refuse }: KnownOptions<V, S>,
): GivenOptions<V, S> {
  const given = new Map<V, string[]>();
  const on = new Set<S>();
  const found: string[] = [];
  const rest = argv.values();
  for (const word of rest) {
    if (!word.startsWith("--")) {
      found.push(word);
      continue;
    }
    const [, name = "", , inline] = /^--([^=]*)(=(.*))?$/s.exec(word) ?? [];
    const flag = switches.find((one) => one === name);
    if (flag !== undefined && inline === undefined) {
      on.add(flag);
      continue;
    }
    const known = values.find((one) => one === name);
    if (known === undefined) throw refuse(`--${name} is not an option of this command.\n\n${usage}`);
    const value = inline ?? rest.next().value;
    if (value === undefined || value === "") throw refuse(`--${name} has no value.\n\n${usage}`);
    given.set(known, [...(given.get(known) ?? []), value]);
  }
  const all = (name: V) => given.get(name) ?? [];
  return {
    words: found,
    all,
    one(name) {
      if (all(name).length > 1) throw refuse(`--${name} is given ${all(name).length} times: give it once.`);
      return all(name)[0] ?? null;
    },
    has: (name) => on.has(name),
  };
}

/** The one file, the column of its times and what its columns hold: what every command that reads a recorded file needs. */
export function recordedFile<S extends string>(
  { words, all }: Pick<GivenOptions<"time" | "map", S>, "words" | "all">,
  { usage, refuse }: Pick<KnownOptions<string, S>, "usage" | "refuse">,
): { readonly file: string; readonly times: readonly string[]; readonly maps: readonly string[] } {
  const [file] = words;
  if (file === undefined || words.length > 1) throw refuse(`Name one CSV file.\n\n${usage}`);
  const [times, maps] = [all("time"), all("map")];
  if (times.length === 0) throw refuse(`--time is missing: name the column with date and time.\n\n${usage}`);
  if (maps.length === 0) throw refuse(`--map is missing: say what at least one column holds.\n\n${usage}`);
  return { file, times, maps };
}
