"use client";

import { useRef, useState } from "react";
import type { AcknowledgeAnswer } from "#contract/people.ts";
import type { FindingView } from "#contract/views.ts";
import { Button } from "../controls/button.tsx";
import { Dialog } from "../controls/dialog.tsx";
import { Field } from "../controls/field.tsx";
import { issueAt, newClientId, type Sent, send } from "../live/send.ts";
import css from "./overnight.module.css";

/** Somebody has seen it: with a note where there is something to say. Seen does not mean fixed, and the dialog says so. */
export function Acknowledge({
  finding,
  alarm,
  onClose,
  onDone,
}: {
  readonly finding: FindingView;
  readonly alarm: string;
  readonly onClose: () => void;
  readonly onDone: (answer: AcknowledgeAnswer) => void;
}) {
  const [note, setNote] = useState("");
  const [sent, setSent] = useState<Sent<AcknowledgeAnswer> | null>(null);
  const [busy, setBusy] = useState(false);
  const clientId = useRef("");
  const submit = async () => {
    if (busy) return;
    setBusy(true);
    clientId.current ||= newClientId();
    const answer = await send<AcknowledgeAnswer>(`/alarms/${encodeURIComponent(alarm)}/acknowledge`, {
      clientId: clientId.current,
      ...(note.trim() === "" ? {} : { note: note.trim() }),
    });
    setBusy(false);
    setSent(answer);
    if (answer.ok) onDone(answer.value);
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
        <p>
          <b>{finding.systemName}</b>: {finding.says}.
        </p>
        <p className={css.soft}>
          This records that you have seen it. It stays on the page until the problem is over.
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
