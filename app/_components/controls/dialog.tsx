"use client";

import { type ReactNode, useEffect, useId, useRef } from "react";
import { Button } from "./button.tsx";
import css from "./dialog.module.css";

/**
 * A dialog of the browser itself: it holds the focus, Escape closes it and the focus goes back to where it was. It is in the page only while it is
 * open; what was typed belongs to whoever opened it.
 */
export function Dialog({
  title,
  onClose,
  children,
}: {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
}) {
  const place = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const dialog = place.current;
    const before = document.activeElement;
    if (dialog !== null && !dialog.open) dialog.showModal();
    return () => {
      dialog?.close();
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={place}
      className={css.dialog}
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <div className={css.body}>
        <div className={css.head}>
          <h2 id={id}>{title}</h2>
          <Button kind="bare" onClick={onClose}>
            Close
          </Button>
        </div>
        {children}
      </div>
    </dialog>
  );
}
