"use client";

import { useEffect, useState } from "react";

const KEY = "homewater-bench-own-keyboard";

function prefersOwn(): boolean {
  try {
    return localStorage.getItem(KEY) === "yes";
  } catch (refused) {
    console.info(`The choice of keyboard is not remembered: ${String(refused)}`);
    return false;
  }
}

/** Whether our number pad is shown: under fingers, unless this device's own keyboard was chosen. */
export function usePad(): {
  readonly isTouched: boolean;
  readonly hasPad: boolean;
  readonly choose: (pad: boolean) => void;
} {
  const [isTouched, setTouched] = useState(false);
  const [isOwn, setOwn] = useState(false);
  useEffect(() => {
    const coarse = matchMedia("(pointer: coarse)");
    const look = () => setTouched(coarse.matches);
    look();
    setOwn(prefersOwn());
    coarse.addEventListener("change", look);
    return () => coarse.removeEventListener("change", look);
  }, []);
  const choose = (pad: boolean) => {
    setOwn(!pad);
    try {
      localStorage.setItem(KEY, pad ? "no" : "yes");
    } catch (refused) {
      console.info(`The choice of keyboard is not remembered: ${String(refused)}`);
    }
  };
  return { isTouched, hasPad: isTouched && !isOwn, choose };
}
