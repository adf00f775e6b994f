"use client";

import { useRef, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Dialog } from "#app/_components/controls/dialog.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { instantOfWall, wallText } from "#app/_components/controls/wall-input.ts";
import { issueAt, newClientId, type Sent, send } from "#app/_components/live/send.ts";
import type { LogAnswer, LogEntryView } from "#contract/log.ts";
import type { SystemState } from "#contract/views.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import type { LogChoice } from "./log-choices.ts";
import { LogFields } from "./log-fields.tsx";
import { correctionOf, typedOf, type Wrong } from "./log-typed.ts";
import css from "./logbook.module.css";

interface ChangeProps {
  readonly entry: LogEntryView;
  readonly clock: ZoneClock;
  readonly now: number;
  readonly onClose: () => void;
  readonly onDone: (answer: LogAnswer) => void;
}

interface CorrectProps extends ChangeProps {
  readonly kinds: readonly LogChoice[];
  readonly systems: readonly SystemState[];
}

/** Sends one change of an entry, once, and keeps what went wrong for the form. */
function useChange(entry: LogEntryView, verb: "close" | "correct", onDone: (answer: LogAnswer) => void) {
  const [sent, setSent] = useState<Sent<LogAnswer> | null>(null);
  const [busy, setBusy] = useState(false);
  const clientId = useRef("");
  const submit = async (body: object) => {
    if (busy) return;
    setBusy(true);
    clientId.current ||= newClientId();
    const path = `/log-entries/${encodeURIComponent(entry.id)}/${verb}`;
    const answer = await send<LogAnswer>(path, { clientId: clientId.current, ...body });
    setBusy(false);
    setSent(answer);
    if (!answer.ok && answer.why === "refused") clientId.current = "";
    if (answer.ok) onDone(answer.value);
  };
  return { sent, busy, submit };
}

function Refused({ sent }: { readonly sent: Sent<LogAnswer> | null }) {
  if (sent === null || sent.ok || sent.issues.length > 0) return null;
  return (
    <p className={css.wrong} role="alert">
      {sent.says}
    </p>
  );
}

const nameOf = (entry: LogEntryView) =>
  `${entry.kindLabel}, ${entry.systems.map(({ name }) => name).join(", ")}`;

/** Close an entry: when it ended, and any note. */
export function CloseEntry({ entry, clock, now, onClose, onDone }: ChangeProps) {
  const { sent, busy, submit } = useChange(entry, "close", onDone);
  const [at, setAt] = useState(wallText(now, clock.zone));
  const [text, setText] = useState("");
  const [wrong, setWrong] = useState("");
  return (
    <Dialog title={`End: ${nameOf(entry)}`} onClose={onClose}>
      <form
        className={css.form}
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          const instant = instantOfWall(at, clock.zone);
          const isBefore = instant !== null && instant < entry.at - (entry.at % 60_000);
          setWrong(
            instant === null ? "Type a date and a time." : isBefore ? "The end is before the start." : "",
          );
          // Typed to the minute; what began in this minute ends no earlier than it began.
          if (instant !== null && !isBefore)
            void submit({
              at: Math.max(instant, entry.at),
              ...(text.trim() === "" ? {} : { text: text.trim() }),
            });
        }}
      >
        <p className={css.soft}>Started {clock.near(entry.at, now)}.</p>
        <Field label={`Ended, ${clock.zone}`} wrong={wrong || issueAt(sent, "at")}>
          {(links) => (
            <input
              {...links}
              type="datetime-local"
              value={at}
              onChange={(event) => setAt(event.target.value)}
            />
          )}
        </Field>
        <Field label="Note" wrong={issueAt(sent, "text")}>
          {(links) => (
            <textarea
              {...links}
              maxLength={2000}
              value={text}
              onChange={(event) => setText(event.target.value)}
            />
          )}
        </Field>
        <Refused sent={sent} />
        <p className={css.buttons}>
          <Button kind="main" type="submit" busy={busy}>
            {busy ? "Saving ..." : "End it"}
          </Button>
          <Button onClick={onClose}>Cancel</Button>
        </p>
      </form>
    </Dialog>
  );
}

/** Correct an entry: the one before stays readable, struck through, with the reason beside it. */
export function CorrectEntry({ entry, clock, kinds, systems, onClose, onDone }: CorrectProps) {
  const { sent, busy, submit } = useChange(entry, "correct", onDone);
  const first = typedOf(entry, clock.zone);
  const [typed, setTyped] = useState(first);
  const [reason, setReason] = useState("");
  const [wrong, setWrong] = useState<Wrong>({});
  const at = (field: string) => wrong[field] ?? issueAt(sent, field);

  return (
    <Dialog title={`Correct: ${nameOf(entry)}`} onClose={onClose}>
      <form
        className={css.form}
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          const made = correctionOf(typed, first, clock.zone, reason);
          setWrong("wrong" in made ? made.wrong : {});
          if ("body" in made) void submit(made.body);
        }}
      >
        <p className={css.soft}>What you replace stays readable, struck through.</p>
        <LogFields
          typed={typed}
          kind={kinds.find(({ id }) => id === entry.kind)}
          systems={systems}
          zone={clock.zone}
          mayGoOn={false}
          wrongAt={at}
          onType={(part) => setTyped((had) => ({ ...had, ...part }))}
        />
        <Field label="Reason for the correction" wrong={at("reason")}>
          {(links) => (
            <input
              {...links}
              maxLength={500}
              autoComplete="off"
              value={reason}
              onChange={(event) => setReason(event.target.value)}
            />
          )}
        </Field>
        <Refused sent={sent} />
        <p className={css.buttons}>
          <Button kind="main" type="submit" busy={busy}>
            {busy ? "Saving ..." : "Correct"}
          </Button>
          <Button onClick={onClose}>Cancel</Button>
        </p>
      </form>
    </Dialog>
  );
}
