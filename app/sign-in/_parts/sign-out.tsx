"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { send } from "#app/_components/live/send.ts";
import css from "./sign-in.module.css";

/** Ends this session on the server. */
export function SignOut() {
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState("");
  async function leave() {
    setBusy(true);
    setWrong("");
    const answer = await send("/sign-out", {});
    if (answer.ok) location.assign("/sign-in");
    else {
      setBusy(false);
      setWrong(answer.says);
    }
  }
  return (
    <>
      <Button busy={busy} onClick={leave}>
        Sign out
      </Button>
      {wrong !== "" && (
        <p role="alert" className={css.wrong}>
          {wrong}
        </p>
      )}
    </>
  );
}
