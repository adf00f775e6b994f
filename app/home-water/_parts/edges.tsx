import css from "#app/_components/drawing/home-water.module.css";
import type { CommonMonthView, EdgeView, EntryView, QuantityOfHome } from "#contract/home-water.ts";
import { monthName } from "#core/time/month-names.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { edgeText, numberText, signedText } from "#core/units/number-text.ts";

const MARK: Readonly<Record<string, string>> = {
  read: "read in the original",
  "read as quoted": "read as quoted elsewhere",
  "from memory": "from memory: check before relying on it",
  computed: "our own calculation",
};

/** A number that opens to where it is known from. */
function Edge({ edge, decimals, unit }: { edge: EdgeView; decimals: number; unit: string }) {
  if (!edge) return <span className={css.none}>open</span>;
  return (
    <details className={css.door}>
      <summary>
        {edgeText(edge.value, decimals)} <span>{edge.speciesName}</span>
      </summary>
      <dl className={css.source}>
        <dt>needed by</dt>
        <dd>
          {edge.speciesName}, {edge.stage}: {edgeText(edge.value, decimals)} {unit}
        </dd>
        <dt>kind</dt>
        <dd>{edge.kind}</dd>
        <dt>source</dt>
        <dd>
          {edge.source} ({MARK[edge.mark] ?? edge.mark})
        </dd>
        <dt>confidence</dt>
        <dd>{edge.confidence}</dd>
      </dl>
    </details>
  );
}

function Room({ month, decimals }: { month: CommonMonthView; decimals: number }) {
  if (month.gap !== null) return <b className={css.out}>none, {signedText(-month.gap, decimals)}</b>;
  if (!month.low || !month.high) return <>–</>;
  return <>{numberText(month.high.value - month.low.value, decimals)}</>;
}

/** Who sets the low and the high edge in each month, each number a door to its source. */
export function EdgesTable({ of }: { readonly of: QuantityOfHome }) {
  if (!of.common) return null;
  return (
    <section className={css.panel}>
      <h3>
        Who sets the edges: {labelInSentence(of.label)}
        {of.unitLabel === "" ? "" : `, ${of.unitLabel}`}
      </h3>
      <table className={css.edges}>
        <thead>
          <tr>
            <th scope="col">mid-month</th>
            <th scope="col">low</th>
            <th scope="col">high</th>
            <th scope="col">width</th>
          </tr>
        </thead>
        <tbody>
          {of.common.map((month) => (
            <tr key={month.month}>
              <th scope="row">{monthName(month.month)}</th>
              <td>
                <Edge edge={month.low} decimals={of.decimals} unit={of.unitLabel} />
              </td>
              <td>
                <Edge edge={month.high} decimals={of.decimals} unit={of.unitLabel} />
              </td>
              <td>
                <Room month={month} decimals={of.decimals} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

const entryWords = ({ kind, means, place, depth, years, source, mark, confidence }: EntryView): string =>
  [
    `${kind} (${means})`,
    [place, depth, years].filter((part) => part !== null).join(", "),
    `${source} (${MARK[mark] ?? mark})`,
    `confidence ${confidence}`,
  ]
    .filter((part) => part !== "")
    .join("; ");

/** Where every ribbon of the page is known from. */
export function Sources({ quantities }: { readonly quantities: readonly QuantityOfHome[] }) {
  const rows = quantities.flatMap((of) =>
    of.ribbons.map((ribbon) => ({
      key: `${of.quantity}/${ribbon.species}/${ribbon.stage}`,
      head: `${of.label}, ${ribbon.name}${ribbon.stage === "adult" ? "" : `, ${ribbon.stage}`}`,
      says: [...new Set(ribbon.entries.map(entryWords))],
      notes: [
        ribbon.basis === "advice" ? "No native range is known: husbandry advice is used instead." : "",
        ribbon.months.some((month) => month?.isWidened)
          ? `A mean given without a spread is drawn ± 1${of.unitLabel === "" ? "" : ` ${of.unitLabel}`} (common practice, no source).`
          : "",
        ribbon.months.some((month) => month?.isBetween)
          ? "Months without an entry are interpolated linearly between those that have one."
          : "",
      ].filter((note) => note !== ""),
    })),
  );
  if (rows.length === 0) return null;
  return (
    <section className={css.panel} id="sources">
      <h3>Sources and confidence</h3>
      <dl className={css.sources}>
        {rows.map(({ key, head, says, notes }) => (
          <div key={key}>
            <dt>{head}</dt>
            {[...says, ...notes].map((line) => (
              <dd key={line}>{line}</dd>
            ))}
          </div>
        ))}
      </dl>
    </section>
  );
}
