"use client";

import { useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog, needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { numberOf } from "#app/_components/controls/typed-number.ts";
import { instantOfWall, wallText } from "#app/_components/controls/wall-input.ts";
import type { Change } from "#app/_components/words/change.ts";
import { changeOf, whoWords } from "#app/_components/words/habitat-words.ts";
import type { HabitatAnswer, ResidentsView, WatchView } from "#contract/habitat.ts";
import { Moment } from "../dated-fields.tsx";
import { ConfirmField } from "./resident-forms.tsx";

interface Shared {
  readonly view: ResidentsView;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}
const noon = (day: string, zone: string): number | null => instantOfWall(`${day}T12:00`, zone);

function DayField({
  label,
  hint,
  value,
  wrong,
  onChange,
}: {
  readonly label: string;
  readonly hint: string;
  readonly value: string;
  readonly wrong: string;
  readonly onChange: (value: string) => void;
}) {
  return (
    <Field label={label} hint={hint} wrong={wrong}>
      {(links) => <input {...links} type="date" value={value} onChange={(e) => onChange(e.target.value)} />}
    </Field>
  );
}
function NumberField({
  label,
  hint = "",
  value,
  wrong,
  onChange,
}: {
  readonly label: string;
  readonly hint?: string;
  readonly value: string;
  readonly wrong: string;
  readonly onChange: (value: string) => void;
}) {
  return (
    <Field label={label} hint={hint} wrong={wrong}>
      {(links) => (
        <input {...links} inputMode="decimal" value={value} onChange={(e) => onChange(e.target.value)} />
      )}
    </Field>
  );
}

/** Opens a breeding watch; an empty day means that it is not known, and leaves that edge of the window open. */
export function WatchForm({ view, onClose, onDone }: Shared) {
  const [animal, setAnimal] = useState(view.residents[0]?.animal ?? "");
  const [kind, setKind] = useState("gestation");
  const [first, setFirst] = useState("");
  const [last, setLast] = useState("");
  const [delay, setDelay] = useState("");
  const [typed, setTyped] = useState({ shortestDays: "", longestDays: "", source: "" });
  return (
    <FormDialog<HabitatAnswer>
      title="Open a breeding watch"
      path={`/systems/${encodeURIComponent(view.system)}/breeding-watches`}
      submit="Open the watch"
      fields={["animal", "first", "last", "shortestDays", "longestDays", "source"]}
      body={() => {
        const shortestDays = numberOf(typed.shortestDays);
        const longestDays = numberOf(typed.longestDays);
        if (animal === "" || shortestDays === undefined || longestDays === undefined) return null;
        return {
          animal,
          kind,
          first: first === "" ? null : noon(first, view.zone),
          last: last === "" ? null : noon(last, view.zone),
          ...(delay === "" ? {} : { mayDelay: delay === "yes" }),
          ...(shortestDays === null ? {} : { shortestDays }),
          ...(longestDays === null ? {} : { longestDays }),
          ...(typed.source.trim() === "" ? {} : { source: typed.source }),
        };
      }}
      onClose={onClose}
      onDone={(answer) => onDone(changeOf("Breeding watch opened.", answer))}
    >
      {(wrong) => (
        <>
          <Field label="Animal" wrong={wrong("animal")}>
            {(links) => (
              <select {...links} value={animal} onChange={(e) => setAnimal(e.target.value)}>
                {view.residents.map((stay) => (
                  <option key={stay.id} value={stay.animal}>
                    {whoWords(stay)}
                  </option>
                ))}
              </select>
            )}
          </Field>
          <Field label="Expected">
            {(links) => (
              <select {...links} value={kind} onChange={(e) => setKind(e.target.value)}>
                <option value="gestation">birth (gestation)</option>
                <option value="incubation">hatching (incubation)</option>
              </select>
            )}
          </Field>
          <div className={css.two}>
            <DayField
              label={kind === "gestation" ? "First day with a male" : "First day of laying"}
              hint="empty: not known"
              value={first}
              wrong={wrong("first")}
              onChange={setFirst}
            />
            <DayField
              label={kind === "gestation" ? "Last day with a male" : "Last day of laying"}
              hint="empty: not known"
              value={last}
              wrong={wrong("last")}
              onChange={setLast}
            />
          </div>
          <Field label="Sperm storage or delayed development" hint="if possible, the latest date stays open">
            {(links) => (
              <select {...links} value={delay} onChange={(e) => setDelay(e.target.value)}>
                <option value="">as recorded for the species</option>
                <option value="yes">possible</option>
                <option value="no">not possible</option>
              </select>
            )}
          </Field>
          <div className={css.two}>
            <NumberField
              label="Shortest, days"
              hint="empty: the value for the species, with its source"
              value={typed.shortestDays}
              wrong={wrong("shortestDays")}
              onChange={(shortestDays) => setTyped({ ...typed, shortestDays })}
            />
            <NumberField
              label="Longest, days"
              value={typed.longestDays}
              wrong={wrong("longestDays")}
              onChange={(longestDays) => setTyped({ ...typed, longestDays })}
            />
          </div>
          <Field label="Source of these numbers" wrong={wrong("source")}>
            {(links) => (
              <input
                {...links}
                value={typed.source}
                onChange={(e) => setTyped({ ...typed, source: e.target.value })}
              />
            )}
          </Field>
        </>
      )}
    </FormDialog>
  );
}

const KINDS = {
  ultrasound: "ultrasound",
  laying: "eggs laid",
  "pup pool": "pup pool",
  narrowed: "narrower window, on my judgement",
  outcome: "how it ended",
} as const;
type Kind = keyof typeof KINDS;

/** What was seen in a watch. */
export function WatchEventForm({ view, watch, onClose, onDone }: Shared & { readonly watch: WatchView }) {
  const [kind, setKind] = useState<Kind>("ultrasound");
  const [when, setWhen] = useState(wallText(view.now, view.zone));
  const [count, setCount] = useState("");
  const [size, setSize] = useState("");
  const [outcome, setOutcome] = useState("not pregnant");
  const [pool, setPool] = useState(watch.pool?.system ?? "");
  const [earliest, setEarliest] = useState("");
  const [latest, setLatest] = useState("");
  const [note, setNote] = useState("");
  const body = () => {
    const at = when === wallText(view.now, view.zone) ? {} : { at: instantOfWall(when, view.zone) ?? when };
    const said = note.trim() === "" ? {} : { note };
    const counted = numberOf(count);
    const sizeCm = numberOf(size);
    if (counted === undefined || sizeCm === undefined) return null;
    if (kind === "ultrasound") return { kind, embryos: counted, sizeCm, ...said, ...at };
    if (kind === "laying") return { kind, eggs: counted, ...said, ...at };
    if (kind === "pup pool") return pool === "" ? null : { kind, system: pool, ...said, ...at };
    if (kind === "outcome") return { kind, outcome, ...said, ...at };
    if (earliest === "" || latest === "" || note.trim().length < 3) return null;
    return { kind, earliest: noon(earliest, view.zone), latest: noon(latest, view.zone), reason: note };
  };
  return (
    <FormDialog<HabitatAnswer>
      title={`Breeding watch: ${watch.who}`}
      path={`/breeding-watches/${encodeURIComponent(watch.id)}/events`}
      submit="Save"
      fields={["at", "embryos", "eggs", "sizeCm", "system", "earliest", "latest", "reason"]}
      body={body}
      onClose={onClose}
      onDone={(answer) => onDone(changeOf("Saved.", answer))}
    >
      {(wrong, asked) => (
        <>
          <Field label="Event">
            {(links) => (
              <select {...links} value={kind} onChange={(e) => setKind(e.target.value as Kind)}>
                {Object.entries(KINDS).map(([id, label]) => (
                  <option key={id} value={id}>
                    {label}
                  </option>
                ))}
              </select>
            )}
          </Field>
          {kind === "ultrasound" && (
            <div className={css.two}>
              <NumberField
                label="Embryos"
                hint="empty: not counted"
                value={count}
                wrong={wrong("embryos")}
                onChange={setCount}
              />
              <NumberField label="Size, cm" value={size} wrong={wrong("sizeCm")} onChange={setSize} />
            </div>
          )}
          {kind === "laying" && (
            <NumberField
              label="Eggs"
              hint="empty: not counted"
              value={count}
              wrong={wrong("eggs")}
              onChange={setCount}
            />
          )}
          {kind === "pup pool" && (
            <Field
              label="Pup pool"
              hint="the watch then shows whether it is cycled and at temperature"
              wrong={(asked && pool === "" ? "required" : "") || wrong("system")}
            >
              {(links) => (
                <select {...links} value={pool} onChange={(e) => setPool(e.target.value)}>
                  <option value="">choose one</option>
                  {[...view.systems, { system: view.system, name: view.name }].map(({ system, name }) => (
                    <option key={system} value={system}>
                      {name}
                    </option>
                  ))}
                </select>
              )}
            </Field>
          )}
          {kind === "narrowed" && (
            <div className={css.two}>
              <DayField
                label="Earliest"
                hint="the computed window stays on record"
                value={earliest}
                wrong={(asked && earliest === "" ? "required" : "") || wrong("earliest")}
                onChange={setEarliest}
              />
              <DayField
                label="Latest"
                hint=""
                value={latest}
                wrong={(asked && latest === "" ? "required" : "") || wrong("latest")}
                onChange={setLatest}
              />
            </div>
          )}
          {kind === "outcome" && (
            <Field label="How it ended" hint="for a birth use “Record a birth”: it also adds the young">
              {(links) => (
                <select {...links} value={outcome} onChange={(e) => setOutcome(e.target.value)}>
                  {["aborted", "resorbed", "not pregnant", "born"].map((each) => (
                    <option key={each}>{each}</option>
                  ))}
                </select>
              )}
            </Field>
          )}
          {kind !== "narrowed" && (
            <Moment
              zone={view.zone}
              hint={`${view.zone} time`}
              value={when}
              wrong={wrong("at")}
              onChange={setWhen}
            />
          )}
          <Field
            label={kind === "narrowed" ? "Reason" : "Note"}
            wrong={kind === "narrowed" ? needed(note, asked) || wrong("reason") : wrong("note")}
          >
            {(links) => <textarea {...links} value={note} onChange={(e) => setNote(e.target.value)} />}
          </Field>
        </>
      )}
    </FormDialog>
  );
}

const NO_PUP = {
  name: "",
  sex: "",
  sizeCm: "",
  sizeKind: "total length",
  weightKg: "",
  yolk: "",
  firstFeed: "",
};

/** A birth or hatching; the first of the young can be described, the others are a group. */
export function BirthForm({ view, onClose, onDone }: Shared) {
  const mothers = view.residents;
  const [species, setSpecies] = useState(mothers[0]?.species ?? view.species[0]?.id ?? "");
  const [mother, setMother] = useState("");
  const [watch, setWatch] = useState("");
  const [live, setLive] = useState("1");
  const [dead, setDead] = useState("0");
  const [pup, setPup] = useState(NO_PUP);
  const [when, setWhen] = useState(wallText(view.now, view.zone));
  const [note, setNote] = useState("");
  const [confirm, setConfirm] = useState(false);
  const open = view.watches.filter((each) => each.stand !== "ended");
  const choose = (
    label: string,
    value: string,
    set: (value: string) => void,
    options: readonly (readonly [string, string])[],
    wrong = "",
  ) => (
    <Field label={label} wrong={wrong}>
      {(links) => (
        <select {...links} value={value} onChange={(e) => set(e.target.value)}>
          {options.map(([id, words]) => (
            <option key={id} value={id}>
              {words}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
  const number = (text: string) => numberOf(text) ?? 0;
  return (
    <FormDialog<HabitatAnswer>
      title={`A birth in ${view.name}`}
      path={`/systems/${encodeURIComponent(view.system)}/births`}
      submit="Record the birth"
      fields={["live", "dead", "species", "at"]}
      body={() => {
        const at =
          when === wallText(view.now, view.zone) ? {} : { at: instantOfWall(when, view.zone) ?? when };
        const described = Object.entries(pup).some(([key, value]) => key !== "sizeKind" && value !== "");
        return {
          species,
          mother: mother || null,
          watch: watch || null,
          live: number(live),
          dead: number(dead),
          confirm,
          young: described
            ? [
                {
                  name: pup.name.trim() || null,
                  sex: pup.sex || null,
                  sizeCm: numberOf(pup.sizeCm) ?? null,
                  sizeKind: pup.sizeKind,
                  weightKg: numberOf(pup.weightKg) ?? null,
                  yolk: pup.yolk || null,
                  firstFeed: pup.firstFeed.trim() || null,
                },
              ]
            : [],
          ...(note.trim() === "" ? {} : { note }),
          ...at,
        };
      }}
      onClose={onClose}
      onDone={(answer) => onDone(changeOf("Birth recorded. The young are residents here now.", answer))}
    >
      {(wrong) => (
        <>
          {choose(
            "Species",
            species,
            setSpecies,
            view.species.map((each) => [each.id, each.name] as const),
            wrong("species"),
          )}
          {choose("Mother", mother, setMother, [
            ["", "not known"],
            ...mothers.map((stay) => [stay.animal, whoWords(stay)] as const),
          ])}
          {open.length > 0 &&
            choose("Breeding watch it ends", watch, setWatch, [
              ["", "none"],
              ...open.map((each) => [each.id, each.who] as const),
            ])}
          <div className={css.two}>
            <NumberField label="Alive" value={live} wrong={wrong("live")} onChange={setLive} />
            <NumberField label="Dead" value={dead} wrong={wrong("dead")} onChange={setDead} />
          </div>
          <details>
            <summary>Details of one of the young</summary>
            <div className={css.two}>
              <Field label="Name or tag">
                {(links) => (
                  <input
                    {...links}
                    value={pup.name}
                    onChange={(e) => setPup({ ...pup, name: e.target.value })}
                  />
                )}
              </Field>
              {choose("Sex", pup.sex, (sex) => setPup({ ...pup, sex }), [
                ["", "not known"],
                ["female", "female"],
                ["male", "male"],
              ])}
              <NumberField
                label="Size, cm"
                value={pup.sizeCm}
                wrong=""
                onChange={(sizeCm) => setPup({ ...pup, sizeCm })}
              />
              {choose("Size measured as", pup.sizeKind, (sizeKind) => setPup({ ...pup, sizeKind }), [
                ["total length", "total length"],
                ["disc width", "disc width"],
              ])}
              <NumberField
                label="Weight, kg"
                value={pup.weightKg}
                wrong=""
                onChange={(weightKg) => setPup({ ...pup, weightKg })}
              />
              {choose("Yolk", pup.yolk, (yolk) => setPup({ ...pup, yolk }), [
                ["", "not seen"],
                ["none", "none"],
                ["scar", "scar"],
                ["sac", "sac"],
              ])}
              <Field label="First feed">
                {(links) => (
                  <input
                    {...links}
                    value={pup.firstFeed}
                    onChange={(e) => setPup({ ...pup, firstFeed: e.target.value })}
                  />
                )}
              </Field>
            </div>
          </details>
          <Moment zone={view.zone} value={when} wrong={wrong("at")} label="Found" onChange={setWhen} />
          <Field label="Note" hint="for the logbook">
            {(links) => <textarea {...links} value={note} onChange={(e) => setNote(e.target.value)} />}
          </Field>
          <ConfirmField value={confirm} onChange={setConfirm} />
        </>
      )}
    </FormDialog>
  );
}
