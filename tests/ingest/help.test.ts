import { execFile } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
const { scripts } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8")) as {
  scripts: Record<string, string>;
};
/** Every script that is a command of ours, as node's arguments. */
const COMMANDS = Object.entries(scripts).flatMap(([name, script]) => {
  const [program, ...args] = script.split(" ");
  return program === "node" ? [[name, args] as const] : [];
});

describe("every command answers --help", () => {
  it("finds the commands", () => {
    expect(COMMANDS.map(([name]) => name)).toEqual(
      expect.arrayContaining([
        "demo",
        "start",
        "import",
        "replay",
        "rehearse",
        "doctor",
        "backup",
        "restore",
      ]),
    );
  });
  it.each(COMMANDS)("npm run %s", async (name, args) => {
    const { stdout, stderr } = await promisify(execFile)(process.execPath, [...args, "--help"], {
      cwd: ROOT,
      // A command that did its work instead would be stopped by this setting.
      env: { ...process.env, HOMEWATER_HTTP_PORT: "not a port" },
    });
    expect(stderr).toBe("");
    expect(stdout).toMatch(/^Usage:/);
    expect(stdout).toMatch(new RegExp(`npm (run )?(-s )?${name}\\b`));
    expect(stdout).toMatch(/\nExample:\n {2}\S.*\bnpm |\nExample:\n {2}npm /);
  });
});
