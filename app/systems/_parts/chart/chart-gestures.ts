import type { Span } from "#app/_components/drawing/chart-data.ts";
import { moved, zoomed } from "./chart-window.ts";

/** What a key does to the span; null for keys that mean nothing here, "now" to follow the present again. */
export function keyed(key: string, span: Span): Span | "now" | null {
  switch (key) {
    case "ArrowLeft":
      return moved(span, -0.2);
    case "ArrowRight":
      return moved(span, 0.2);
    case "+":
    case "=":
      return zoomed(span, 0.5);
    case "-":
      return zoomed(span, 2);
    case "Home":
    case "0":
      return "now";
    default:
      return null;
  }
}

interface Hooks {
  readonly span: () => Span;
  readonly change: (span: Span) => void;
}

/**
 * Wheel and fingers over a chart. A plain wheel still scrolls the page: with Ctrl (or a pinch on a touchpad) it zooms,
 * sideways or with Shift it pans. One finger pans, two zoom; up and down still scrolls.
 */
export function hearGestures(over: HTMLElement, { span, change }: Hooks): () => void {
  const stop = new AbortController();
  const { signal } = stop;
  const place = (clientX: number) => {
    const box = over.getBoundingClientRect();
    return Math.max(0, Math.min(1, (clientX - box.left) / Math.max(1, box.width)));
  };
  const wheel = (event: WheelEvent) => {
    const sideways = event.shiftKey ? event.deltaY || event.deltaX : event.deltaX;
    if (event.ctrlKey || event.metaKey) {
      event.preventDefault();
      change(
        zoomed(
          span(),
          Math.exp(Math.sign(event.deltaY) * Math.min(0.4, Math.abs(event.deltaY) / 100)),
          place(event.clientX),
        ),
      );
    } else if (Math.abs(sideways) > Math.abs(event.shiftKey ? 0 : event.deltaY)) {
      event.preventDefault();
      change(moved(span(), sideways / Math.max(1, over.clientWidth)));
    }
  };
  const fingers = new Map<number, number>();
  const down = (event: PointerEvent) => {
    if (event.pointerType === "touch") fingers.set(event.pointerId, event.clientX);
  };
  const move = (event: PointerEvent) => {
    const was = fingers.get(event.pointerId);
    if (was === undefined) return;
    const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1];
    fingers.set(event.pointerId, event.clientX);
    if (other === undefined) change(moved(span(), (was - event.clientX) / Math.max(1, over.clientWidth)));
    else {
      const [before, after] = [
        Math.max(20, Math.abs(was - other)),
        Math.max(20, Math.abs(event.clientX - other)),
      ];
      change(zoomed(span(), before / after, place((event.clientX + other) / 2)));
    }
  };
  const up = (event: PointerEvent) => {
    fingers.delete(event.pointerId);
  };
  over.addEventListener("wheel", wheel, { passive: false, signal });
  over.addEventListener("pointerdown", down, { signal });
  over.addEventListener("pointermove", move, { signal });
  for (const end of ["pointerup", "pointercancel", "pointerleave"] as const)
    over.addEventListener(end, up, { signal });
  return () => stop.abort();
}
