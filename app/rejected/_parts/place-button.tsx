"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { newClientId, send } from "#app/_components/live/send.ts";
import css from "./rejected.module.css";

/** Sends one decision about a clock, and shows the page as it is then. */
export function PlaceButton({ path, label }: { readonly path: string; readonly label: string }) {
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState("");
  const [clientId] = useState(newClientId);
  async function press() {
    setBusy(true);
    setWrong("");
    const answer = await send(path, { clientId });
    if (answer.ok) location.reload();
    else {
      setBusy(false);
      setWrong(answer.says);
    }
  }
  return (
    <>
      <Button busy={busy} onClick={press}>
        {label}
      </Button>
      {wrong !== "" && (
        <p role="alert" className={css.wrong}>
          {wrong}
        </p>
      )}
    </>
  );
}
