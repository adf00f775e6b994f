"use client";

import { type ReactNode, useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog } from "#app/_components/controls/form-dialog.tsx";
import { instantOfWall, wallText } from "#app/_components/controls/wall-input.ts";
import type { Change } from "#app/_components/words/change.ts";
import { changeOf, whoWords } from "#app/_components/words/habitat-words.ts";
import type { HabitatAnswer, ResidentsView, StayView } from "#contract/habitat.ts";
import { STAGES } from "#core/habitat/profile.ts";
import { Moment, ReasonField } from "../dated-fields.tsx";

interface Shared {
  readonly view: ResidentsView;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}
type Wrong = (field: string) => string;

function StageField({
  value,
  wrong,
  onChange,
}: {
  readonly value: string;
  readonly wrong: string;
  readonly onChange: (value: string) => void;
}) {
  return (
    <Field label="Life stage" wrong={wrong}>
      {(links) => (
        <select {...links} value={value} onChange={(e) => onChange(e.target.value)}>
          {STAGES.map((stage) => (
            <option key={stage}>{stage}</option>
          ))}
        </select>
      )}
    </Field>
  );
}
function CountField({
  value,
  wrong,
  hint = "",
  onChange,
}: {
  readonly value: string;
  readonly wrong: string;
  readonly hint?: string;
  readonly onChange: (value: string) => void;
}) {
  return (
    <Field label="How many" hint={hint} wrong={wrong}>
      {(links) => (
        <input {...links} inputMode="numeric" value={value} onChange={(e) => onChange(e.target.value)} />
      )}
    </Field>
  );
}
/** Kilograms of all of them; empty: not known. */
function MassField({
  value,
  wrong,
  onChange,
}: {
  readonly value: string;
  readonly wrong: string;
  readonly onChange: (value: string) => void;
}) {
  return (
    <Field
      label="Body mass, kg"
      hint="all of them together, if known: how long oxygen lasts when the water stands"
      wrong={wrong}
    >
      {(links) => (
        <input {...links} inputMode="decimal" value={value} onChange={(e) => onChange(e.target.value)} />
      )}
    </Field>
  );
}
/** Null where nothing is given; NaN where it is no mass. */
const massOf = (text: string): number | null => {
  if (text.trim() === "") return null;
  const mass = Number(text.trim().replace(",", "."));
  return mass > 0 ? mass : Number.NaN;
};
const massWrong = (text: string, asked: boolean): string =>
  asked && Number.isNaN(massOf(text)) ? "a number above 0, or empty" : "";

export function ConfirmField({
  value,
  onChange,
}: {
  readonly value: boolean;
  readonly onChange: (value: boolean) => void;
}) {
  return (
    <label>
      <input type="checkbox" checked={value} onChange={(e) => onChange(e.target.checked)} /> Confirm the new
      action limits, tighter or looser. Otherwise the current ones stay until someone does
    </label>
  );
}
const countOf = (text: string): number | null => (/^[1-9]\d{0,5}$/.test(text.trim()) ? Number(text) : null);
const countWrong = (text: string, asked: boolean): string =>
  asked && countOf(text) === null ? "a whole number, 1 or more" : "";

function useMoment(view: ResidentsView) {
  const [text, setText] = useState(wallText(view.now, view.zone));
  // The minute that stood there when the form was opened means now.
  const isNow = text === wallText(view.now, view.zone);
  return { text, setText, sent: isNow ? {} : { at: instantOfWall(text, view.zone) ?? text } };
}

