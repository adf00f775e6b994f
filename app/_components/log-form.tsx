"use client";

import { useRef, useState } from "react";
import type { LogAnswer } from "../../lib/core/wire/log.ts";
import type { SystemState } from "../../lib/core/wire/views.ts";
import { Button } from "./button.tsx";
import { Dialog } from "./dialog.tsx";
import { Field } from "./field.tsx";
import { effectWords, type LogChoice, USUAL_UNITS } from "./log-choices.ts";
import css from "./logbook.module.css";
import { issueAt, newClientId, type Sent, send } from "./send.ts";
import { streamName } from "./stream-words.ts";
import type { ZoneClock } from "./time-words.ts";
import { instantOfWall, wallText } from "./wall-input.ts";

/** What an entry begins with where a link or a button already knows it. */
export interface LogStart {
  readonly kind: string;
  readonly system: string;
  /** The alarm this entry is the response to. */
  readonly alarm: string;
}

interface Typed {
  readonly kind: string;
  readonly systems: readonly string[];
  readonly stream: string;
  readonly at: string;
  readonly until: string;
  readonly isOpen: boolean;
  readonly expected: string;
  readonly amount: string;
  readonly unit: string;
  readonly item: string;
  readonly animals: string;
  readonly text: string;
}

/** Decimal comma and thin blanks are typed too; null for what is no number. */
function numberOf(text: string): number | null {
  const plain = text.trim().replace(",", ".");
  const value = Number(plain);
  return plain === "" || !Number.isFinite(value) ? null : value;
}

