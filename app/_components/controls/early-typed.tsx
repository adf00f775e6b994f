"use client";

import { useEffect } from "react";
import { wakes } from "./early.ts";

/** Beside a control: tells its form what was typed before the form could hear. */
export function EarlyTyped({ id }: { readonly id: string }) {
  useEffect(() => wakes(document.getElementById(id)), [id]);
  return null;
}
