"use client";

import { useEffect, useState } from "react";
import type { BenchField } from "#core/bench/field.ts";

/** The registry comes when something unusual is tested. */
const registry = () => import("#core/bench/field.ts");

/** Fields of these quantities, as far as they are loaded; `isAway` where the registry cannot be. */
export function useFields(quantities: readonly string[]): {
  readonly fields: Readonly<Record<string, BenchField>>;
  readonly isAway: boolean;
} {
  const [fields, setFields] = useState<Readonly<Record<string, BenchField>>>({});
  const [isAway, setAway] = useState(false);
  const wanted = quantities.filter((quantity) => !(quantity in fields)).join(" ");
  useEffect(() => {
    if (wanted === "") return;
    let isHere = true;
    registry()
      .then(({ benchField }) => {
        if (!isHere) return;
        const found = wanted.split(" ").flatMap((quantity) => {
          const field = benchField(quantity);
          return field ? [[quantity, field] as const] : [];
        });
        setAway(false);
        if (found.length > 0) setFields((known) => ({ ...known, ...Object.fromEntries(found) }));
      })
      .catch((failed: unknown) => {
        console.info(`The registry of quantities could not be loaded: ${String(failed)}`);
        if (isHere) setAway(true);
      });
    return () => {
      isHere = false;
    };
  }, [wanted]);
  return { fields, isAway };
}
