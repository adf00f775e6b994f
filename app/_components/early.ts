/** What a control carries whose early use is kept; see `EARLY_SCRIPT`. */
export const EARLY = "data-early";

/** A press that is carried out so long after it was made would only surprise. */
const KEPT_MS = 20_000;

/**
 * Runs in the head, before anything can be pressed. A page shows before its script has come; on a slow machine or a thin network that is seconds,
 * in which a press would be lost, a form would send itself by the browser's own means (a password into an address), and typed text would be
 * forgotten by the form that wakes over it. So the last press is held until the control it was made on wakes (`wakes`), and what was typed is told again.
 */
export const EARLY_SCRIPT = `(function(){var awake=new WeakSet(),typed=new WeakSet(),pressed=null,at=0;
function of(e){var t=e.target,c=t&&t.closest?t.closest("[${EARLY}]"):null;return c!==null&&!awake.has(c)?c:null}
document.addEventListener("click",function(e){var c=of(e);if(c===null||c.tagName!=="BUTTON")return;
e.preventDefault();e.stopImmediatePropagation();pressed=c;at=e.timeStamp},true);
["input","change"].forEach(function(n){document.addEventListener(n,function(e){var c=of(e);if(c!==null)typed.add(c)},true)});
window.homewaterWakes=function(c){awake.add(c);
if(typed.delete(c))return "typed";
if(pressed!==c)return "";
pressed=null;return performance.now()-at<${KEPT_MS}?"pressed":""}})()`;

declare global {
  interface Window {
    /** Absent where a page was made without `EARLY_SCRIPT`. */
    homewaterWakes?: (control: Element) => "" | "pressed" | "typed";
  }
}

type Typed = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;
const isTyped = (control: Element): control is Typed =>
  control instanceof HTMLInputElement ||
  control instanceof HTMLSelectElement ||
  control instanceof HTMLTextAreaElement;

/** Says a value once more. React takes what stands in a control when it wakes for known, so that the control must first differ. */
function sayAgain(control: Typed): void {
  const { value } = control;
  if (!(control instanceof HTMLSelectElement)) {
    control.value = value === "" ? " " : "";
    const own = control instanceof HTMLInputElement ? HTMLInputElement : HTMLTextAreaElement;
    Object.getOwnPropertyDescriptor(own.prototype, "value")?.set?.call(control, value);
    control.dispatchEvent(new Event("input", { bubbles: true }));
  }
  control.dispatchEvent(new Event("change", { bubbles: true }));
}

/** Called when a control can answer: does what was done to it before. After all effects of the same waking, since its handlers may rest on them. */
export function wakes(control: Element | null): void {
  const had = control === null ? "" : (window.homewaterWakes?.(control) ?? "");
  if (control === null || had === "") return;
  setTimeout(() => {
    if (had === "typed" && isTyped(control)) sayAgain(control);
    else if (control instanceof HTMLElement) control.click();
  });
}
