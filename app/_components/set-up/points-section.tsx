"use client";

import { useState } from "react";
import type { ChangeAnswer, SystemSetUpView } from "../../../lib/core/wire/set-up-forms.ts";
import { Button } from "../button.tsx";
import { Field } from "../field.tsx";
import { pointWords } from "../stream-words.ts";
import type { Change } from "./change-note.tsx";
import { FormDialog } from "./form-dialog.tsx";
import css from "./set-up.module.css";

export const CODE = /^[a-z0-9]+(-[a-z0-9]+)*$/;
export const CODE_HINT =
  "Small letters, digits and single dashes, as in kelp-gallery; it stands in topics and stays";
export const codeWrong = (code: string, asked: boolean): string =>
  asked && (code.length < 2 || code.length > 40 || !CODE.test(code))
    ? "small letters, digits and single dashes, 2 to 40"
    : "";

function AddPoint({
  setUp,
  onClose,
  onDone,
}: {
  readonly setUp: SystemSetUpView;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const [code, setCode] = useState("");
  const [twin, setTwin] = useState("");
  return (
    <FormDialog<ChangeAnswer>
      title="Add a point"
      path={`/systems/${encodeURIComponent(setUp.system)}/points`}
      submit="Add the point"
      fields={["code", "twinOf"]}
      body={() => (codeWrong(code, true) !== "" ? null : { code, twinOf: twin === "" ? null : twin })}
      onClose={onClose}
      onDone={(answer) => onDone({ says: `Point ${pointWords(code)} added.`, answer })}
    >
      {(wrong, asked) => (
        <>
          <p className={css.soft}>
            A point cannot be taken away again once readings name it; one without readings does no harm.
          </p>
          <Field label="Short name" hint={CODE_HINT} wrong={codeWrong(code, asked) || wrong("code")}>
            {(links) => (
              <input
                {...links}
                value={code}
                autoCapitalize="none"
                autoComplete="off"
                onChange={(e) => setCode(e.target.value.trim())}
              />
            )}
          </Field>
          <Field
            label="Second probe of"
            hint="Where two probes measure the same water"
            wrong={wrong("twinOf")}
          >
            {(links) => (
              <select {...links} value={twin} onChange={(e) => setTwin(e.target.value)}>
                <option value="">no other point</option>
                {setUp.points.map((p) => (
                  <option key={p.id} value={p.code}>
                    {pointWords(p.code)}
                  </option>
                ))}
              </select>
            )}
          </Field>
        </>
      )}
    </FormDialog>
  );
}

/** Places in a system where water is measured. */
export function PointsSection({
  setUp,
  may,
  onChange,
}: {
  readonly setUp: SystemSetUpView;
  readonly may: boolean;
  readonly onChange: (change: Change) => void;
}) {
  const [isAdding, setAdding] = useState(false);
  const streams = (point: string) => setUp.streams.filter((s) => s.point === point).length;
  return (
    <section aria-labelledby="points">
      <div className={css.sectionHead}>
        <h2 id="points">Points</h2>
        {may && <Button onClick={() => setAdding(true)}>Add a point</Button>}
      </div>
      <ul className={css.points}>
        {setUp.points.map((p) => (
          <li key={p.id}>
            <b>{pointWords(p.code)}</b>
            <small>
              {p.twinOf !== null && ` second probe of ${pointWords(p.twinOf)} ·`} {streams(p.code)}{" "}
              {streams(p.code) === 1 ? "stream" : "streams"}
            </small>
          </li>
        ))}
      </ul>
      {isAdding && (
        <AddPoint
          setUp={setUp}
          onClose={() => setAdding(false)}
          onDone={(change) => {
            setAdding(false);
            onChange(change);
          }}
        />
      )}
    </section>
  );
}
