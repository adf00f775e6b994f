"use client";

import { useCallback, useEffect, useState } from "react";
import { read, type Sent } from "./send.ts";

/** What the API answers at a path, and how to ask again; null while it has not answered yet. What was known stays until then. */
export function useAnswer<T>(path: string): {
  readonly answer: Sent<T> | null;
  readonly again: () => void;
} {
  const [answer, setAnswer] = useState<Sent<T> | null>(null);
  const [asked, setAsked] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `asked` asks again
  useEffect(() => {
    const stop = new AbortController();
    read<T>(path, stop.signal).then((next) => {
      if (stop.signal.aborted) return;
      // A failure does not take away what was known and can still be read.
      setAnswer((had) => (had?.ok && !next.ok && next.why === "offline" ? had : next));
    }, console.error);
    return () => stop.abort();
  }, [path, asked]);
  const again = useCallback(() => setAsked((n) => n + 1), []);
  return { answer, again };
}
