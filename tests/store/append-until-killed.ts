import { writeSync } from "node:fs";
import { openSqlite } from "#store/sqlite/open.ts";
import { T, withParts } from "./contract/subject.ts";

// A writer that says each batch it has committed, until somebody kills it: append-until-killed.ts <file> <readings a batch>
const [, , file = "", size = "1"] = process.argv;

async function run(): Promise<void> {
  const { reading, append } = await withParts(await openSqlite({ file, migrate: false }));
  const readings = Number(size);
  for (let batch = 0; ; batch += 1) {
    await append(Array.from({ length: readings }, (_, n) => reading(T + batch * readings + n, n)));
    writeSync(1, `${batch + 1}\n`);
  }
}

await run();
