"use client";

import { useState } from "react";
import type { ChangeAnswer } from "../../../lib/core/wire/set-up-forms.ts";
import { Button } from "../button.tsx";
import { Field } from "../field.tsx";
import { volumeWords } from "../number-words.ts";
import { FormDialog } from "./form-dialog.tsx";
import { CODE_HINT, codeWrong } from "./points-section.tsx";
import css from "./set-up.module.css";
import { NEW_SYSTEM, SystemFields, systemBody } from "./system-fields.tsx";

export interface ListedSystem {
  readonly system: string;
  readonly name: string;
  readonly site: string;
  readonly kind: string;
  readonly volume: number;
  readonly streams: number;
  readonly bands: number;
}

function AddSystem({ sites, onClose }: { readonly sites: readonly string[]; readonly onClose: () => void }) {
  const [typed, setTyped] = useState(NEW_SYSTEM);
  const [code, setCode] = useState("");
  const [site, setSite] = useState(sites[0] ?? "");
  return (
    <FormDialog<ChangeAnswer>
      title="Add a system"
      path="/systems"
      submit="Add the system"
      fields={["site", "code", "name", "kind", "water", "volume", "duty"]}
      body={() => {
        const fields = systemBody(typed);
        return fields === null || codeWrong(code, true) !== "" ? null : { site, code, ...fields };
      }}
      onClose={onClose}
      onDone={() => window.location.assign(`/set-up/systems/${encodeURIComponent(code)}`)}
    >
      {(wrong, asked) => (
        <>
          <div className={css.two}>
            <Field label="Site" wrong={wrong("site")}>
              {(links) => (
                <select {...links} value={site} onChange={(e) => setSite(e.target.value)}>
                  {sites.map((one) => (
                    <option key={one}>{one}</option>
                  ))}
                </select>
              )}
            </Field>
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
          </div>
          <SystemFields typed={typed} onChange={setTyped} wrong={wrong} asked={asked} />
          <p className={css.soft}>
            It begins with a point “display”; points and bands come next. It can be closed again, not taken
            away.
          </p>
        </>
      )}
    </FormDialog>
  );
}

/** Every system, to open what is set up of it, and to add one. */
export function SystemsSetUp({
  systems,
  sites,
  mayAdd,
}: {
  readonly systems: readonly ListedSystem[];
  readonly sites: readonly string[];
  readonly mayAdd: boolean;
}) {
  const [isAdding, setAdding] = useState(false);
  return (
    <section aria-labelledby="systems">
      <div className={css.sectionHead}>
        <h2 id="systems">Systems</h2>
        {mayAdd && sites.length > 0 && <Button onClick={() => setAdding(true)}>Add a system</Button>}
      </div>
      {systems.length === 0 ? (
        <p className={css.soft}>No system is set up yet.</p>
      ) : (
        <ul className={css.systems}>
          {systems.map((s) => (
            <li key={s.system}>
              <a href={`/set-up/systems/${encodeURIComponent(s.system)}`}>{s.name}</a>
              <small>
                {[s.volume > 0 ? volumeWords(s.volume) : "", s.kind].filter((t) => t !== "").join(" · ")}
              </small>
              <small>
                {s.streams} {s.streams === 1 ? "stream" : "streams"}, {s.bands}{" "}
                {s.bands === 1 ? "band" : "bands"}
              </small>
            </li>
          ))}
        </ul>
      )}
      {isAdding && <AddSystem sites={sites} onClose={() => setAdding(false)} />}
    </section>
  );
}
