/** Opens a file as the accepting process does, to be killed while it does: `migrate-file.ts FILE`. */
import { openSqlite } from "#store/sqlite/open.ts";

const store = await openSqlite({ file: process.argv[2] ?? "", migrate: true });
await store.close();
