"use client";

import { lazy, type ReactNode, Suspense } from "react";
import type { PageId } from "./pages.ts";

type Bar = { default: (links: { here: PageId | null }) => ReactNode };

const Bar = lazy<Bar["default"]>(() =>
  import("./top-bar.tsx").then<Bar, Bar>(
    ({ TopBar }) => ({ default: TopBar }),
    (failed: unknown) => {
      console.info(`The bar of pages could not be fetched: ${String(failed)}`);
      return { default: () => null };
    },
  ),
);

/** The bar of pages over what is shown instead of a page. Fetched only then: every page carries this part with it. */
export function TopBarLater({ here }: { here: PageId | null }) {
  return (
    <Suspense fallback={null}>
      <Bar here={here} />
    </Suspense>
  );
}