/** Animals move in from outside. */
export function MoveInForm({ view, onClose, onDone }: Shared) {
  const [species, setSpecies] = useState("");
  const [stage, setStage] = useState("adult");
  const [count, setCount] = useState("1");
  const [name, setName] = useState("");
  const [population, setPopulation] = useState("");
  const [sex, setSex] = useState("");
  const [mass, setMass] = useState("");
  const [confirm, setConfirm] = useState(false);
  const moment = useMoment(view);
  const text = (label: string, value: string, change: (value: string) => void, wrong: string, hint = "") => (
    <Field label={label} hint={hint} wrong={wrong}>
      {(links) => (
        <input {...links} value={value} autoComplete="off" onChange={(e) => change(e.target.value)} />
      )}
    </Field>
  );
  return (
    <FormDialog<HabitatAnswer>
      title={`Move animals into ${view.name}`}
      path={`/systems/${encodeURIComponent(view.system)}/residents`}
      submit="Move in"
      fields={["species", "stage", "count", "massKg", "name", "at"]}
      body={() =>
        species === "" || countOf(count) === null || Number.isNaN(massOf(mass))
          ? null
          : {
              species,
              stage,
              count: countOf(count),
              massKg: massOf(mass),
              name: name.trim() || null,
              population: population.trim() || null,
              sex: sex || null,
              confirm,
              ...moment.sent,
            }
      }
      onClose={onClose}
      onDone={(answer) => onDone(changeOf("Moved in. The bands are updated.", answer))}
    >
      {(wrong: Wrong, asked: boolean): ReactNode => (
        <>
          <Field
            label="Species"
            hint={
              view.species.length === 0
                ? "none yet: add one from the library under Profiles"
                : "species with a profile (Set-up, Profiles)"
            }
            wrong={(asked && species === "" ? "required" : "") || wrong("species")}
          >
            {(links) => (
              <select {...links} value={species} onChange={(e) => setSpecies(e.target.value)}>
                <option value="">choose one</option>
                {view.species.map((each) => (
                  <option key={each.id} value={each.id}>
                    {each.name}
                  </option>
                ))}
              </select>
            )}
          </Field>
          <StageField value={stage} wrong={wrong("stage")} onChange={setStage} />
          <CountField value={count} wrong={countWrong(count, asked) || wrong("count")} onChange={setCount} />
          <MassField value={mass} wrong={massWrong(mass, asked) || wrong("massKg")} onChange={setMass} />
          {text("Name or tag", name, setName, wrong("name"), "empty for a group")}
          {text(
            "Founder origin",
            population,
            setPopulation,
            wrong("population"),
            "if its profile is by population, e.g. Monterey",
          )}
          <Field label="Sex" wrong={wrong("sex")}>
            {(links) => (
              <select {...links} value={sex} onChange={(e) => setSex(e.target.value)}>
                <option value="">not known, or a group</option>
                <option>female</option>
                <option>male</option>
              </select>
            )}
          </Field>
          <Moment zone={view.zone} value={moment.text} wrong={wrong("at")} onChange={moment.setText} />
          <ConfirmField value={confirm} onChange={setConfirm} />
        </>
      )}
    </FormDialog>
  );
}

/** Animals move to another system, leave or die. */
export function MoveForm({ view, stay, onClose, onDone }: Shared & { readonly stay: StayView }) {
  const [to, setTo] = useState("");
  const [how, setHow] = useState("left");
  const [count, setCount] = useState(String(stay.count));
  const [note, setNote] = useState("");
  const [confirm, setConfirm] = useState(false);
  const moment = useMoment(view);
  return (
    <FormDialog<HabitatAnswer>
      title={`Move ${whoWords(stay)}`}
      path={`/residents/${encodeURIComponent(stay.id)}/move`}
      submit="Save"
      fields={["to", "count", "at"]}
      body={() =>
        countOf(count) === null
          ? null
          : {
              to: to || null,
              how: to === "" ? how : "moved",
              count: countOf(count),
              confirm,
              ...(note.trim() === "" ? {} : { note }),
              ...moment.sent,
            }
      }
      onClose={onClose}
      onDone={(answer) => onDone(changeOf(`${whoWords(stay)}: saved. The bands are updated.`, answer))}
    >
      {(wrong, asked) => (
        <>
          <Field label="Where to" wrong={wrong("to")}>
            {(links) => (
              <select {...links} value={to} onChange={(e) => setTo(e.target.value)}>
                <option value="">out of the collection</option>
                {view.systems.map((each) => (
                  <option key={each.system} value={each.system}>
                    {each.name}
                  </option>
                ))}
              </select>
            )}
          </Field>
          {to === "" && (
            <Field label="How" wrong={wrong("how")}>
              {(links) => (
                <select {...links} value={how} onChange={(e) => setHow(e.target.value)}>
                  <option>left</option>
                  <option>died</option>
                </select>
              )}
            </Field>
          )}
          <CountField
            value={count}
            hint={`of ${stay.count}`}
            wrong={countWrong(count, asked) || wrong("count")}
            onChange={setCount}
          />
          <Moment zone={view.zone} value={moment.text} wrong={wrong("at")} onChange={moment.setText} />
          <Field label="Note" hint="for the logbook">
            {(links) => <textarea {...links} value={note} onChange={(e) => setNote(e.target.value)} />}
          </Field>
          <ConfirmField value={confirm} onChange={setConfirm} />
        </>
      )}
    </FormDialog>
  );
}

