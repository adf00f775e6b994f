// What a thread begins with: it understands TypeScript only through a loader, which it does not have from its parent.
import { register } from "tsx/esm/api";

register();
await import("./append-thread-main.ts");
