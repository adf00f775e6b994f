/** A label inside a sentence: "temperature", but pH, ORP and the like keep their capitals. */
export const labelInSentence = (label: string): string =>
  /^[A-Z][a-z]/.test(label) ? `${label.charAt(0).toLowerCase()}${label.slice(1)}` : label;
