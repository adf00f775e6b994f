/**
 * The plotting library asks Intl for the browser's language while it loads. Some kiosks and headless browsers report one
 * that Intl refuses (`en-US@posix`, from LANG=C), and the whole page would fall with it. While it loads, such a browser
 * is given a language that Intl knows; afterwards everything is as it was.
 */
export function acceptedLanguage(navigator: { readonly language: string }): () => void {
  try {
    new Intl.NumberFormat(navigator.language);
    return () => undefined;
  } catch (refused) {
    if (!(refused instanceof RangeError)) throw refused;
    Object.defineProperty(navigator, "language", { value: "en-GB", configurable: true });
    return () => {
      Reflect.deleteProperty(navigator, "language");
    };
  }
}

/** The plotting library, loaded when the first chart is drawn. */
export async function loadPlot() {
  const restore = acceptedLanguage(navigator);
  try {
    return (await import("uplot")).default;
  } finally {
    restore();
  }
}
