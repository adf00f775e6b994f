"use client";

import { type RefObject, useEffect, useState } from "react";

/** True on a wall: there numbers stand under every strip, because nobody can tap it. */
function useWall(): boolean {
  const [isWall, setWall] = useState(false);
  useEffect(() => {
    const root = document.documentElement;
    const look = () => setWall(root.dataset.size === "wall");
    look();
    const watch = new MutationObserver(look);
    watch.observe(root, { attributeFilter: ["data-size"] });
    return () => watch.disconnect();
  }, []);
  return isWall;
}

/** The row whose numbers are shown: the one the focus is in, or that was tapped; another tap puts them away. */
export function useEdges(table: RefObject<HTMLElement | null>): {
  readonly opened: string | null;
  readonly isWall: boolean;
} {
  const [opened, setOpened] = useState<string | null>(null);
  useEffect(() => {
    const place = table.current;
    if (place === null) return;
    const stop = new AbortController();
    const { signal } = stop;
    const rowOf = (event: Event): string | null =>
      event.target instanceof Element
        ? (event.target.closest<HTMLElement>("[data-row]")?.dataset.row ?? null)
        : null;
    // A press on a link moves the focus first; the click that follows must not put away again what it opened.
    place.addEventListener("focusin", (event) => setOpened(rowOf(event)), { signal });
    place.addEventListener("focusout", () => setOpened(null), { signal });
    place.addEventListener(
      "click",
      (event) => {
        if (event.target instanceof Element && event.target.closest("a") !== null) return;
        const row = rowOf(event);
        setOpened((had) => (had === row ? null : row));
      },
      { signal },
    );
    return () => stop.abort();
  }, [table]);
  return { opened, isWall: useWall() };
}
