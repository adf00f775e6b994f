"use client";

import { useEffect, useState } from "react";
import type { Span } from "#app/_components/drawing/chart-data.ts";
import { type LogMark, markOf } from "#app/_components/drawing/log-marks.ts";
import { read } from "#app/_components/live/send.ts";
import type { LogView } from "#contract/log.ts";

const WAIT_MS = 250;
const MOST = 300;

/** What people logged for a system over a window, oldest first; `failed` says why it is not known. */
export function useLog(
  system: string,
  span: Span,
): { readonly marks: readonly LogMark[]; readonly failed: string } {
  const [log, setLog] = useState<{ marks: readonly LogMark[]; failed: string }>({ marks: [], failed: "" });
  const { from, to } = span;
  useEffect(() => {
    const stop = new AbortController();
    const timer = setTimeout(async () => {
      const query = new URLSearchParams({
        systems: system,
        from: new Date(from).toISOString(),
        to: new Date(to).toISOString(),
        limit: String(MOST),
      });
      const answer = await read<LogView>(`/log-entries?${query}`, stop.signal);
      if (stop.signal.aborted) return;
      if (answer.ok)
        setLog({ marks: answer.value.entries.map(markOf).sort((a, b) => a.at - b.at), failed: "" });
      else setLog({ marks: [], failed: answer.says });
    }, WAIT_MS);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [system, from, to]);
  return log;
}
