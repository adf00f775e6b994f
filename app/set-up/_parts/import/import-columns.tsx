import css from "#app/_components/controls/forms.module.css";
import type { LookView } from "#contract/imports.ts";
import type { ImportTarget } from "#core/importing/plan.ts";
import { type ImportChoices, type ImportDraft, isChosen, targetOf } from "./import-draft.ts";

/** Which column (or name) goes where: system, point, quantity, and the unit it is written in. */
export function ImportColumns({
  names,
  draft,
  look,
  choices,
  onChange,
}: {
  readonly names: readonly string[];
  readonly draft: ImportDraft;
  readonly look: LookView;
  readonly choices: ImportChoices;
  readonly onChange: (targets: ImportDraft["targets"]) => void;
}) {
  const sample = (name: string) => {
    const index = look.header.indexOf(draft.kind === "wide" ? name : draft.valueColumn);
    const nameAt = look.header.indexOf(draft.nameColumn);
    const rows = draft.kind === "wide" ? look.rows : look.rows.filter((row) => row[nameAt] === name);
    return rows
      .map((row) => row[index] ?? "")
      .filter((cell) => cell !== "")
      .slice(0, 3)
      .join(", ");
  };
  return (
    <div className={css.form}>
      {names.map((name) => {
        const target = targetOf(draft, name);
        const system = choices.systems.find((one) => one.system === target.system);
        const quantity = choices.quantities.find((one) => one.id === target.quantity);
        const set = (by: Partial<ImportTarget>) =>
          onChange({ ...draft.targets, [name]: { ...target, ...by } });
        const select = (
          label: string,
          value: string,
          options: readonly { readonly value: string; readonly label: string }[],
          none: string,
          pick: (value: string) => void,
        ) => (
          <label>
            <span>{label}</span>
            <select value={value} aria-label={`${label} of ${name}`} onChange={(e) => pick(e.target.value)}>
              <option value="">{none}</option>
              {options.map((one) => (
                <option key={one.value} value={one.value}>
                  {one.label}
                </option>
              ))}
            </select>
          </label>
        );
        return (
          <fieldset key={name} className={css.column} data-column={name}>
            <legend>
              {name} <small>{sample(name)}</small>
            </legend>
            {select(
              "System",
              target.system,
              choices.systems.map((one) => ({ value: one.system, label: one.name })),
              "leave this column out",
              (value) => {
                const points = choices.systems.find((one) => one.system === value)?.points ?? [];
                set({
                  system: value,
                  point: points.includes(target.point) ? target.point : (points[0] ?? ""),
                });
              },
            )}
            {isChosen(target) && (
              <>
                {select(
                  "Point",
                  target.point,
                  (system?.points ?? []).map((one) => ({ value: one, label: one })),
                  "choose",
                  (value) => set({ point: value }),
                )}
                {select(
                  "Quantity",
                  target.quantity,
                  choices.quantities.map((one) => ({ value: one.id, label: one.label })),
                  "choose",
                  (value) =>
                    set({
                      quantity: value,
                      unit: choices.quantities.find((one) => one.id === value)?.units[0] ?? null,
                    }),
                )}
                {quantity !== undefined &&
                  quantity.units.length > 0 &&
                  select(
                    "Unit",
                    target.unit ?? "",
                    quantity.units.map((one) => ({ value: one, label: one })),
                    "choose",
                    (value) => set({ unit: value }),
                  )}
              </>
            )}
          </fieldset>
        );
      })}
    </div>
  );
}
