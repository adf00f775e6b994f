import { Field } from "#app/_components/controls/field.tsx";
import { needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { numberOf } from "#app/_components/controls/typed-number.ts";
import { STARTING_BANDS, type StartingBands } from "#core/habitat/type-defaults.ts";
import { SYSTEM_TYPE_IDS, SYSTEM_TYPES, type SystemType } from "#core/set-up/system-type.ts";

const bandsWords = (bands: StartingBands): string => `${bands[0]?.toUpperCase()}${bands.slice(1)}`;
const WATERS = ["fresh", "brackish", "marine"] as const;

/** The details of a system, as typed. */
export interface TypedSystem {
  readonly name: string;
  readonly kind: string;
  readonly type: SystemType;
  readonly startingBands: StartingBands | null;
  readonly water: string;
  readonly volume: string;
  readonly duty: string;
  readonly youngFilter: boolean;
}
export const NEW_SYSTEM: TypedSystem = {
  name: "",
  kind: "",
  type: "exhibit",
  startingBands: null,
  water: "marine",
  volume: "",
  duty: "",
  youngFilter: false,
};

const volumeWrong = (text: string): string => {
  const value = numberOf(text);
  return value == null || value <= 0 ? "a volume above zero, in m³" : "";
};
const dutyWrong = (text: string): string => {
  const value = numberOf(text);
  return value === undefined || (value !== null && value <= 0) ? "a flow above zero, in m³/h, or empty" : "";
};

/** The body to send; null while a field is not sound. */
export function systemBody(typed: TypedSystem): object | null {
  if (typed.name.trim().length < 2 || typed.kind.trim().length < 2) return null;
  if (volumeWrong(typed.volume) !== "" || dutyWrong(typed.duty) !== "") return null;
  return {
    name: typed.name.trim(),
    kind: typed.kind.trim(),
    type: typed.type,
    startingBands: typed.startingBands,
    water: typed.water,
    volume: numberOf(typed.volume),
    duty: numberOf(typed.duty),
    youngFilter: typed.youngFilter,
  };
}

export function SystemFields({
  typed,
  onChange,
  wrong,
  asked,
}: {
  readonly typed: TypedSystem;
  readonly onChange: (typed: TypedSystem) => void;
  readonly wrong: (field: string) => string;
  readonly asked: boolean;
}) {
  const set = (by: Partial<TypedSystem>) => onChange({ ...typed, ...by });
  return (
    <>
      <Field label="Name" wrong={needed(typed.name, asked, 2) || wrong("name")}>
        {(links) => (
          <input
            {...links}
            value={typed.name}
            maxLength={80}
            onChange={(e) => set({ name: e.target.value })}
          />
        )}
      </Field>
      <div className={css.two}>
        <Field label="Type" hint="What it is used for" wrong={wrong("type")}>
          {(links) => (
            <select
              {...links}
              value={typed.type}
              onChange={(e) => {
                const type = SYSTEM_TYPE_IDS.find((id) => id === e.target.value) ?? typed.type;
                set({ type, youngFilter: SYSTEM_TYPES[type].hasYoungFilter });
              }}
            >
              {SYSTEM_TYPE_IDS.map((id) => (
                <option key={id} value={id}>
                  {SYSTEM_TYPES[id].label}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Field
          label="Description"
          hint="In your own words: temperate marine, rays. Nothing depends on it"
          wrong={needed(typed.kind, asked, 2) || wrong("kind")}
        >
          {(links) => (
            <input
              {...links}
              value={typed.kind}
              maxLength={80}
              onChange={(e) => set({ kind: e.target.value })}
            />
          )}
        </Field>
        <Field label="Water" hint="Decides which formulas are used" wrong={wrong("water")}>
          {(links) => (
            <select {...links} value={typed.water} onChange={(e) => set({ water: e.target.value })}>
              {WATERS.map((water) => (
                <option key={water}>{water}</option>
              ))}
            </select>
          )}
        </Field>
        <Field
          label="Default bands"
          hint="Used for quantities that no resident's profile covers"
          wrong={wrong("startingBands")}
        >
          {(links) => (
            <select
              {...links}
              value={typed.startingBands ?? ""}
              onChange={(e) =>
                set({ startingBands: STARTING_BANDS.find((id) => id === e.target.value) ?? null })
              }
            >
              <option value="">none</option>
              {STARTING_BANDS.map((id) => (
                <option key={id} value={id}>
                  {bandsWords(id)}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Field label="Volume, m³" wrong={(asked ? volumeWrong(typed.volume) : "") || wrong("volume")}>
          {(links) => (
            <input
              {...links}
              value={typed.volume}
              inputMode="decimal"
              onChange={(e) => set({ volume: e.target.value })}
            />
          )}
        </Field>
        <Field
          label="Duty flow, m³/h"
          hint="Empty: not known"
          wrong={(asked ? dutyWrong(typed.duty) : "") || wrong("duty")}
        >
          {(links) => (
            <input
              {...links}
              value={typed.duty}
              inputMode="decimal"
              onChange={(e) => set({ duty: e.target.value })}
            />
          )}
        </Field>
      </div>
      <label className={css.check}>
        <input
          type="checkbox"
          checked={typed.youngFilter}
          onChange={(e) => set({ youngFilter: e.target.checked })}
        />
        <span>Young filter or quarantine: an ammonia test is valid for 24 hours instead of 7 days</span>
      </label>
    </>
  );
}
