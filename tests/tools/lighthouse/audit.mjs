// Audits pages of a running dashboard in a real browser: performance and accessibility, with what lost points. By hand, not part of npm test:
//   cd tests/tools/lighthouse && npm ci && node audit.mjs http://127.0.0.1:3000 /systems /overnight
// COOKIE="name=value" signs in; CHROME names a browser where none is found on the path.
import { execFileSync } from "node:child_process";
import { launch } from "chrome-launcher";
import lighthouse from "lighthouse";

const [base, ...paths] = process.argv.slice(2);
if (base === undefined || paths.length === 0) {
  console.error("Usage: node audit.mjs <url of the dashboard> <path> ...");
  process.exit(2);
}

function browserOnPath() {
  for (const name of ["chromium", "chromium-browser", "google-chrome"]) {
    try {
      return execFileSync("which", [name], { encoding: "utf8" }).trim();
    } catch (missing) {
      if (missing.status !== 1) throw missing;
    }
  }
  return undefined;
}

const LEAST = 95;
const chrome = await launch({
  chromePath: process.env.CHROME ?? browserOnPath(),
  chromeFlags: ["--headless=new", "--no-sandbox", "--disable-gpu"],
});
let isShort = false;
try {
  for (const path of paths) {
    const cookie = process.env.COOKIE;
    const run = await lighthouse(base + path, {
      port: chrome.port,
      onlyCategories: ["performance", "accessibility"],
      extraHeaders: cookie === undefined ? undefined : { Cookie: cookie },
      logLevel: "error",
    });
    const { categories, audits } = run.lhr;
    console.log(`${path}`);
    for (const { id, score, auditRefs } of Object.values(categories)) {
      const points = Math.round((score ?? 0) * 100);
      isShort ||= points < LEAST;
      console.log(`  ${id} ${points}`);
      for (const ref of auditRefs) {
        const audit = audits[ref.id];
        if (audit.score === null || audit.score >= 0.9 || ref.weight === 0) continue;
        console.log(`    ${audit.id} ${audit.score} ${audit.displayValue ?? ""}`);
      }
    }
  }
} finally {
  await chrome.kill();
}
process.exit(isShort ? 1 : 0);
