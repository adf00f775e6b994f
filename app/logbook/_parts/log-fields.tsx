"use client";

import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { streamName } from "#app/_components/words/stream-words.ts";
import type { SystemState } from "#contract/views.ts";
import { type LogChoice, USUAL_UNITS } from "./log-choices.ts";
import type { Typed } from "./log-typed.ts";
import css from "./logbook.module.css";

/** Everything of a log entry but its kind: the same fields to write one and to correct one. */
export function LogFields({
  typed,
  kind,
  systems,
  zone,
  mayGoOn,
  wrongAt: at,
  onType: change,
}: {
  readonly typed: Typed;
  readonly kind: LogChoice | undefined;
  readonly systems: readonly Pick<SystemState, "system" | "name" | "streams">[];
  readonly zone: string;
  /** Whether it may be marked as still going on; a stored entry is closed with its own button. */
  readonly mayGoOn: boolean;
  /** What is wrong with a field, empty where nothing is. */
  readonly wrongAt: (field: string) => string;
  readonly onType: (part: Partial<Typed>) => void;
}) {
  const streams = systems.find(({ system }) => system === typed.systems[0])?.streams ?? [];
  return (
    <>
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
            Add another system
          </Button>
        </p>
      )}
      {(kind?.isOfOne || kind?.id === "valve" || kind?.id === "set-point") && (
        <Field
          label="Probe or pump"
          hint={kind.isOfOne ? "Only what is named here is muted" : ""}
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
        <Field label={`Started, ${zone}`} wrong={at("at")}>
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
          <Field label="Ended" hint={kind?.lasts ? "" : "Leave empty if it took no time"} wrong={at("until")}>
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
      {kind?.lasts && mayGoOn && (
        <fieldset className={css.choice}>
          <legend>Status</legend>
          <label>
            <input
              type="radio"
              name="open"
              checked={!typed.isOpen}
              onChange={() => change({ isOpen: false })}
            />
            ended
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
      {kind?.id === "out-of-service" && mayGoOn && (
        <Field label={`Expected back in service, ${zone}`} wrong={at("expected")}>
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
      <Field label="Note" wrong={at("text")}>
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
        <summary>Batch, food, drug, part or animals</summary>
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
          <Field label="Animals" hint="Separate with commas" wrong={at("animals")}>
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
    </>
  );
}
