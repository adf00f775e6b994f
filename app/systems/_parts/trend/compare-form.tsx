import type { Compare } from "./trend-address.ts";
import css from "./trends.module.css";

const textOf = (compare: Compare): string =>
  compare.with === "system" ? `system:${compare.system}` : compare.with;
const compareOf = (value: string): Compare => {
  if (value === "year" || value === "nothing") return { with: value };
  return { with: "system", system: value.slice("system:".length) };
};

/** What a thinner, dashed line is drawn for: another system, or the same days a year before. */
export function CompareForm({
  compare,
  others,
  onChange,
}: {
  readonly compare: Compare;
  readonly others: readonly { readonly system: string; readonly name: string }[];
  readonly onChange: (compare: Compare) => void;
}) {
  return (
    <label className={css.compare}>
      compare with{" "}
      <select value={textOf(compare)} onChange={(event) => onChange(compareOf(event.currentTarget.value))}>
        <option value="nothing">nothing</option>
        <option value="year">the same days last year</option>
        <optgroup label="another system">
          {others.map((other) => (
            <option key={other.system} value={`system:${other.system}`}>
              {other.name}
            </option>
          ))}
        </optgroup>
      </select>
    </label>
  );
}
