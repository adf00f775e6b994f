/** `npm run doctor`: what is wrong and what to do; see ingest/doctor. */
import { runDoctor } from "../doctor/run.ts";

process.exitCode = await runDoctor({
  environment: process.env,
  clock: Date.now,
  out: (line) => process.stdout.write(`${line}\n`),
  nodeVersion: process.versions.node,
});
