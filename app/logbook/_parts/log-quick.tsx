"use client";

import { useEffect, useRef, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { newClientId, type Sent, send } from "#app/_components/live/send.ts";
import type { LogAnswer } from "#contract/log.ts";
import type { SystemState } from "#contract/views.ts";
import type { LogChoice } from "./log-choices.ts";
import css from "./logbook.module.css";

const LAST = "homewater-log-system";
/** What is done on the way with wet hands, one press each. */
const QUICK = ["backwash", "water-change", "feed", "work-in-water"] as const;

function rememberedSystem(): string {
  try {
    return localStorage.getItem(LAST) ?? "";
  } catch (refused) {
    console.info(`This browser keeps nothing: ${String(refused)}`);
    return "";
  }
}

function rememberSystem(code: string): void {
  try {
    localStorage.setItem(LAST, code);
  } catch (refused) {
    console.info(`This browser keeps nothing: ${String(refused)}`);
  }
}

/** On a phone: the system once, then one press for what began or was done. What began is ended in the list of what goes on. */
export function LogQuick({
  kinds,
  systems,
  onDone,
}: {
  readonly kinds: readonly LogChoice[];
  readonly systems: readonly SystemState[];
  readonly onDone: (answer: LogAnswer) => void;
}) {
  const [system, setSystem] = useState("");
  const [sent, setSent] = useState<Sent<LogAnswer> | null>(null);
  const [busy, setBusy] = useState("");
  /** The same press sent again after a lost answer is the same entry. */
  const pending = useRef({ key: "", clientId: "" });
  useEffect(() => setSystem(rememberedSystem()), []);
  const isKnown = systems.some((row) => row.system === system);

  const enter = async (kind: LogChoice) => {
    if (busy !== "") return;
    setBusy(kind.id);
    const key = `${kind.id}/${system}`;
    if (pending.current.key !== key) pending.current = { key, clientId: newClientId() };
    const answer = await send<LogAnswer>("/log-entries", {
      clientId: pending.current.clientId,
      kind: kind.id,
      systems: [system],
      at: Date.now(),
      text: "",
      ...(kind.lasts ? { open: true } : {}),
    });
    setBusy("");
    setSent(answer);
    if (!answer.ok && answer.why === "offline") return;
    pending.current = { key: "", clientId: "" };
    if (answer.ok) onDone(answer.value);
  };

  return (
    <section className={`${css.quick} no-print`} aria-labelledby="quick">
      <h2 id="quick">Quick entry</h2>
      <Field label="System">
        {(links) => (
          <select
            {...links}
            value={isKnown ? system : ""}
            onChange={(event) => {
              setSystem(event.target.value);
              rememberSystem(event.target.value);
            }}
          >
            <option value="">Choose</option>
            {systems.map((row) => (
              <option key={row.system} value={row.system}>
                {row.name}
              </option>
            ))}
          </select>
        )}
      </Field>
      <div className={css.quickRow}>
        {QUICK.map((id) => {
          const kind = kinds.find((row) => row.id === id);
          return (
            kind !== undefined && (
              <Button key={id} disabled={!isKnown} busy={busy === id} onClick={() => void enter(kind)}>
                {kind.label}
                {kind.lasts ? " started" : " done"}
              </Button>
            )
          );
        })}
      </div>
      {sent !== null && !sent.ok && (
        <p className={css.wrong} role="alert">
          {sent.says}
        </p>
      )}
    </section>
  );
}
