"use client";

import { useCallback, useEffect, useRef, useState } from "react";

const TICK_MS = 20_000;
/** A device clock that differs from the server's by more than this is corrected by the difference; less is the time the page took to come. */
const SKEW_MS = 60_000;

/** The time by the server's clock: `now` moves on by itself, `clock` answers at the moment. */
export function useClock(served: number): { readonly now: number; readonly clock: () => number } {
  const [now, setNow] = useState(served);
  const skew = useRef(0);
  useEffect(() => {
    const difference = served - Date.now();
    skew.current = Math.abs(difference) > SKEW_MS ? difference : 0;
  }, [served]);
  const clock = useCallback(() => Date.now() + skew.current, []);
  useEffect(() => {
    setNow(clock());
    const timer = setInterval(() => setNow(clock()), TICK_MS);
    return () => clearInterval(timer);
  }, [clock]);
  return { now, clock };
}
