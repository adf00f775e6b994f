import { EARLY } from "./early.ts";

/** A press that is carried out so long after it was made would only surprise. */
const KEPT_MS = 20_000;

/**
 * Runs in the head, before anything can be pressed. A page shows before its script has come; on a slow machine or a thin network that is seconds,
 * in which a press would be lost, a form would send itself by the browser's own means (a password into an address), and typed text would be
 * forgotten by the form that wakes over it. So the last press is held until the control it was made on wakes (`wakes`), and what was typed is told again.
 *
 * Both happen after all effects of the same waking, since handlers may rest on them. React takes what stands in a control when it wakes for known, so
 * that the control must differ for a moment before its value is told. A chosen file and a choice have no text: to touch their value would lose them.
 */
export const EARLY_SCRIPT = `(function(){var awake=new WeakSet(),typed=new WeakSet(),pressed=null,at=0;
function of(e){var t=e.target,c=t&&t.closest?t.closest("[${EARLY}]"):null;return c!==null&&!awake.has(c)?c:null}
document.addEventListener("click",function(e){var c=of(e);if(c===null||c.tagName!=="BUTTON")return;
e.preventDefault();e.stopImmediatePropagation();pressed=c;at=e.timeStamp},true);
["input","change"].forEach(function(n){document.addEventListener(n,function(e){var c=of(e);if(c!==null)typed.add(c)},true)});
function tell(c){var v=c.value;if(!/^(select|file|checkbox|radio)/.test(c.type)){c.value=v===""?" ":"";
Object.getOwnPropertyDescriptor(c.constructor.prototype,"value").set.call(c,v)}
["input","change"].forEach(function(n){c.dispatchEvent(new Event(n,{bubbles:true}))})}
window.homewaterWakes=function(c){awake.add(c);
if(typed.delete(c))setTimeout(tell,0,c);
if(pressed!==c)return;pressed=null;
if(performance.now()-at<${KEPT_MS})setTimeout(function(){c.click()})}})()`;
