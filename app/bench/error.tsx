"use client";

import { Notice } from "../_components/frame/notice.tsx";
import { TopBar } from "../_components/frame/top-bar.tsx";

/** What was typed or saved on this device is not on this page, and not lost either: that is said first. */
export default function Failed({ error, reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return (
    <>
      <TopBar here="bench" />
      <Notice title="The bench cannot be shown">
        <p role="alert">
          What you typed or saved on this device is still on it and is found again when this page works. The
          server could not read which tests belong here.
        </p>
        {error.digest !== undefined && <p>In the server's log this is reference {error.digest}.</p>}
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