/** The body to send, or what is wrong before anything is sent, by field. */
export function bodyOf(
  typed: Typed,
  kind: LogChoice | undefined,
  zone: string,
  alarm: string,
): { readonly body: object } | { readonly wrong: Readonly<Record<string, string>> } {
  const wrong: Record<string, string> = {};
  const at = instantOfWall(typed.at, zone);
  const until = typed.until === "" || typed.isOpen ? undefined : instantOfWall(typed.until, zone);
  const expected = typed.expected === "" ? undefined : instantOfWall(typed.expected, zone);
  const amount = typed.amount.trim() === "" ? undefined : numberOf(typed.amount);
  if (kind === undefined) wrong.kind = "Choose what was done.";
  if (typed.systems.every((code) => code === "")) wrong.systems = "Choose the system it was done to.";
  if (at === null) wrong.at = "Type a date and a time.";
  if (until === null) wrong.until = "Type a date and a time, or leave it empty.";
  else if (until !== undefined && at !== null && until < at) wrong.until = "It ends before it begins.";
  if (expected === null) wrong.expected = "Type a date and a time, or leave it empty.";
  if (amount === null) wrong.amount = `"${typed.amount}" is not a number: type digits, like 8.5.`;
  if (amount !== undefined && typed.unit.trim() === "") wrong.unit = "An amount needs its unit.";
  if (Object.keys(wrong).length > 0) return { wrong };
  const [quantity, point] = typed.stream === "" ? [] : typed.stream.split("/");
  const animals = typed.animals
    .split(",")
    .map((name) => name.trim())
    .filter((name) => name !== "");
  return {
    body: {
      kind: typed.kind,
      systems: [...new Set(typed.systems.filter((code) => code !== ""))],
      at,
      text: typed.text.trim(),
      ...(kind?.lasts && typed.isOpen ? { open: true } : {}),
      ...(until === undefined ? {} : { until }),
      ...(expected === undefined ? {} : { expected }),
      ...(quantity === undefined ? {} : { quantity, point }),
      ...(amount === undefined ? {} : { amount, unit: typed.unit.trim() }),
      ...(typed.item.trim() === "" ? {} : { item: typed.item.trim() }),
      ...(animals.length === 0 ? {} : { animals }),
      ...(alarm === "" ? {} : { alarm }),
    },
  };
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
  const [wrong, setWrong] = useState<Readonly<Record<string, string>>>({});
  const [sent, setSent] = useState<Sent<LogAnswer> | null>(null);
  const [busy, setBusy] = useState(false);
  const clientId = useRef("");
  const kind = kinds.find(({ id }) => id === typed.kind);
  const change = (part: Partial<Typed>) => setTyped((had) => ({ ...had, ...part }));
  const at = (field: string) => wrong[field] ?? issueAt(sent, field);
  const streams = systems.find(({ system }) => system === typed.systems[0])?.streams ?? [];

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
        {typed.systems.map((code, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the rows have no other identity, and only the last is ever added
          <Field key={i} label={i === 0 ? "System" : "Another system"} wrong={i === 0 ? at("systems") : ""}>
            {(links) => (
              <select
                {...links}
                value={code}
                onChange={(event) =>
                  change({
                    systems: typed.systems.map((had, n) => (n === i ? event.target.value : had)),
                    ...(i === 0 ? { stream: "" } : {}),
                  })
                }
              >
                <option value="">Choose</option>
                {systems.map(({ system, name }) => (
                  <option key={system} value={system}>
                    {name}
                  </option>
                ))}
              </select>
            )}
          </Field>
        ))}
        {typed.systems.at(-1) !== "" && typed.systems.length < 20 && (
          <p>
            <Button kind="bare" onClick={() => change({ systems: [...typed.systems, ""] })}>
              Another system too
            </Button>
          </p>
        )}
        {(kind?.isOfOne || kind?.id === "valve" || kind?.id === "set-point") && (
          <Field
            label="Probe or pump"
            hint={kind.isOfOne ? "Only what is named here is quiet" : ""}
            wrong={at("quantity") || at("point")}
          >
            {(links) => (
              <select
                {...links}
                value={typed.stream}
                onChange={(event) => change({ stream: event.target.value })}
              >
                <option value="">None</option>
                {streams
                  .filter((stream) => stream.origin === "probe" || stream.origin === "equipment")
                  .map((stream) => (
                    <option key={stream.stream} value={`${stream.quantity}/${stream.point}`}>
                      {streamName(stream)}
                    </option>
                  ))}
              </select>
            )}
          </Field>
        )}
        <div className={css.pair}>
          <Field label={`Began, ${clock.zone}`} wrong={at("at")}>
            {(links) => (
              <input
                {...links}
                type="datetime-local"
                value={typed.at}
                onChange={(event) => change({ at: event.target.value })}
              />
            )}
          </Field>
          {!(kind?.lasts && typed.isOpen) && (
            <Field
              label="Was over"
              hint={kind?.lasts ? "" : "Leave empty where it took no time"}
              wrong={at("until")}
            >
              {(links) => (
                <input
                  {...links}
                  type="datetime-local"
                  value={typed.until}
                  onChange={(event) => change({ until: event.target.value })}
                />
              )}
            </Field>
          )}
        </div>
        {kind?.lasts && (
          <fieldset className={css.choice}>
            <legend>It is</legend>
            <label>
              <input
                type="radio"
                name="open"
                checked={!typed.isOpen}
                onChange={() => change({ isOpen: false })}
              />
              over
            </label>
            <label>
              <input
                type="radio"
                name="open"
                checked={typed.isOpen}
                onChange={() => change({ isOpen: true })}
              />
              still going on
            </label>
          </fieldset>
        )}
        {kind?.id === "out-of-service" && (
          <Field label={`Back in service, ${clock.zone}`} wrong={at("expected")}>
            {(links) => (
              <input
                {...links}
                type="datetime-local"
                value={typed.expected}
                onChange={(event) => change({ expected: event.target.value })}
              />
            )}
          </Field>
        )}
        <div className={css.pair}>
          <Field label="Amount" wrong={at("amount")}>
            {(links) => (
              <input
                {...links}
                inputMode="decimal"
                autoComplete="off"
                value={typed.amount}
                onChange={(event) => change({ amount: event.target.value })}
              />
            )}
          </Field>
          <Field label="Unit" wrong={at("unit")}>
            {(links) => (
              <>
                <input
                  {...links}
                  list="log-units"
                  autoComplete="off"
                  value={typed.unit}
                  onChange={(event) => change({ unit: event.target.value })}
                />
                <datalist id="log-units">
                  {(kind === undefined ? [] : (USUAL_UNITS[kind.id] ?? [])).map((unit) => (
                    <option key={unit} value={unit} />
                  ))}
                </datalist>
              </>
            )}
          </Field>
        </div>
        <Field label="Text" wrong={at("text")}>
          {(links) => (
            <textarea
              {...links}
              maxLength={2000}
              value={typed.text}
              onChange={(event) => change({ text: event.target.value })}
            />
          )}
        </Field>
        <details>
          <summary>Batch, food, part; animals</summary>
          <div className={css.form}>
            <Field label="Batch, food, drug or part" wrong={at("item")}>
              {(links) => (
                <input
                  {...links}
                  maxLength={200}
                  autoComplete="off"
                  value={typed.item}
                  onChange={(event) => change({ item: event.target.value })}
                />
              )}
            </Field>
            <Field label="Animals" hint="With commas between them" wrong={at("animals")}>
              {(links) => (
                <input
                  {...links}
                  autoComplete="off"
                  value={typed.animals}
                  onChange={(event) => change({ animals: event.target.value })}
                />
              )}
            </Field>
          </div>
        </details>
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
