import { setTimeout as pause } from "node:timers/promises";
import { type ReactNode, Suspense } from "react";

/** Longer than a page usually takes to be read (also the first one after a quiet hour), shorter than somebody wonders whether anything happens. */
const PATIENCE_MS = 400;
const SLOW = Symbol("slow");

interface SoonProps {
  readonly content: Promise<ReactNode>;
  /** Shown where the content takes longer. */
  readonly waiting: ReactNode;
}

const Content = ({ of }: { readonly of: Promise<ReactNode> }) => of;

/**
 * The content of a page: in the first paint where it is there within a moment, and only otherwise behind words of waiting. Words that flash for
 * a quarter of a second delay what somebody came for, because a browser shows what follows them later than it could.
 */
export async function Soon({ content, waiting }: SoonProps) {
  const first = await Promise.race([content, pause(PATIENCE_MS, SLOW, { ref: false })]);
  if (first !== SLOW) return first as ReactNode;
  return (
    <Suspense fallback={waiting}>
      <Content of={content} />
    </Suspense>
  );
}
