"use client";

import { useCallback, useState } from "react";

const LONGEST_MS = 4_000;

/** Prints when every chart of the page has been read, or after a moment without those that were not. */
export async function printWhenDrawn(): Promise<void> {
  const until = performance.now() + LONGEST_MS;
  while (document.querySelector('[data-evidence="waiting"]') !== null && performance.now() < until)
    await new Promise((resolve) => setTimeout(resolve, 60));
  window.print();
}

/** Whether something is being printed (then every chart is read at once), and how to begin. */
export function usePrinting(print: () => Promise<void>): readonly [boolean, () => void] {
  const [isPrinting, setPrinting] = useState(false);
  const begin = useCallback(() => {
    setPrinting(true);
    // The charts must have been asked for before their answers can be waited for.
    setTimeout(() => {
      print().then(() => setPrinting(false), console.error);
    }, 50);
  }, [print]);
  return [isPrinting, begin];
}
