"use client";

import { useEffect, useRef, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Dialog } from "#app/_components/controls/dialog.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import css from "#app/_components/findings/overnight.module.css";
import { issueAt, newClientId, read, type Sent, send } from "#app/_components/live/send.ts";
import type { HandoverAnswer, HandoverDraft } from "#contract/handover.ts";
import { durationText } from "#core/time/duration-text.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { countWord } from "./overnight-words.ts";

/** First what is unanswered, then what still goes on: what the next shift takes over. */
function Passes({ draft, clock }: { readonly draft: HandoverDraft; readonly clock: ZoneClock }) {
  const { unanswered, open } = draft;
  return (
    <>
      <h3>
        {unanswered.length === 0
          ? "No alarms to hand over"
          : `${unanswered.length} ${unanswered.length === 1 ? "alarm passes" : "alarms pass"} to the next shift`}
      </h3>
      {unanswered.length > 0 && (
        <ul className={css.passes}>
          {unanswered.map((alarm) => (
            <li key={alarm.id}>
              <b>{alarm.systemName}</b>: {alarm.finding?.says ?? alarm.quantityLabel}
              <small>
                {alarm.acknowledged === null
                  ? `not acknowledged for ${durationText(draft.to - alarm.raised)}`
                  : `acknowledged by ${alarm.acknowledgedBy ?? "somebody"}, no response in the logbook`}
              </small>
            </li>
          ))}
        </ul>
      )}
      {open.length > 0 && (
        <>
          <h3>Still going on</h3>
          <ul className={css.passes}>
            {open.map((entry) => (
              <li key={entry.id}>
                <b>{entry.systems.map(({ name }) => name).join(", ")}</b>: {entry.kindLabel}
                <small>
                  since {clock.near(entry.at, draft.to)}
                  {entry.overdue === null ? "" : `. ${entry.overdue}`}
                </small>
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

/** Sign the handover. What was typed stays when something new came in between: then that is shown first. */
export function SignHandover({
  clock,
  onClose,
}: {
  readonly clock: ZoneClock;
  readonly onClose: () => void;
}) {
  const [draft, setDraft] = useState<Sent<HandoverDraft> | null>(null);
  const [note, setNote] = useState("");
  const [passesTo, setPassesTo] = useState("");
  const [notes, setNotes] = useState<Readonly<Record<string, string>>>({});
  const [sent, setSent] = useState<Sent<HandoverAnswer> | null>(null);
  const [attempt, setAttempt] = useState(0);
  const [busy, setBusy] = useState(false);
  const clientId = useRef("");
  // biome-ignore lint/correctness/useExhaustiveDependencies: `attempt` asks again
  useEffect(() => {
    const stop = new AbortController();
    read<HandoverDraft>("/handovers/draft", stop.signal).then((answer) => {
      if (!stop.signal.aborted) setDraft(answer);
    }, console.error);
    return () => stop.abort();
  }, [attempt]);

  const submit = async (known: HandoverDraft) => {
    if (busy) return;
    setBusy(true);
    clientId.current ||= newClientId();
    const answer = await send<HandoverAnswer>("/handovers", {
      clientId: clientId.current,
      note: note.trim(),
      notes: Object.entries(notes)
        .filter(([, text]) => text.trim() !== "")
        .map(([system, text]) => ({ system, text: text.trim() })),
      ...(passesTo.trim() === "" ? {} : { passesTo: passesTo.trim() }),
      from: known.from,
      seen: known.unanswered.map((alarm) => alarm.id),
    });
    setSent(answer);
    if (answer.ok) {
      window.location.assign(`/overnight/${encodeURIComponent(answer.value.handover.id)}`);
      return;
    }
    setBusy(false);
    // Another alarm came between reading and signing: show it before anybody signs.
    if (answer.status === 409) setAttempt((n) => n + 1);
  };

  return (
    <Dialog title="Sign the handover" onClose={onClose}>
      {draft === null && <p role="status">Loading the handover ...</p>}
      {draft !== null && !draft.ok && (
        <>
          <p className={css.wrong} role="alert">
            {draft.says}
          </p>
          <p className={css.buttons}>
            <Button onClick={() => setAttempt((n) => n + 1)}>Try again</Button>
          </p>
        </>
      )}
      {draft?.ok && (
        <form
          className={css.form}
          onSubmit={(event) => {
            event.preventDefault();
            void submit(draft.value);
          }}
        >
          <Passes draft={draft.value} clock={clock} />
          <Field
            label={draft.value.unanswered.length === 0 ? "Handed to" : "Who takes over"}
            hint={
              draft.value.unanswered.length === 0
                ? "If known"
                : `The person responsible for ${countWord(draft.value.unanswered.length)} ${draft.value.unanswered.length === 1 ? "alarm" : "alarms"} from now on`
            }
            wrong={issueAt(sent, "passesTo")}
          >
            {(links) => (
              <input
                {...links}
                value={passesTo}
                maxLength={80}
                required={draft.value.unanswered.length > 0}
                autoComplete="off"
                onChange={(event) => setPassesTo(event.target.value)}
              />
            )}
          </Field>
          <Field label="Note for the next shift" wrong={issueAt(sent, "note")}>
            {(links) => (
              <textarea
                {...links}
                value={note}
                maxLength={2000}
                onChange={(event) => setNote(event.target.value)}
              />
            )}
          </Field>
          <SystemNotes draft={draft.value} notes={notes} onChange={setNotes} />
          {sent !== null && !sent.ok && issueAt(sent, "passesTo") === "" && issueAt(sent, "note") === "" && (
            <p className={css.wrong} role="alert">
              {sent.says}
            </p>
          )}
          <p className={css.soft}>
            Signing keeps a copy of this page as it is now, {clock.full(draft.value.to)}. It cannot be changed
            afterwards.
          </p>
          <p className={css.buttons}>
            <Button kind="main" type="submit" busy={busy}>
              {busy ? "Signing ..." : "Sign"}
            </Button>
            <Button onClick={onClose}>Cancel</Button>
          </p>
        </form>
      )}
    </Dialog>
  );
}

/** A note for one system: those with findings are offered, because something happened there. */
function SystemNotes({
  draft,
  notes,
  onChange,
}: {
  readonly draft: HandoverDraft;
  readonly notes: Readonly<Record<string, string>>;
  readonly onChange: (notes: Readonly<Record<string, string>>) => void;
}) {
  const systems = [...new Map(draft.overnight.findings.map((row) => [row.system, row.systemName]))];
  if (systems.length === 0) return null;
  return (
    <details className={css.notes}>
      <summary>Notes for single systems</summary>
      <div className={css.form}>
        {systems.map(([system, name]) => (
          <Field key={system} label={name}>
            {(links) => (
              <input
                {...links}
                value={notes[system] ?? ""}
                maxLength={2000}
                autoComplete="off"
                onChange={(event) => onChange({ ...notes, [system]: event.target.value })}
              />
            )}
          </Field>
        ))}
      </div>
    </details>
  );
}
