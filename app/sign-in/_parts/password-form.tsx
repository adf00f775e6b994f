"use client";

import { type FormEvent, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { issueAt, send } from "#app/_components/live/send.ts";
import { faultText } from "#core/faults/fault.ts";
import { lengthFault, PASSWORD_LEAST, PASSWORD_MOST } from "#core/people/password.ts";
import css from "./sign-in.module.css";

interface Wrong {
  readonly current: string;
  readonly next: string;
  readonly again: string;
  readonly form: string;
}
const NOTHING: Wrong = { current: "", next: "", again: "", form: "" };
const HINT = `${PASSWORD_LEAST} to ${PASSWORD_MOST} characters of any kind; several words of your own easily reach 15 or more.`;

/** Changes one's own password; the first time it takes the place of the one-time password. */
export function PasswordForm({ to, oneTime }: { readonly to: string; readonly oneTime: boolean }) {
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState(NOTHING);

  async function submit(event: FormEvent<HTMLFormElement>) {
    event.preventDefault();
    if (busy) return;
    const form = new FormData(event.currentTarget);
    const [current, next, again] = ["current", "next", "again"].map((name) => String(form.get(name) ?? ""));
    const fault = lengthFault(next ?? "");
    const differs = next === again ? "" : "The two passwords differ: type the new one again.";
    if (fault !== undefined || differs !== "") {
      setWrong({ ...NOTHING, next: fault === undefined ? "" : `${faultText(fault, "It")}.`, again: differs });
      return;
    }
    setBusy(true);
    setWrong(NOTHING);
    const answer = await send("/me/password", { current, next });
    if (answer.ok) {
      location.assign(to);
      return;
    }
    setBusy(false);
    const [atCurrent, atNext] = [issueAt(answer, "current"), issueAt(answer, "next")];
    const isTold = atCurrent !== "" || atNext !== "";
    setWrong({ ...NOTHING, current: atCurrent, next: atNext, form: isTold ? "" : answer.says });
  }

  const field = (name: string, autoComplete: string) => (links: object) => (
    <input {...links} name={name} type="password" autoComplete={autoComplete} required maxLength={1000} />
  );
  return (
    <form method="post" className={css.form} onSubmit={submit}>
      <Field label={oneTime ? "One-time password" : "Current password"} wrong={wrong.current}>
        {field("current", "current-password")}
      </Field>
      <Field label="New password" hint={HINT} wrong={wrong.next}>
        {field("next", "new-password")}
      </Field>
      <Field label="New password again" wrong={wrong.again}>
        {field("again", "new-password")}
      </Field>
      {wrong.form !== "" && (
        <p role="alert" className={css.wrong}>
          {wrong.form}
        </p>
      )}
      <div className={css.actions}>
        <Button kind="main" type="submit" busy={busy}>
          {busy ? "Changing ..." : "Change password"}
        </Button>
      </div>
    </form>
  );
}
