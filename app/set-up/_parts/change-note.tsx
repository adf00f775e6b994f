"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import { type Sent, send } from "#app/_components/live/send.ts";
import type { Change } from "#app/_components/words/change.ts";
import type { ChangeAnswer } from "#contract/set-up-forms.ts";

export function ChangeNote({
  change,
  onUndone,
  onClose,
}: {
  readonly change: Change | null;
  readonly onUndone: () => void;
  readonly onClose: () => void;
}) {
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState<Sent<ChangeAnswer> | null>(null);
  const undo = async ({ answer }: Change) => {
    setBusy(true);
    const sent = await send<ChangeAnswer>(`/changes/${answer.change}/undo`, {
      reason: "undone right after the change",
    });
    setBusy(false);
    setFailed(sent.ok ? null : sent);
    if (sent.ok) onUndone();
  };
  return (
    <div className={css.note} role="status">
      {change !== null && (
        <>
          <p>{change.says}</p>
          {change.answer.undoable && (
            <Button busy={busy} onClick={() => undo(change)}>
              Undo
            </Button>
          )}
          <Button kind="bare" onClick={onClose}>
            Close
          </Button>
          {failed !== null && !failed.ok && <p className={css.wrong}>{failed.says}</p>}
        </>
      )}
    </div>
  );
}
