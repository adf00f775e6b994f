"use client";

import { useRef, useState } from "react";
import type { AcknowledgeAnswer } from "#contract/people.ts";
import type { FindingView } from "#contract/views.ts";
import { Button } from "../controls/button.tsx";
import { Dialog } from "../controls/dialog.tsx";
import { Field } from "../controls/field.tsx";
import { issueAt, newClientId, type Sent, send } from "../live/send.ts";
import css from "./overnight.module.css";

/**
 * Somebody has seen it: with a note where there is something to say. Seen does not mean fixed, and the dialog says so. What belongs to one
 * incident is acknowledged together, each alarm with the same note.
 */
export function Acknowledge({
  findings,
  onClose,
  onAnswer,
  onDone,
}: {
  readonly findings: readonly FindingView[];
  readonly onClose: () => void;
  /** For each alarm as it is recorded. */
  readonly onAnswer: (answer: AcknowledgeAnswer) => void;
  readonly onDone: () => void;
}) {
  const [note, setNote] = useState("");
  const [sent, setSent] = useState<Sent<AcknowledgeAnswer> | null>(null);
  const [busy, setBusy] = useState(false);
  /** By alarm: a second press after a lost answer sends nothing twice. */
  const clientIds = useRef(new Map<string, string>());
  const submit = async () => {
    if (busy) return;
    setBusy(true);
    for (const { alarm } of findings) {
      if (alarm === null) continue;
      const clientId = clientIds.current.get(alarm.id) ?? newClientId();
      clientIds.current.set(alarm.id, clientId);
      const answer = await send<AcknowledgeAnswer>(`/alarms/${encodeURIComponent(alarm.id)}/acknowledge`, {
        clientId,
        ...(note.trim() === "" ? {} : { note: note.trim() }),
      });
      setSent(answer);
      if (!answer.ok) {
        setBusy(false);
        return;
      }
      onAnswer(answer.value);
    }
    setBusy(false);
    onDone();
  };
  return (
    <Dialog title="Acknowledge" onClose={onClose}>
      <form
        className={css.form}
        onSubmit={(event) => {
          event.preventDefault();
          void submit();
        }}
      >
        {findings.map((finding) => (
          <p key={finding.id}>
            <b>{finding.systemName}</b>: {finding.says}.
          </p>
        ))}
        <p className={css.soft}>
          This records that you have seen {findings.length === 1 ? "it. It stays" : "them. They stay"} on the
          page until the problem is over.
        </p>
        <Field
          label="Note"
          hint="Optional: what you did, what you are waiting for"
          wrong={issueAt(sent, "note")}
        >
          {(links) => (
            <input
              {...links}
              value={note}
              maxLength={500}
              autoComplete="off"
              onChange={(event) => setNote(event.target.value)}
            />
          )}
        </Field>
        {sent !== null && !sent.ok && issueAt(sent, "note") === "" && (
          <p className={css.wrong} role="alert">
            {sent.says}
          </p>
        )}
        <p className={css.buttons}>
          <Button kind="main" type="submit" busy={busy}>
            {busy ? "Sending ..." : "Acknowledge"}
          </Button>
          <Button onClick={onClose}>Cancel</Button>
        </p>
      </form>
    </Dialog>
  );
}
