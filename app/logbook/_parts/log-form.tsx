"use client";

import { useRef, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Dialog } from "#app/_components/controls/dialog.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { wallText } from "#app/_components/controls/wall-input.ts";
import { issueAt, newClientId, type Sent, send } from "#app/_components/live/send.ts";
import type { LogAnswer } from "#contract/log.ts";
import type { SystemState } from "#contract/views.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { effectWords, type LogChoice } from "./log-choices.ts";
import { LogFields } from "./log-fields.tsx";
import { bodyOf, type Typed, type Wrong } from "./log-typed.ts";
import css from "./logbook.module.css";

/** What an entry begins with where a link or a button already knows it. */
export interface LogStart {
  readonly kind: string;
  readonly system: string;
  /** The alarm this entry is the response to. */
  readonly alarm: string;
}

/** Write into the logbook. What the kind keeps quiet, and for how long at most, is said before it is saved. */
export function LogForm({
  start,
  kinds,
  systems,
  clock,
  now,
  onClose,
  onDone,
}: {
  readonly start: LogStart;
  readonly kinds: readonly LogChoice[];
  readonly systems: readonly SystemState[];
  readonly clock: ZoneClock;
  readonly now: number;
  readonly onClose: () => void;
  readonly onDone: (answer: LogAnswer) => void;
}) {
  const [typed, setTyped] = useState<Typed>({
    kind: start.kind,
    systems: [start.system],
    stream: "",
    at: wallText(now, clock.zone),
    until: "",
    isOpen: false,
    expected: "",
    amount: "",
    unit: "",
    item: "",
    animals: "",
    text: "",
  });
  const [wrong, setWrong] = useState<Wrong>({});
  const [sent, setSent] = useState<Sent<LogAnswer> | null>(null);
  const [busy, setBusy] = useState(false);
  const clientId = useRef("");
  const kind = kinds.find(({ id }) => id === typed.kind);
  const change = (part: Partial<Typed>) => setTyped((had) => ({ ...had, ...part }));
  const at = (field: string) => wrong[field] ?? issueAt(sent, field);

  const submit = async () => {
    if (busy) return;
    const made = bodyOf(typed, kind, clock.zone, start.alarm);
    setWrong("wrong" in made ? made.wrong : {});
    if ("wrong" in made) return;
    setBusy(true);
    clientId.current ||= newClientId();
    const answer = await send<LogAnswer>("/log-entries", { clientId: clientId.current, ...made.body });
    setBusy(false);
    setSent(answer);
    // What was refused is changed and sent as something new; what got no answer may have been stored.
    if (!answer.ok && answer.why === "refused") clientId.current = "";
    if (answer.ok) onDone(answer.value);
  };

  return (
    <Dialog title={start.alarm === "" ? "Add to the logbook" : "Log the response"} onClose={onClose}>
      <form
        className={css.form}
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          void submit();
        }}
      >
        <Field label="What was done" hint={kind === undefined ? "" : effectWords(kind)} wrong={at("kind")}>
          {(links) => (
            <select {...links} value={typed.kind} onChange={(event) => change({ kind: event.target.value })}>
              <option value="">Choose</option>
              {kinds.map(({ id, label }) => (
                <option key={id} value={id}>
                  {label}
                </option>
              ))}
            </select>
          )}
        </Field>
        <LogFields
          typed={typed}
          kind={kind}
          systems={systems}
          zone={clock.zone}
          mayGoOn
          wrongAt={at}
          onType={change}
        />
        {sent !== null && !sent.ok && sent.issues.length === 0 && (
          <p className={css.wrong} role="alert">
            {sent.says}
          </p>
        )}
        <p className={css.buttons}>
          <Button kind="main" type="submit" busy={busy}>
            {busy ? "Saving ..." : "Save"}
          </Button>
          <Button onClick={onClose}>Cancel</Button>
        </p>
      </form>
    </Dialog>
  );
}
