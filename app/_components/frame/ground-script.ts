/** The grounds a reader can choose, and where the choice is kept. */
export const GROUNDS = ["light", "dark", "night"] as const;
export type Ground = (typeof GROUNDS)[number];
export const GROUND_KEY = "homewater-ground";
export const SIZE_KEY = "homewater-size";

/**
 * Runs in the head before the first paint, so that a dark room never sees a white flash: the kept choice, else what
 * the operating system prefers. Storage may be refused (private windows); then the preference alone decides.
 */
export const GROUND_SCRIPT = `(function(){var e=document.documentElement,k=null,s=null;
try{k=localStorage.getItem("${GROUND_KEY}");s=localStorage.getItem("${SIZE_KEY}")}catch(_){k=null}
var m=matchMedia("(prefers-color-scheme: dark)");
if(${JSON.stringify(GROUNDS)}.indexOf(k)<0){k=m.matches?"dark":"light";e.dataset.groundFrom="system"}
e.dataset.ground=k;if(s==="wall")e.dataset.size="wall";
m.addEventListener("change",function(){if(e.dataset.groundFrom==="system")e.dataset.ground=m.matches?"dark":"light"})})()`;
