/** Parts that the first look at the form does not need: each is loaded when it is drawn, or ahead of it once the page is quiet. */
export const loadComputed = () => import("./computed-now.tsx");
export const loadTypedStrip = () => import("./typed-strip.tsx");
export const loadPad = () => import("./number-pad.tsx");
export const loadSampleEditor = () => import("./sample-editor.tsx");
export const loadQuestion = () => import("./question.tsx");
export const loadQueueDetails = () => import("./queue-details.tsx");
export const loadSaved = () => import("./saved-panel.tsx");
export const loadRestored = () => import("./restored-line.tsx");
export const loadEarlier = () => import("./earlier-results.tsx");

/** Fetches them all, so that they are there when the network is not. */
export async function loadAll(): Promise<void> {
  const parts = [
    loadQuestion,
    loadSaved,
    loadRestored,
    loadSampleEditor,
    loadQueueDetails,
    loadComputed,
    loadTypedStrip,
    loadEarlier,
  ];
  const failed = (await Promise.allSettled(parts.map((load) => load()))).filter(
    ({ status }) => status === "rejected",
  );
  if (failed.length > 0) console.info(`${failed.length} parts of the form come later`);
}
