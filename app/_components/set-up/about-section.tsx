"use client";

import { useState } from "react";
import type { ChangeAnswer, SystemSetUpView } from "../../../lib/core/wire/set-up-forms.ts";
import { Button } from "../button.tsx";
import { Field } from "../field.tsx";
import { clockOf } from "../time-words.ts";
import type { Change } from "./change-note.tsx";
import { FormDialog, needed } from "./form-dialog.tsx";
import css from "./set-up.module.css";
import { SystemFields, systemBody, type TypedSystem } from "./system-fields.tsx";

function EditSystem({
  setUp,
  onClose,
  onDone,
}: {
  readonly setUp: SystemSetUpView;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const [typed, setTyped] = useState<TypedSystem>({
    name: setUp.name,
    kind: setUp.kind,
    water: setUp.water,
    volume: String(setUp.volume),
    duty: setUp.duty === null ? "" : String(setUp.duty),
    youngFilter: setUp.youngFilter,
  });
  const [isClosed, setClosed] = useState(setUp.closed !== null);
  const [reason, setReason] = useState("");
  const closing = (): object => {
    if (isClosed === (setUp.closed !== null)) return {};
    return { closed: isClosed ? new Date().toISOString() : null };
  };
  const body = () => {
    const fields = systemBody(typed);
    return fields === null || reason.trim().length < 3
      ? null
      : { ...fields, ...closing(), reason: reason.trim() };
  };
  return (
    <FormDialog<ChangeAnswer>
      title={`Change ${setUp.name}`}
      path={`/systems/${encodeURIComponent(setUp.system)}`}
      submit="Save"
      fields={["name", "kind", "water", "volume", "duty", "closed", "reason"]}
      body={body}
      onClose={onClose}
      onDone={(answer) => onDone({ says: `${typed.name} saved.`, answer })}
    >
      {(wrong, asked) => (
        <>
          <SystemFields typed={typed} onChange={setTyped} wrong={wrong} asked={asked} />
          <label className={css.check}>
            <input type="checkbox" checked={isClosed} onChange={(e) => setClosed(e.target.checked)} />
            <span>Closed: it leaves the lists, its readings stay</span>
          </label>
          <Field label="Reason" wrong={needed(reason, asked) || wrong("reason")}>
            {(links) => (
              <textarea
                {...links}
                value={reason}
                maxLength={500}
                onChange={(e) => setReason(e.target.value)}
              />
            )}
          </Field>
        </>
      )}
    </FormDialog>
  );
}

/** What the system is. */
export function AboutSection({
  setUp,
  may,
  onChange,
}: {
  readonly setUp: SystemSetUpView;
  readonly may: boolean;
  readonly onChange: (change: Change) => void;
}) {
  const [isEditing, setEditing] = useState(false);
  const clock = clockOf(setUp.zone);
  const facts: readonly (readonly [string, string])[] = [
    ["short name", setUp.system],
    ["site", `${setUp.siteName}, ${setUp.zone}`],
    ["kind", `${setUp.kind}, ${setUp.water} water`],
    ["volume", `${setUp.volume} m³`],
    ["duty flow", setUp.duty === null ? "not known" : `${setUp.duty} m³/h`],
    ["ammonia test counts for", setUp.youngFilter ? "24 hours" : "7 days"],
    ["loops", setUp.loops.map((loop) => loop.name).join(", ") || "none"],
    ["open since", `${clock.day(setUp.opened)} ${clock.year(setUp.opened)}`],
  ];
  return (
    <section aria-labelledby="about">
      <div className={css.sectionHead}>
        <h2 id="about">System</h2>
        {may && <Button onClick={() => setEditing(true)}>Change</Button>}
      </div>
      <dl className={css.facts}>
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
        {setUp.closed !== null && (
          <div>
            <dt>closed</dt>
            <dd>{clock.full(setUp.closed)}</dd>
          </div>
        )}
      </dl>
      {isEditing && (
        <EditSystem
          setUp={setUp}
          onClose={() => setEditing(false)}
          onDone={(change) => {
            setEditing(false);
            onChange(change);
          }}
        />
      )}
    </section>
  );
}
