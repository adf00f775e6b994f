/** Prints a command's help if its arguments ask for it (`--help`); true if they did. */
export function answersHelp(argv: readonly string[], help: string, out: (text: string) => void): boolean {
  if (!argv.includes("--help")) return false;
  out(help);
  return true;
}
