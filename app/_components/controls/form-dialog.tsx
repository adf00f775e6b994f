"use client";

import { type ReactNode, useState } from "react";
import { issueAt, type Sent, send } from "../live/send.ts";
import { Button } from "./button.tsx";
import { Dialog } from "./dialog.tsx";
import css from "./forms.module.css";

/** A short form in a dialog that sends one thing: pending, refused in words, at the field where there is one, and kept as typed until it is stored. */
export function FormDialog<T>({
  title,
  path,
  body,
  submit,
  fields,
  onClose,
  onDone,
  children,
}: {
  readonly title: string;
  readonly path: string;
  /** What to send; null: not yet, the fields say why. */
  readonly body: () => object | null;
  readonly submit: string;
  /** Fields that show their own issues; issues of others are said below. */
  readonly fields: readonly string[];
  readonly onClose: () => void;
  readonly onDone: (answer: T) => void;
  readonly children: (wrong: (field: string) => string, asked: boolean) => ReactNode;
}) {
  const [sent, setSent] = useState<Sent<T> | null>(null);
  const [busy, setBusy] = useState(false);
  const [asked, setAsked] = useState(false);
  const go = async () => {
    setAsked(true);
    const what = body();
    if (what === null || busy) return;
    setBusy(true);
    const answer = await send<T>(path, what);
    setBusy(false);
    setSent(answer);
    if (answer.ok) onDone(answer.value);
  };
  const isSaid = fields.some((field) => issueAt(sent, field) !== "");
  return (
    <Dialog title={title} onClose={onClose}>
      <form
        className={css.form}
        onSubmit={(event) => {
          event.preventDefault();
          void go();
        }}
      >
        {children((field) => issueAt(sent, field), asked)}
        {sent !== null && !sent.ok && !isSaid && (
          <p className={css.wrong} role="alert">
            {sent.says}{" "}
            {sent.issues.map((issue) => `${issue.field} ${issue.says}: ${issue.remedy}`).join(" ")}
          </p>
        )}
        <p className={css.buttons}>
          <Button kind="main" type="submit" busy={busy}>
            {busy ? "Sending ..." : submit}
          </Button>
          <Button onClick={onClose}>Cancel</Button>
        </p>
      </form>
    </Dialog>
  );
}

/** What a text needs before it is sent; empty where it has it, or nothing has been submitted yet. */
export const needed = (text: string, asked: boolean, least = 3): string =>
  asked && text.trim().length < least ? `required, at least ${least} characters` : "";
