"use client";

import type { ComponentProps } from "react";
import css from "./button.module.css";
import { Press, type PressProps } from "./press.tsx";

/** main: the one thing to do here; plain: another; bare: looks like a link and is not one. */
export type ButtonKind = "main" | "plain" | "bare";
const CLASS: Readonly<Record<ButtonKind, string | undefined>> = {
  main: css.main,
  plain: undefined,
  bare: css.bare,
};
/** How something else looks like a button of that kind: a summary, a label of a file. */
export const buttonClasses = (kind: ButtonKind, more?: string) =>
  [css.button, CLASS[kind], more].filter((name) => name !== undefined).join(" ");

export interface ButtonProps extends PressProps {
  readonly kind?: ButtonKind;
  /** Something is on its way: a second press does nothing, and focus stays. */
  readonly busy?: boolean;
}

export function Button({ kind = "plain", busy = false, className, onClick, ...rest }: ButtonProps) {
  return (
    <Press
      {...rest}
      className={buttonClasses(kind, className)}
      aria-busy={busy || undefined}
      aria-disabled={busy || undefined}
      onClick={(event) => {
        if (busy) event.preventDefault();
        else onClick?.(event);
      }}
    />
  );
}

/** A link that looks like a button. */
export function ButtonLink({
  kind = "plain",
  className,
  ...rest
}: ComponentProps<"a"> & { readonly kind?: ButtonKind }) {
  return <a {...rest} className={buttonClasses(kind, className)} />;
}
