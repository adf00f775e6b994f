"use client";

import { useRouter } from "next/navigation";
import { startTransition } from "react";
import { Notice } from "../_components/notice.tsx";
import { Top } from "../_components/top.tsx";

export default function Failed({ error, reset }: { error: Error & { digest?: string }; reset: () => void }) {
  const router = useRouter();
  const retry = () =>
    startTransition(() => {
      router.refresh();
      reset();
    });
  return (
    <>
      <Top here="systems" />
      <Notice title="The systems cannot be shown">
        <p role="alert">
          The store did not answer. Readings may still be accepted: what is acknowledged is kept. This page
          cannot tell how the water is until it works again.
        </p>
        {error.digest !== undefined && <p>In the server's log this is reference {error.digest}.</p>}
        <button type="button" onClick={retry}>
          Try again
        </button>
      </Notice>
    </>
  );
}
