// What the commands print about their own progress. Built-in modules only: it runs before node_modules exists.

/** @param {number} ms @returns {string} seconds with one decimal, or minutes and seconds from two minutes on */
export function duration(ms) {
  const seconds = ms / 1000;
  if (seconds < 120) return `${seconds.toFixed(1)} s`;
  return `${Math.floor(seconds / 60)} min ${Math.round(seconds % 60)} s`;
}

/** @param {string} line */
export function say(line) {
  process.stdout.write(`homewater: ${line}\n`);
}

/**
 * Runs a piece of work; if it takes over two seconds says what is being done, repeats that every 30 s and says at the
 * end how long it took. Quick work stays silent.
 * @template T
 * @param {string} what as in "Installing packages"
 * @param {() => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function narrated(what, work) {
  const started = Date.now();
  let announced = false;
  const first = setTimeout(() => {
    announced = true;
    say(`${what} ...`);
  }, 2000);
  const again = setInterval(() => say(`${what}: ${duration(Date.now() - started)} so far`), 30_000);
  try {
    const result = await work();
    if (announced) say(`${what}: done in ${duration(Date.now() - started)}`);
    return result;
  } finally {
    clearTimeout(first);
    clearInterval(again);
  }
}

/** An error whose message is written for the person at the terminal; commands print it without a stack. */
export class CommandError extends Error {
  /** @param {string} message what failed and what to do about it @param {number} [exitCode] */
  constructor(message, exitCode = 1) {
    super(message);
    this.exitCode = exitCode;
  }
}

/**
 * Runs a command's body, prints a CommandError as one message and any other error with its stack, sets the exit code.
 * Called with `--help` the command prints its help instead.
 * @param {() => Promise<number>} body resolves to the exit code
 * @param {string} help usage, options and an example
 */
export async function runCommand(body, help) {
  if (process.argv.includes("--help")) {
    process.stdout.write(`${help}\n`);
    return;
  }
  try {
    process.exitCode = await body();
  } catch (error) {
    if (error instanceof CommandError) {
      process.stderr.write(`homewater: ${error.message}\n`);
      process.exitCode = error.exitCode;
    } else {
      process.stderr.write(`${error instanceof Error ? error.stack : String(error)}\n`);
      process.exitCode = 1;
    }
  }
}
