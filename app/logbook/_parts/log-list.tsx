"use client";

import { Fragment } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import type { LogEntryView } from "#contract/log.ts";
import { durationText } from "#core/time/duration-text.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { aboutWords, amountWords, struckWords, withAfter } from "./log-earlier.ts";
import css from "./logbook.module.css";

export interface LogActs {
  readonly onClose: (entry: LogEntryView) => void;
  readonly onCorrect: (entry: LogEntryView) => void;
}

function whenWords(entry: LogEntryView, clock: ZoneClock): string {
  const began = clock.clock(entry.at);
  if (entry.open) return `${began}, still going on`;
  if (entry.until === null || entry.until === entry.at) return began;
  const end =
    clock.day(entry.until) === clock.day(entry.at) ? clock.clock(entry.until) : clock.dayClock(entry.until);
  return `${began} to ${end}`;
}

/** What stood here before a correction, struck through and still readable. */
function Earlier({ entry, clock }: { readonly entry: LogEntryView; readonly clock: ZoneClock }) {
  if (entry.reason === null || entry.earlier.length === 0) return null;
  return (
    <div className={css.earlier}>
      <p>Corrected: {entry.reason}</p>
      <ul>
        {withAfter(entry).map(({ row, after }) => (
          <li key={row.id}>
            {struckWords(row, after, clock).map((words) => (
              <Fragment key={words}>
                <s>{words}</s>{" "}
              </Fragment>
            ))}
            <small>
              {row.by}, {clock.dayClock(row.entered)}
              {row.reason === null ? "" : `; ${row.reason}`}
            </small>
          </li>
        ))}
      </ul>
    </div>
  );
}

function Entry({
  entry,
  clock,
  acts,
}: {
  readonly entry: LogEntryView;
  readonly clock: ZoneClock;
  readonly acts: LogActs | null;
}) {
  const where = entry.systems.map(({ name }) => name).join(", ");
  const details = [amountWords(entry), entry.item ?? "", aboutWords(entry), entry.animals.join(", ")].filter(
    (text) => text !== "",
  );
  const name = `${entry.kindLabel}, ${where}, ${clock.clock(entry.at)}`;
  return (
    <li
      className={css.entry}
      data-log-entry={entry.id}
      data-kind={entry.kind}
      data-open={entry.open ? "" : undefined}
    >
      <p className={css.when}>
        <time dateTime={new Date(entry.at).toISOString()}>{whenWords(entry, clock)}</time>
      </p>
      <div className={css.what}>
        <h3>{entry.kindLabel}</h3>
        <p className={css.where}>
          {entry.systems.map(({ system, name: label }, i) => (
            <span key={system}>
              {i > 0 && ", "}
              <a href={`/systems/${encodeURIComponent(system)}`}>{label}</a>
            </span>
          ))}
        </p>
        {details.length > 0 && <p className={css.details}>{details.join(" · ")}</p>}
        {entry.text !== "" && <p className={css.text}>{entry.text}</p>}
        {entry.closingText !== null && <p className={css.text}>At the end: {entry.closingText}</p>}
        {entry.overdue !== null && <p className={css.overdue}>{entry.overdue}</p>}
        {entry.quiet !== null && (
          <p className={css.quiet}>
            {entry.quiet.says} Muting ends at {clock.clock(entry.quiet.until)}.
          </p>
        )}
        <Earlier entry={entry} clock={clock} />
      </div>
      <p className={css.who}>
        {entry.by}
        {entry.late && <small>entered {clock.dayClock(entry.entered)}</small>}
        {entry.closedBy !== null && entry.closedBy !== entry.by && <small>ended by {entry.closedBy}</small>}
      </p>
      {acts !== null && (
        <p className={css.acts}>
          {entry.open && (
            <Button onClick={() => acts.onClose(entry)} aria-label={`End: ${name}`}>
              End
            </Button>
          )}
          <Button kind="bare" onClick={() => acts.onCorrect(entry)} aria-label={`Correct: ${name}`}>
            Correct
          </Button>
        </p>
      )}
    </li>
  );
}

/** What is still going on, however long ago it began: it needs to be closed. */
export function StillOpen({
  entries,
  clock,
  now,
  acts,
}: {
  readonly entries: readonly LogEntryView[];
  readonly clock: ZoneClock;
  readonly now: number;
  readonly acts: LogActs | null;
}) {
  if (entries.length === 0) return null;
  return (
    <section className={css.open} aria-labelledby="still-open">
      <h2 id="still-open">Still going on</h2>
      <ul>
        {entries.map((entry) => (
          <li key={entry.id} data-open-entry={entry.id}>
            <p>
              <b>{entry.kindLabel}</b>, {entry.systems.map(({ name }) => name).join(", ")}: since{" "}
              {clock.near(entry.at, now)}, {durationText(now - entry.at)}
              {entry.overdue !== null && <span className={css.overdue}> {entry.overdue}</span>}
            </p>
            {acts !== null && (
              <Button
                onClick={() => acts.onClose(entry)}
                aria-label={`End ${entry.kindLabel}, ${entry.systems.map(({ name }) => name).join(", ")}`}
              >
                End
              </Button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Entries by site day, newest first. */
export function LogList({
  entries,
  clock,
  acts,
}: {
  readonly entries: readonly LogEntryView[];
  readonly clock: ZoneClock;
  readonly acts: LogActs | null;
}) {
  const days = new Map<string, LogEntryView[]>();
  for (const entry of entries) {
    const day = `${clock.day(entry.at)} ${clock.year(entry.at)}`;
    const had = days.get(day);
    if (had === undefined) days.set(day, [entry]);
    else had.push(entry);
  }
  return [...days].map(([day, rows]) => (
    <section key={day} className={css.day} aria-label={day}>
      <h2>{day}</h2>
      <ul>
        {rows.map((entry) => (
          <Entry key={entry.id} entry={entry} clock={clock} acts={acts} />
        ))}
      </ul>
    </section>
  ));
}
