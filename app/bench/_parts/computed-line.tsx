"use client";

import type { ComputedLineProps } from "./computed-line-props.ts";
import css from "./field.module.css";
import { Later } from "./later.tsx";
import { loadComputed } from "./parts-later.ts";

const COMPUTED_FROM: readonly string[] = ["total_ammonia", "dissolved_oxygen", "oxygen_saturation"];

/**
 * What follows from a result as soon as it is typed: un-ionised ammonia from total ammonia, oxygen the other way round. The equations weigh
 * more than the form, so they come later.
 */
export function ComputedLine(props: ComputedLineProps) {
  const { quantity, examined } = props;
  if (!COMPUTED_FROM.includes(quantity) || examined.get(quantity)?.kind !== "read") return null;
  return (
    <Later
      load={loadComputed}
      missing={
        <p className={css.computed}>Values computed from this cannot be shown without a connection.</p>
      }
    >
      {({ ComputedNow }) => <ComputedNow {...props} />}
    </Later>
  );
}
