"use client";

import { type ComponentProps, type RefObject, useEffect, useRef } from "react";
import { EARLY, wakes } from "./early.ts";

export type PressProps = Omit<ComponentProps<"button">, "ref"> & {
  readonly ref?: RefObject<HTMLButtonElement | null>;
};

/** A button without a look of its own. A press made before its script was there is carried out when it is. */
export function Press({ ref, ...rest }: PressProps) {
  const own = useRef<HTMLButtonElement>(null);
  const at = ref ?? own;
  useEffect(() => wakes(at.current), [at]);
  return <button type="button" {...rest} {...{ [EARLY]: "" }} ref={at} />;
}
