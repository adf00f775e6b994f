"use client";

import { useEffect, useRef } from "react";
import { PAGES, type PageId } from "./pages.ts";
import css from "./top.module.css";

/** The pages that exist. On a phone they stand in one line that moves sideways, the open one in sight. */
export function PagesNav({ here }: { here: PageId | null }) {
  const nav = useRef<HTMLElement>(null);
  useEffect(() => {
    const open = nav.current?.querySelector<HTMLElement>('[aria-current="page"]');
    if (nav.current === null || open == null) return;
    nav.current.scrollLeft = open.offsetLeft - (nav.current.clientWidth - open.offsetWidth) / 2;
  }, []);
  return (
    <nav ref={nav} aria-label="Pages" className={css.nav}>
      {PAGES.map((page) => (
        <a key={page.id} href={page.path} aria-current={here === page.id ? "page" : undefined}>
          {page.label}
        </a>
      ))}
    </nav>
  );
}