/** Animals have reached another life stage. */
export function StageForm({ view, stay, onClose, onDone }: Shared & { readonly stay: StayView }) {
  const [stage, setStage] = useState<string>(stay.stage);
  const [count, setCount] = useState(String(stay.count));
  const [confirm, setConfirm] = useState(false);
  const moment = useMoment(view);
  return (
    <FormDialog<HabitatAnswer>
      title={`Stage of ${whoWords(stay)}`}
      path={`/residents/${encodeURIComponent(stay.id)}/stage`}
      submit="Change the stage"
      fields={["stage", "count", "at"]}
      body={() =>
        countOf(count) === null ? null : { stage, count: countOf(count), confirm, ...moment.sent }
      }
      onClose={onClose}
      onDone={(answer) => onDone(changeOf(`${whoWords(stay)}: now ${stage}. The bands are updated.`, answer))}
    >
      {(wrong, asked) => (
        <>
          <StageField value={stage} wrong={wrong("stage")} onChange={setStage} />
          <CountField
            value={count}
            hint={`of ${stay.count}`}
            wrong={countWrong(count, asked) || wrong("count")}
            onChange={setCount}
          />
          <Moment zone={view.zone} value={moment.text} wrong={wrong("at")} onChange={moment.setText} />
          <ConfirmField value={confirm} onChange={setConfirm} />
        </>
      )}
    </FormDialog>
  );
}

/** What was entered wrongly of a stay is put right. */
export function CorrectForm({ view, stay, onClose, onDone }: Shared & { readonly stay: StayView }) {
  const [name, setName] = useState(stay.name ?? "");
  const [count, setCount] = useState(String(stay.count));
  const [stage, setStage] = useState<string>(stay.stage);
  const [from, setFrom] = useState(wallText(stay.from, view.zone));
  const [mass, setMass] = useState(stay.massKg == null ? "" : String(stay.massKg));
  const [reason, setReason] = useState("");
  return (
    <FormDialog<HabitatAnswer>
      title={`Correct ${whoWords(stay)}`}
      path={`/residents/${encodeURIComponent(stay.id)}/correct`}
      submit="Save the correction"
      fields={["name", "count", "massKg", "stage", "from", "reason"]}
      body={() =>
        countOf(count) === null || Number.isNaN(massOf(mass)) || reason.trim().length < 3
          ? null
          : {
              name: name.trim() || null,
              count: countOf(count),
              ...(massOf(mass) === (stay.massKg ?? null) ? {} : { massKg: massOf(mass) }),
              stage,
              reason,
              ...(from === wallText(stay.from, view.zone)
                ? {}
                : { from: instantOfWall(from, view.zone) ?? from }),
            }
      }
      onClose={onClose}
      onDone={(answer) => onDone(changeOf("Corrected. The earlier entry is in the audit trail.", answer))}
    >
      {(wrong, asked) => (
        <>
          <Field label="Name or tag" wrong={wrong("name")}>
            {(links) => (
              <input {...links} value={name} autoComplete="off" onChange={(e) => setName(e.target.value)} />
            )}
          </Field>
          <CountField value={count} wrong={countWrong(count, asked) || wrong("count")} onChange={setCount} />
          <MassField value={mass} wrong={massWrong(mass, asked) || wrong("massKg")} onChange={setMass} />
          <StageField value={stage} wrong={wrong("stage")} onChange={setStage} />
          <Moment zone={view.zone} value={from} wrong={wrong("from")} label="Here since" onChange={setFrom} />
          <ReasonField value={reason} asked={asked} wrong={wrong("reason")} onChange={setReason} />
        </>
      )}
    </FormDialog>
  );
}
