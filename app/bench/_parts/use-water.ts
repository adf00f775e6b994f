"use client";

import { useEffect, useState } from "react";
import type { BenchWaterView } from "#contract/bench-water.ts";

/** A moment this near to the one that was read for needs no new question. */
const NEAR_MS = 2 * 60_000;

/** The water around the sample: what the page came with, asked again for another moment or point. Without a network the last answer stands, with its times. */
export function useWater(first: BenchWaterView, point: string, at: number | null): BenchWaterView {
  const [water, setWater] = useState(first);
  const { system } = first;
  const isNear = at === null || Math.abs(water.at - at) < NEAR_MS;
  const isRight = water.point === point && isNear;
  useEffect(() => {
    if (isRight) return;
    const stop = new AbortController();
    const ask = async () => {
      const moment = at === null ? "" : `&at=${at}`;
      const answer = await fetch(
        `/api/v1/systems/${encodeURIComponent(system)}/bench-water?point=${encodeURIComponent(point)}${moment}`,
        { signal: stop.signal, cache: "no-store" },
      );
      if (answer.ok) setWater((await answer.json()) as BenchWaterView);
    };
    ask().catch((failed: unknown) => {
      if (!stop.signal.aborted) console.info(`The water then could not be read: ${String(failed)}`);
    });
    return () => stop.abort();
  }, [system, point, at, isRight]);
  return water;
}
