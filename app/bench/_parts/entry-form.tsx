"use client";

import { type RefObject, useCallback, useEffect, useRef, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import type { BenchFormView, FieldHere } from "#contract/bench-form-view.ts";
import type { BenchWaterView } from "#contract/bench-water.ts";
import type { Answer } from "#core/bench/answer.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import { AddField } from "./add-field.tsx";
import css from "./bench.module.css";
import { many } from "./bench-words.ts";
import { ComputedLine } from "./computed-line.tsx";
import type { Waiting } from "./device-store.ts";
import { type Examined, examine, hasText, requestOf, type Typed } from "./draft.ts";
import { FieldRow } from "./field-row.tsx";
import { rowsAt } from "./here-now.ts";
import { keepLastSystem } from "./last-systems.ts";
import { Later } from "./later.tsx";
import { afterKey, type PadKey } from "./pad-keys.ts";
import { loadAll, loadPad } from "./parts-later.ts";
import type { DraftHold } from "./use-draft.ts";
import { useFields } from "./use-fields.ts";
import { usePad } from "./use-pad.ts";
import type { Queue } from "./use-queue.ts";
import { keepWay, readWays, type Way } from "./ways.ts";

/** A second press so soon is the same press: questions that have just come must be seen. */
const SAME_PRESS_MS = 700;
/** Then the page is quiet, and the rest of it comes while there is a network. */
const QUIET_MS = 400;

export interface EntryFormProps {
  readonly view: BenchFormView;
  readonly here: readonly FieldHere[];
  readonly quantities: readonly { readonly quantity: string; readonly label: string }[];
  readonly hold: DraftHold;
  readonly water: BenchWaterView;
  readonly ammoniaBand: BandEdges | null;
  readonly now: number;
  readonly clock: () => number;
  /** A quantity that wants the focus. */
  readonly goTo: RefObject<string | null>;
  readonly queue: Queue;
  readonly onSaved: (saved: Waiting) => void;
}

/** The fields, the pad and the one button. */
export function EntryForm(props: EntryFormProps) {
  const { view, here, quantities, hold, water, ammoniaBand, now, clock, goTo, queue, onSaved } = props;
  const { draft } = hold;
  const { fields, isAway } = useFields([
    ...draft.added,
    ...Object.keys(draft.typed).filter((q) => !here.some((row) => row.field.quantity === q)),
  ]);
  const rows = rowsAt(here, draft, fields);
  const pad = usePad();
  const [ways, setWays] = useState<Readonly<Record<string, Way>>>({});
  /** What each field held when it was checked. */
  const [checked, setChecked] = useState<Readonly<Record<string, string>>>({});
  const [active, setActive] = useState<string | null>(null);
  const [refused, setRefused] = useState<Readonly<Record<string, string>>>({});
  const [says, setSays] = useState("");
  const [isSaving, setSaving] = useState(false);
  const inputs = useRef(new Map<string, HTMLInputElement>());
  const saving = useRef(false);
  // Nothing was asked yet: the clock begins with the page, and a save in its first moments is no second press.
  const askedAt = useRef(Number.NEGATIVE_INFINITY);
  const note = useRef<HTMLTextAreaElement>(null);
  const button = useRef<HTMLButtonElement>(null);

  useEffect(() => {
    setWays(readWays());
    const timer = setTimeout(() => void loadAll(), QUIET_MS);
    return () => clearTimeout(timer);
  }, []);
  useEffect(() => {
    // A field that was just added comes a moment later.
    const input = goTo.current === null ? undefined : inputs.current.get(goTo.current);
    if (!input) return;
    goTo.current = null;
    input.focus();
  });

  const typedOf = (quantity: string): Typed =>
    draft.typed[quantity] ?? { text: "", unit: "", method: "", answer: null, ...ways[quantity] };
  const examined = new Map<string, Examined>(
    rows.map((row) => [row.field.quantity, examine(row, typedOf(row.field.quantity))]),
  );
  const held = (quantity: string) => `${typedOf(quantity).text} ${typedOf(quantity).unit}`;
  const isChecked = (quantity: string) => checked[quantity] === held(quantity);
  const type = (quantity: string, change: Partial<Typed>) => {
    // What is on its way is not changed under it.
    if (saving.current) return;
    setRefused((known) => ({ ...known, [quantity]: "" }));
    hold.type(quantity, { ...typedOf(quantity), ...change });
  };
  const check = useCallback((quantity: string, text: string) => {
    setChecked((known) => ({ ...known, [quantity]: text }));
  }, []);
  /** Asked, and neither answered nor passed over. */
  const isOpen = (quantity: string): boolean => {
    const found = examined.get(quantity);
    return found?.kind === "read" && found.asked !== null && typedOf(quantity).answer === null;
  };

  const step = (quantity: string, way: 1 | -1) => {
    const found = examined.get(quantity);
    const isNew = !isChecked(quantity) && found?.kind !== "empty";
    check(quantity, held(quantity));
    // The first step shows what is odd; the second one passes it over, and that is kept too.
    if (isNew && (isOpen(quantity) || found?.kind === "fault")) return;
    if (isOpen(quantity)) type(quantity, { answer: "unanswered" });
    const place = rows.findIndex((row) => row.field.quantity === quantity);
    const next = rows[place + way];
    if (next) inputs.current.get(next.field.quantity)?.focus();
    else if (way > 0) button.current?.focus();
  };
  const answer = (quantity: string, said: Answer | "change" | null) => {
    const input = inputs.current.get(quantity);
    if (said !== "change") type(quantity, { answer: said });
    input?.focus();
    if (said === "change") input?.select();
  };
  const press = (key: PadKey) => {
    // Where the cursor really is comes first: a field may have been entered before the page woke.
    const entered = [...inputs.current].find(([, input]) => input === document.activeElement)?.[0];
    const quantity = entered ?? active ?? rows[0]?.field.quantity;
    const input = quantity === undefined ? undefined : inputs.current.get(quantity);
    if (quantity === undefined || !input) return;
    if (document.activeElement !== input) input.focus();
    const { text } = typedOf(quantity);
    const isSelected = text !== "" && input.selectionStart === 0 && input.selectionEnd === text.length;
    type(quantity, { text: afterKey(isSelected && key !== "±" ? "" : text, key), answer: null });
  };

  const focusOn = (quantity: string | undefined) => {
    if (quantity !== undefined) inputs.current.get(quantity)?.focus();
  };
  /** False, with the reason said and shown, where there is something to look at first. */
  const mayBeSaved = (): boolean => {
    const names = (wanted: readonly string[]) =>
      rows
        .filter((row) => wanted.includes(row.field.quantity))
        .map((row) => row.field.label)
        .join(", ");
    const filled = rows.map((row) => row.field.quantity).filter((q) => examined.get(q)?.kind !== "empty");
    if (filled.length === 0) {
      setSays("Nothing typed yet: type at least one result.");
      return false;
    }
    const unseen = filled.filter((q) => isOpen(q) && !isChecked(q));
    setChecked(Object.fromEntries(filled.map((q) => [q, held(q)])));
    const faults = filled.filter((q) => examined.get(q)?.kind === "fault");
    if (faults.length > 0) {
      setSays(
        `Not saved: ${names(faults)} cannot be read. Correct or clear ${faults.length === 1 ? "it" : "them"}.`,
      );
      focusOn(faults[0]);
      return false;
    }
    if (unseen.length > 0) {
      askedAt.current = performance.now();
      setSays(
        `Not saved yet: there is a question about ${names(unseen)}. Answer it, or save again to leave it unanswered.`,
      );
      focusOn(unseen[0]);
      return false;
    }
    return true;
  };
  const save = async () => {
    if (saving.current || performance.now() - askedAt.current < SAME_PRESS_MS || !mayBeSaved()) return;
    saving.current = true;
    setSaving(true);
    setSays("");
    const body = requestOf(draft, rows, clock());
    const one: Waiting = {
      clientId: draft.clientId,
      by: draft.by,
      systemName: view.name,
      zone: view.zone,
      body,
      draft,
      savedAt: clock(),
      refused: null,
    };
    try {
      const sent = await queue.save(one);
      for (const { quantity } of body.results) {
        const { unit, method } = typedOf(quantity);
        keepWay(quantity, { unit, method });
      }
      keepLastSystem(view.system);
      if (sent.kind !== "refused") onSaved(one);
      else {
        await queue.reopen(one);
        hold.putBack(draft);
        const at = sent.issues.flatMap(({ field, says: what, remedy }) => {
          const quantity = body.results[Number(/^results\.(\d+)\./.exec(field)?.[1])]?.quantity;
          return quantity === undefined ? [] : [[quantity, `${what}: ${remedy}`] as const];
        });
        setRefused(Object.fromEntries(at));
        setSays(`Not stored: ${sent.says}`);
        focusOn(at[0]?.[0]);
      }
    } catch (failed) {
      console.error("The test could not be kept on this device", failed);
      setSays(
        "This device could not save the test; it is still in the form. Free some space or try another device.",
      );
    } finally {
      saving.current = false;
      setSaving(false);
    }
  };

  const filled = rows.filter((row) => examined.get(row.field.quantity)?.kind !== "empty").length;
  const questions = rows.filter((row) => isOpen(row.field.quantity)).length;
  const inHand = rows.find((row) => row.field.quantity === active) ?? rows[0];
  return (
    <form
      className={css.form}
      data-pad={pad.hasPad}
      data-woken={hold.isReady}
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      {rows.length === 0 && <p>No usual tests here. Choose below what you tested.</p>}
      <ul className={css.fields}>
        {rows.map((row) => {
          const { quantity } = row.field;
          const typed = typedOf(quantity);
          return (
            <FieldRow
              key={quantity}
              row={row}
              typed={typed}
              examined={examined.get(quantity) ?? { kind: "empty" }}
              refused={refused[quantity] ?? ""}
              isActive={inHand === row}
              isChecked={isChecked(quantity)}
              hasPad={pad.hasPad}
              isSaving={isSaving}
              now={now}
              zone={view.zone}
              hold={(input) => {
                if (input) inputs.current.set(quantity, input);
                else inputs.current.delete(quantity);
              }}
              onType={(change) => type(quantity, change)}
              onCheck={() => check(quantity, held(quantity))}
              onFocus={() => setActive(quantity)}
              onStep={(way) => step(quantity, way)}
              onAnswer={(said) => answer(quantity, said)}
              onMethod={(method) => type(quantity, { method })}
              onUnit={(unit) => type(quantity, { unit, answer: null })}
            >
              <ComputedLine
                quantity={quantity}
                examined={examined}
                water={water}
                band={ammoniaBand}
                sampledAt={draft.sampledAt ?? now}
                now={now}
                zone={view.zone}
              />
            </FieldRow>
          );
        })}
      </ul>
      <AddField
        quantities={quantities.filter((one) => !rows.some((row) => row.field.quantity === one.quantity))}
        onAdd={(quantity) => {
          goTo.current = quantity;
          hold.set({ added: [...draft.added, quantity] });
        }}
      />
      {isAway && <p className={css.wrong}>That cannot be added without a connection.</p>}
      <div className={css.note}>
        <label htmlFor="bench-note">Note</label>
        <textarea
          id="bench-note"
          ref={note}
          maxLength={2_000}
          value={draft.note}
          readOnly={isSaving}
          onChange={(event) => hold.set({ note: event.target.value })}
        />
      </div>
      <div className={css.save}>
        <p role="alert" className={css.wrong}>
          {says}
        </p>
        <p className={css.buttons}>
          <Button ref={button} kind="main" type="submit" busy={isSaving}>
            {isSaving ? "Saving ..." : `Save ${filled === 0 ? "the test" : many(filled, "result")}`}
          </Button>
          {hasText(draft) && <Button onClick={hold.clear}>Clear the form</Button>}
          {pad.isTouched && (
            <Button kind="bare" onClick={() => pad.choose(!pad.hasPad)}>
              {pad.hasPad ? "Use this device’s keyboard" : "Use the number pad"}
            </Button>
          )}
          {questions > 0 && (
            <span className={css.soft}>
              {many(questions, "question")} not answered yet; you can still save
            </span>
          )}
        </p>
      </div>
      {pad.hasPad && rows.length > 0 && (
        <Later load={loadPad}>
          {({ NumberPad }) => (
            <NumberPad
              signed={inHand !== undefined && inHand.field.sensor[0] < 0}
              onKey={press}
              onNote={() => note.current?.focus()}
              onNext={() => inHand && step(inHand.field.quantity, 1)}
            />
          )}
        </Later>
      )}
    </form>
  );
}
