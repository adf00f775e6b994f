"use client";

import { useId, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "./bench.module.css";

/** Any other quantity of the registry. */
export function AddField({
  quantities,
  onAdd,
}: {
  quantities: readonly { readonly quantity: string; readonly label: string }[];
  onAdd: (quantity: string) => void;
}) {
  const id = useId();
  const [chosen, setChosen] = useState("");
  return (
    <div className={css.add}>
      <label htmlFor={id}>Add another quantity</label>
      <span className={css.addLine}>
        <select id={id} value={chosen} onChange={(event) => setChosen(event.target.value)}>
          <option value="">choose</option>
          {quantities.map(({ quantity, label }) => (
            <option key={quantity} value={quantity}>
              {label}
            </option>
          ))}
        </select>
        <Button
          onClick={() => {
            if (chosen === "") return;
            onAdd(chosen);
            setChosen("");
          }}
        >
          add
        </Button>
      </span>
    </div>
  );
}
