"use client";

import { type ComponentProps, useEffect, useRef } from "react";
import { EARLY, wakes } from "./early.ts";

/** A button without a look of its own. A press made before its script was there is carried out when it is. */
export function Press({ ref, ...rest }: ComponentProps<"button">) {
  const own = useRef<HTMLButtonElement>(null);
  useEffect(() => wakes(own.current), []);
  return (
    <button
      type="button"
      {...rest}
      {...{ [EARLY]: "" }}
      ref={(node) => {
        own.current = node;
        if (typeof ref === "function") return ref(node);
        if (ref != null) ref.current = node;
        return undefined;
      }}
    />
  );
}
