"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/findings/overnight.module.css";
import { newClientId } from "#app/_components/live/send.ts";
import { poolWords } from "#app/_components/words/habitat-words.ts";
import type { NightCountAnswer, NightCountsView, NightCountView } from "#contract/night-counts.ts";
import { clockOf } from "#core/time/zone-clock.ts";

const keyOf = ({ watch, system }: NightCountView) => `${watch}/${system}`;

function standWords({ stand, count, night, zone }: NightCountView, now: number): string {
  const clock = clockOf(zone);
  if (count !== null)
    return `${count.says}; ${clock.near(count.at, now)}, ${count.by}${count.note === null ? "" : `: ${count.note}`}`;
  if (stand === "due") return `Not counted since ${clock.near(night, now)}: count now.`;
  return "Count due tonight.";
}

/** One number, sent once: each retry uses the same client id. */
function CountForm({
  view,
  onClose,
  onDone,
}: {
  readonly view: NightCountView;
  readonly onClose: () => void;
  readonly onDone: (answer: NightCountAnswer) => void;
}) {
  const [clientId] = useState(newClientId);
  const [counted, setCounted] = useState("");
  const [note, setNote] = useState("");
  const number = /^\d{1,6}$/.test(counted.trim()) ? Number(counted) : null;
  return (
    <FormDialog<NightCountAnswer>
      title={`Night count, ${view.systemName}`}
      path={`/breeding-watches/${encodeURIComponent(view.watch)}/counts`}
      submit="Save the count"
      fields={["counted", "note", "at"]}
      body={() =>
        number === null ? null : { clientId, counted: number, ...(note.trim() === "" ? {} : { note }) }
      }
      onClose={onClose}
      onDone={onDone}
    >
      {(wrong, asked) => (
        <>
          <p>
            {view.who}: {view.kind === "gestation" ? "birth" : "hatching"} expected. {view.onRecord} on
            record.
          </p>
          <Field
            label="Found alive"
            hint="all animals of this species here, including young but not eggs"
            wrong={(asked && number === null ? "a whole number, 0 or more" : "") || wrong("counted")}
          >
            {(links) => (
              <input
                {...links}
                inputMode="numeric"
                autoComplete="off"
                value={counted}
                onChange={(e) => setCounted(e.target.value)}
              />
            )}
          </Field>
          <Field label="Note" hint="optional: guards checked, what you saw" wrong={wrong("note")}>
            {(links) => <input {...links} value={note} onChange={(e) => setNote(e.target.value)} />}
          </Field>
        </>
      )}
    </FormDialog>
  );
}

/** The counts that breeding watches ask for tonight: a line each, never an alarm. Nothing where none is asked. */
export function NightCounts({
  view,
  may,
  now,
}: {
  readonly view: NightCountsView;
  readonly may: boolean;
  readonly now: number;
}) {
  const [made, setMade] = useState<ReadonlyMap<string, NightCountAnswer["count"]>>(new Map());
  const [open, setOpen] = useState<NightCountView | null>(null);
  if (view.counts.length === 0) return null;
  const rows = view.counts.map((row) => {
    const count = made.get(keyOf(row));
    return count === undefined ? row : { ...row, stand: "done" as const, count };
  });
  return (
    <section className={css.group} aria-labelledby="night-counts">
      <h2 id="night-counts">Night counts</h2>
      <ul className={css.items}>
        {rows.map((row) => (
          <li key={keyOf(row)} className={css.item} data-night-count={row.stand}>
            <div className={css.told}>
              <p className={css.line}>
                <a href={`/systems/${encodeURIComponent(row.system)}`} className={css.system}>
                  {row.systemName}
                </a>
                <span className={css.tag}>count {row.stand === "asked" ? "tonight" : row.stand}</span>
              </p>
              <p className={css.says}>
                {row.who}: {row.kind === "gestation" ? "birth" : "hatching"} expected. {standWords(row, now)}
              </p>
              {row.kind === "gestation" && <p className={css.when}>{poolWords(row.pool)}</p>}
              {may && (
                <p className="no-print">
                  <Button aria-label={`Count for ${row.who}, ${row.systemName}`} onClick={() => setOpen(row)}>
                    {row.stand === "done" ? "Count again" : "Count"}
                  </Button>
                </p>
              )}
            </div>
          </li>
        ))}
      </ul>
      {open !== null && (
        <CountForm
          view={open}
          onClose={() => setOpen(null)}
          onDone={({ count }) => {
            setMade((had) => new Map([...had, [keyOf(open), count]]));
            setOpen(null);
          }}
        />
      )}
    </section>
  );
}
