"use client";

import { type FormEvent, useRef, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { send } from "#app/_components/live/send.ts";
import css from "./sign-in.module.css";

type Way = "person" | "display";

const WRONG: Readonly<Record<Way, string>> = {
  person: "Wrong name or password, or the account is closed, or the one-time password has expired.",
  display: "This token does not work here. An administrator can make a viewer token under Set-up, People.",
};
const textOf = (form: FormData, name: string) => String(form.get(name) ?? "");

/** Name and password, or a wall display's token; then on to the page that was asked for. */
export function SignInForm({ to }: { readonly to: string }) {
  const [way, setWay] = useState<Way>("person");
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState("");
  const first = useRef<HTMLInputElement>(null);

  async function submit(event: FormEvent<HTMLFormElement>) {
    event.preventDefault();
    if (busy) return;
    const form = new FormData(event.currentTarget);
    setBusy(true);
    setWrong("");
    const answer =
      way === "person"
        ? await send("/sign-in", { name: textOf(form, "name"), password: textOf(form, "password") })
        : await send("/sign-in-display", { token: textOf(form, "token").trim() });
    if (answer.ok) {
      location.assign(to);
      return;
    }
    setBusy(false);
    setWrong(answer.status === 401 || answer.status === 422 ? WRONG[way] : answer.says);
    first.current?.focus();
  }

  return (
    <form method="post" className={css.form} onSubmit={submit}>
      {way === "person" ? (
        <>
          <Field label="User name or e-mail address" wrong={wrong}>
            {(links) => (
              <input
                {...links}
                key="name"
                ref={first}
                name="name"
                autoComplete="username"
                autoCapitalize="none"
                spellCheck={false}
                required
                maxLength={200}
              />
            )}
          </Field>
          <Field label="Password">
            {(links) => (
              <input
                {...links}
                name="password"
                type="password"
                autoComplete="current-password"
                required
                maxLength={1000}
              />
            )}
          </Field>
        </>
      ) : (
        <Field
          label="Wall display token"
          hint="Made for the viewer role: it can read, but change nothing."
          wrong={wrong}
        >
          {(links) => (
            <input
              {...links}
              key="token"
              ref={first}
              name="token"
              autoComplete="off"
              autoCapitalize="none"
              spellCheck={false}
              required
              minLength={10}
              maxLength={200}
            />
          )}
        </Field>
      )}
      <div className={css.actions}>
        <Button kind="main" type="submit" busy={busy}>
          {busy ? "Signing in ..." : "Sign in"}
        </Button>
        <Button
          kind="bare"
          onClick={() => {
            setWay(way === "person" ? "display" : "person");
            setWrong("");
          }}
        >
          {way === "person" ? "Sign in a wall display" : "Sign in as a person"}
        </Button>
      </div>
    </form>
  );
}
