/** What is wrong with something that was typed, sent or read, in its parts. They become a sentence only where a person reads them. */
export interface Fault {
  /** What follows the name of the thing: "is missing". */
  readonly says: string;
  /** What to do instead, as a request: "send a number". */
  readonly remedy: string;
}

/** The sentence without its full stop; `of` names the thing where the place does not. */
export const faultText = ({ says, remedy }: Fault, of: string | null = null): string =>
  `${of === null ? "" : `${of} `}${says}: ${remedy}`;
