/** A name as it is written to people: "contact-chamber" is "contact chamber". */
export const pointWords = (point: string): string => point.replaceAll("-", " ").replaceAll("_", " ");
