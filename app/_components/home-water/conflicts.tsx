import type { HomeWaterView } from "../../../lib/core/wire/home-water.ts";
import { valueWords } from "../number-words.ts";
import { clockOf } from "../time-words.ts";
import css from "./home-water.module.css";

/** Where no range is common: the gap, who asks for what, and what a person signed until it is mended. */
export function Conflicts({ view }: { readonly view: HomeWaterView }) {
  const clock = clockOf(view.zone);
  return view.conflicts.map((conflict) => {
    const of = view.quantities.find(({ quantity }) => quantity === conflict.quantity);
    const signed = conflict.compromise;
    return (
      <section className={css.panel} key={conflict.says} data-conflict={conflict.quantity}>
        <h3 className={css.out}>No common range: {of?.label.toLowerCase() ?? conflict.quantity}</h3>
        <p>{conflict.says}</p>
        {signed ? (
          <p className={css.soft}>
            Compromise in force: {valueWords(signed.low, of?.decimals ?? 1)} to{" "}
            {valueWords(signed.high, of?.decimals ?? 1)} {of?.unitLabel}, signed by {signed.signedBy},{" "}
            {clock.day(signed.signedAt)} {clock.year(signed.signedAt)}: “{signed.reason}”. The fit still shows
            the gap.
          </p>
        ) : (
          <p className={css.soft}>No compromise is signed: the bands in force stay as they were set.</p>
        )}
      </section>
    );
  });
}
