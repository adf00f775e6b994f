"use client";

import { PageFailed } from "../_components/frame/page-failed.tsx";

export default function Failed({ error, reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return (
    <PageFailed here="overnight" title="The overnight page cannot be shown" error={error} reset={reset} />
  );
}
