"use client";

import { useEffect, useState } from "react";
import { Press } from "../controls/press.tsx";
import { GROUND_KEY, GROUNDS, type Ground, SIZE_KEY } from "./ground-script.ts";
import css from "./top.module.css";

/** Storage may be refused; the choice then holds for this page only, which the reader sees at once. */
function keep(key: string, value: string): void {
  try {
    localStorage.setItem(key, value);
  } catch (refused) {
    console.info(`The choice is not kept after this page: ${String(refused)}`);
  }
}

/** Light, dark or night ground, and wall-sized text. What is chosen shows only after the page has woken. */
export function GroundSwitch() {
  const [ground, setGround] = useState<Ground | null>(null);
  const [wall, setWall] = useState(false);
  useEffect(() => {
    const root = document.documentElement;
    setGround(GROUNDS.find((g) => g === root.dataset.ground) ?? "light");
    setWall(root.dataset.size === "wall");
    // On a phone the pages are in one line that scrolls sideways: the open one is scrolled into view.
    const nav = document.querySelector("header > nav");
    const open = nav?.querySelector<HTMLElement>("[aria-current]");
    if (nav != null && open != null) nav.scrollLeft = open.offsetLeft - nav.clientWidth / 2;
  }, []);
  const choose = (next: Ground) => {
    document.documentElement.dataset.ground = next;
    delete document.documentElement.dataset.groundFrom;
    keep(GROUND_KEY, next);
    setGround(next);
  };
  const resize = () => {
    if (wall) delete document.documentElement.dataset.size;
    else document.documentElement.dataset.size = "wall";
    keep(SIZE_KEY, wall ? "desk" : "wall");
    setWall(!wall);
  };
  return (
    <fieldset className={`${css.switch} no-print`}>
      <legend className="unseen">Colours and text size</legend>
      {GROUNDS.map((g) => (
        <Press key={g} aria-pressed={ground === g} onClick={() => choose(g)}>
          {g}
        </Press>
      ))}
      <Press className={css.wall} aria-pressed={wall} onClick={resize}>
        wall
      </Press>
    </fieldset>
  );
}
