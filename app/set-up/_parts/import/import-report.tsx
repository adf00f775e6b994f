import css from "#app/_components/controls/forms.module.css";
import { type ImportReport, totalsOf } from "#core/importing/report.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { countOf, countText, figuresText } from "#core/units/figures-text.ts";

const value = (given: number | null) => (given === null ? "–" : figuresText(given));

/** What would become of a file, or became of it: totals in a sentence, then each column with its range, then what was refused and why. */
export function ImportReportView({
  report,
  done,
  clock,
}: {
  readonly report: ImportReport;
  readonly done: boolean;
  readonly clock: ZoneClock;
}) {
  const { stored, duplicates, conflicts, rejected, from, to } = totalsOf(report);
  const span = from === null || to === null ? "" : `, from ${clock.full(from)} to ${clock.full(to)}`;
  return (
    <div className={css.form} data-report="">
      <p>
        {countOf(report.rows, "row")}
        {span}. <b>{countText(stored)}</b> {done ? "readings stored" : "readings would be stored"},{" "}
        {countText(duplicates)} already stored, {countText(conflicts)} conflict with a stored value (both are
        kept, the first is used), {countText(rejected)} refused.
      </p>
      <table className={css.table}>
        <caption className={css.soft}>
          Check the lowest and highest values: a wrong unit shows there first.
        </caption>
        <thead>
          <tr>
            <th scope="col">Column</th>
            <th scope="col">Goes to</th>
            <th scope="col">{done ? "Stored" : "To store"}</th>
            <th scope="col">Lowest to highest</th>
            <th scope="col">From, to</th>
            <th scope="col">Empty</th>
          </tr>
        </thead>
        <tbody>
          {report.columns.map((column) => (
            <tr key={column.place}>
              <th scope="row">{column.name}</th>
              <td data-label="goes to">{column.place}</td>
              <td data-label={done ? "stored" : "to store"}>{countText(column.stored)}</td>
              <td data-label="lowest to highest">
                {value(column.min)} to {value(column.max)} {column.unit ?? ""}
                {column.unbelievable > 0 && (
                  <b className={css.look}>
                    {" "}
                    {countText(column.unbelievable)} not plausible for this quantity: is the unit right?
                  </b>
                )}
              </td>
              <td data-label="from, to">
                {column.from === null || column.to === null
                  ? "–"
                  : `${clock.full(column.from)} to ${clock.full(column.to)}`}
              </td>
              <td data-label="empty">{countText(column.empty)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {report.rejects.length > 0 && (
        <>
          <h3>Refused</h3>
          <ul className={css.plain}>
            {report.rejects.map((reject) => (
              <li key={reject.reason}>
                {countText(reject.count)}: {reject.reason}.{" "}
                <small>
                  {reject.examples.map((one) => `Line ${one.line}, ${one.column}: "${one.value}"`).join("; ")}
                </small>
              </li>
            ))}
          </ul>
        </>
      )}
      {report.backwards > 0 && !done && (
        <p className={css.soft}>
          {countOf(report.backwards, "row is", "rows are")} earlier than the row above. Duplicates among them
          show only once the file is stored.
        </p>
      )}
    </div>
  );
}
