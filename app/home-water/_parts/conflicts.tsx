import css from "#app/_components/drawing/home-water.module.css";
import type { HomeWaterView } from "#contract/home-water.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { rangeText } from "#core/units/number-text.ts";

/** Where no range is common: the gap, who asks for what, and what a person signed until it is resolved. */
export function Conflicts({ view }: { readonly view: HomeWaterView }) {
  const clock = clockOf(view.zone);
  return view.conflicts.map((conflict) => {
    const of = view.quantities.find(({ quantity }) => quantity === conflict.quantity);
    const signed = conflict.compromise;
    return (
      <section className={css.panel} key={conflict.says} data-conflict={conflict.quantity}>
        <h3 className={css.out}>No common range: {of ? labelInSentence(of.label) : conflict.quantity}</h3>
        <p>{conflict.says}</p>
        {signed ? (
          <p className={css.soft}>
            Compromise in force: {rangeText(signed, of?.decimals ?? 1)} {of?.unitLabel}, signed by{" "}
            {signed.signedBy}, {clock.day(signed.signedAt)} {clock.year(signed.signedAt)}: “{signed.reason}”.
            The fit still shows the gap.
          </p>
        ) : (
          <p className={css.soft}>No compromise is signed: the bands in force stay as they were set.</p>
        )}
      </section>
    );
  });
}
