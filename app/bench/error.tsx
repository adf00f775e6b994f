"use client";

import { Notice } from "../_components/frame/notice.tsx";
import { TopBarLater } from "../_components/frame/top-bar-later.tsx";

/** What was typed or saved on this device is not on this page, and not lost either: that is said first. */
export default function Failed({ error, reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return (
    <>
      <TopBarLater here="bench" />
      <Notice title="The bench page cannot be shown">
        <p role="alert">
          What you typed or saved on this device is still there and comes back when this page works. The
          server could not load the bench page.
        </p>
        {error.digest !== undefined && <p>Reference in the server log: {error.digest}</p>}
        <button type="button" onClick={reset}>
          Try again
        </button>
        <p>
          <a href="/bench">All systems</a>
        </p>
      </Notice>
    </>
  );
}
