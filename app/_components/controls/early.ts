/** What a control carries whose early use is kept; see `EARLY_SCRIPT`. */
export const EARLY = "data-early";

declare global {
  interface Window {
    /** Absent where a page was made without `EARLY_SCRIPT`. */
    homewaterWakes?: (control: Element) => void;
  }
}

/** Called when a control can answer: what was done to it before is done now. */
export function wakes(control: Element | null): void {
  if (control) window.homewaterWakes?.(control);
}
