"use client";

import { useEffect, useState } from "react";

/** While a part cannot be loaded it is asked for again this often. */
const AGAIN_MS = 5_000;
/** A very weak network may never answer: from then on the page goes on without the part until it comes. */
const PATIENCE_MS = 2_000;

/** A part that is loaded when first drawn; null while it comes, "failed" as long as it cannot or does not (no network, a weak one, a new version on the server). `load` must stay the same function. */
export function useLazy<T extends object>(load: () => Promise<T>): T | "failed" | null {
  const [part, setPart] = useState<T | "failed" | null>(null);
  useEffect(() => {
    let isHere = true;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const patience = setTimeout(() => setPart((known) => known ?? "failed"), PATIENCE_MS);
    const ask = () =>
      load()
        .then((loaded) => isHere && setPart(loaded))
        .catch((failed: unknown) => {
          console.info(`A part of the page could not be loaded: ${String(failed)}`);
          if (!isHere) return;
          setPart("failed");
          timer = setTimeout(ask, AGAIN_MS);
        });
    void ask();
    return () => {
      isHere = false;
      clearTimeout(timer);
      clearTimeout(patience);
    };
  }, [load]);
  return part;
}
