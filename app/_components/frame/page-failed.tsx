"use client";

import { useRouter } from "next/navigation";
import { startTransition } from "react";
import { Press } from "../controls/press.tsx";
import { Notice } from "./notice.tsx";
import type { PageId } from "./pages.ts";
import { TopBarLater } from "./top-bar-later.tsx";

/** Instead of a page that could not be read; says what is and what is not lost, and tries again in place. */
export function PageFailed({
  here,
  title,
  error,
  reset,
}: {
  readonly here: PageId;
  readonly title: string;
  readonly error: Error & { digest?: string };
  readonly reset: () => void;
}) {
  const router = useRouter();
  const retry = () =>
    startTransition(() => {
      router.refresh();
      reset();
    });
  return (
    <>
      <TopBarLater here={here} />
      <Notice title={title}>
        <p role="alert">
          The data store did not answer. Readings may still be coming in: every reading that was confirmed to
          its sender is kept. Until this works again, the page cannot show the state of the water.
        </p>
        {error.digest !== undefined && <p>Reference in the server log: {error.digest}</p>}
        <Press onClick={retry}>Try again</Press>
      </Notice>
    </>
  );
}
