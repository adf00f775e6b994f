"use client";

import { useRef, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { issueAt, newClientId, type Sent, send } from "#app/_components/live/send.ts";
import type { BenchAnswer } from "#contract/answers.ts";
import type { VoidAnswer } from "#contract/bench-forms.ts";
import { answerWords } from "#core/bench/answer.ts";
import css from "./bench.module.css";
import { type StoredRow, typedWords, type UnitLabel } from "./bench-words.ts";
import own from "./stored.module.css";

const REASONS = {
  correct: ["typing error", "wrong unit", "misread the kit", "tested again"],
  void: ["wrong system or point", "entered twice", "bad sample or kit", "not a real test"],
} as const;
type What = keyof typeof REASONS;

function ChangeForm({
  row,
  what,
  unitName,
  onDone,
  onClose,
}: {
  row: StoredRow;
  what: What;
  unitName: string;
  onDone: (answer: BenchAnswer | VoidAnswer) => void;
  onClose: () => void;
}) {
  const [value, setValue] = useState(`${row.qualifier === "=" ? "" : row.qualifier}${row.typed}`);
  const [choice, setChoice] = useState<string>(REASONS[what][0]);
  const [more, setMore] = useState("");
  const [sent, setSent] = useState<Sent<BenchAnswer | VoidAnswer> | null>(null);
  const [busy, setBusy] = useState(false);
  const clientId = useRef("");
  const submit = async () => {
    if (busy) return;
    setBusy(true);
    clientId.current ||= newClientId();
    const reason = more.trim() === "" ? choice : `${choice}: ${more.trim()}`;
    const answer = await send<BenchAnswer | VoidAnswer>(
      `/bench-results/${encodeURIComponent(row.id)}/${what}`,
      what === "void"
        ? { clientId: clientId.current, reason }
        : { clientId: clientId.current, value, unit: row.unitTyped, reason },
    );
    setBusy(false);
    setSent(answer);
    // What was refused was not stored: the next try is another one.
    if (!answer.ok && answer.why === "refused") clientId.current = "";
    if (answer.ok) onDone(answer.value);
  };
  const wrongValue = issueAt(sent, "value") || issueAt(sent, "results.0.value");
  return (
    <form
      className={own.change}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      {what === "correct" && (
        <Field label={`${row.label}, correct value`} hint={unitName} wrong={wrongValue}>
          {(links) => (
            <input
              {...links}
              value={value}
              inputMode="decimal"
              autoComplete="off"
              maxLength={40}
              onChange={(event) => setValue(event.target.value)}
            />
          )}
        </Field>
      )}
      <Field label="Reason">
        {(links) => (
          <select {...links} value={choice} onChange={(event) => setChoice(event.target.value)}>
            {REASONS[what].map((reason) => (
              <option key={reason}>{reason}</option>
            ))}
          </select>
        )}
      </Field>
      <Field label="Details" hint="Optional" wrong={issueAt(sent, "reason")}>
        {(links) => (
          <input
            {...links}
            value={more}
            autoComplete="off"
            maxLength={400}
            onChange={(event) => setMore(event.target.value)}
          />
        )}
      </Field>
      {sent !== null && !sent.ok && wrongValue === "" && (
        <p className={css.wrong} role="alert">
          {sent.says}
        </p>
      )}
      <p className={css.buttons}>
        <Button kind="main" type="submit" busy={busy}>
          {busy ? "Sending ..." : what === "correct" ? "Save the correction" : "Mark as a mistake"}
        </Button>
        <Button onClick={onClose}>Cancel</Button>
      </p>
    </form>
  );
}

type Past =
  | { readonly kind: "corrected"; readonly row: StoredRow; readonly by: string; readonly reason: string }
  | { readonly kind: "void"; readonly row: StoredRow; readonly by: string; readonly reason: string };

/** A stored result; what it was before stays visible, struck through, with who changed it and why. */
export function StoredResult({
  first,
  aside,
  label,
  onChanged,
}: {
  first: StoredRow;
  /** Beside it: when it was sampled, or how it stands. */
  aside?: React.ReactNode;
  label: UnitLabel;
  onChanged?: (change: { readonly old: string; readonly next: StoredRow | null }) => void;
}) {
  const [row, setRow] = useState<StoredRow | null>(first);
  const [past, setPast] = useState<readonly Past[]>([]);
  const [what, setWhat] = useState<What | null>(null);
  const done = (answer: BenchAnswer | VoidAnswer) => {
    if (row === null) return;
    setWhat(null);
    if ("results" in answer) {
      const next = answer.results[0] ?? null;
      setPast([...past, { kind: "corrected", row, by: answer.analyst, reason: next?.reason ?? "" }]);
      setRow(next);
      onChanged?.({ old: row.id, next });
    } else {
      setPast([...past, { kind: "void", row, by: answer.by, reason: answer.reason }]);
      setRow(null);
      onChanged?.({ old: row.id, next: null });
    }
  };
  return (
    <li className={own.result} data-result={row?.id ?? "void"} data-quantity={first.quantity}>
      <p>
        <b>{first.label}</b>{" "}
        {past.map((old) => (
          <span key={old.row.id} className={own.old}>
            <del>{typedWords(old.row, label)}</del>{" "}
            <small>
              {old.kind === "void" ? "entered by mistake" : "corrected"} by {old.by}: {old.reason}
            </small>{" "}
          </span>
        ))}
        {row !== null && <span className={own.value}>{typedWords(row, label)}</span>}
        {row !== null && row.method !== null && <small> {row.method}</small>}{" "}
        {row !== null && row.answer !== null && (
          <small className={own.flagged}>{answerWords(row.answer, row.asked)}</small>
        )}{" "}
        {aside}
      </p>
      {row !== null && what === null && (
        <p className={css.buttons}>
          <Button kind="bare" onClick={() => setWhat("correct")}>
            correct<span className="unseen"> {first.label}</span>
          </Button>
          <Button kind="bare" onClick={() => setWhat("void")}>
            entered by mistake<span className="unseen"> {first.label}</span>
          </Button>
        </p>
      )}
      {row !== null && what !== null && (
        <ChangeForm
          key={what}
          row={row}
          what={what}
          unitName={row.unitTyped === row.unit ? row.unitLabel : label(row.unitTyped)}
          onDone={done}
          onClose={() => setWhat(null)}
        />
      )}
    </li>
  );
}
