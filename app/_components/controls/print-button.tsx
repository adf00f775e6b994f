"use client";

import { Button } from "./button.tsx";

/** Printing is the browser's, and so is saving as PDF. */
export function PrintButton() {
  return (
    <Button kind="main" onClick={() => window.print()}>
      Print or save as PDF
    </Button>
  );
}
