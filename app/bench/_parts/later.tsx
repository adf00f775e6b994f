"use client";

import type { ReactNode } from "react";
import { useLazy } from "./use-lazy.ts";

/** Draws with a part that is loaded when it is first needed; `missing` where it cannot be, nothing while it comes. */
export function Later<T extends object>({
  load,
  missing = null,
  children,
}: {
  /** The same function at every draw. */
  load: () => Promise<T>;
  missing?: ReactNode;
  children: (part: T) => ReactNode;
}) {
  const part = useLazy(load);
  if (part === "failed") return missing;
  return part === null ? null : children(part);
}
