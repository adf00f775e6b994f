"use client";

import { useEffect, useState } from "react";

/** A part that is loaded when it is first drawn; null while it comes, "failed" where it cannot (no network, a new version on the server). `load` must stay the same function. */
export function useLazy<T extends object>(load: () => Promise<T>): T | "failed" | null {
  const [part, setPart] = useState<T | "failed" | null>(null);
  useEffect(() => {
    let isHere = true;
    load()
      .then((loaded) => isHere && setPart(loaded))
      .catch((failed: unknown) => {
        console.info(`A part of the page could not be loaded: ${String(failed)}`);
        if (isHere) setPart("failed");
      });
    return () => {
      isHere = false;
    };
  }, [load]);
  return part;
}
