/** Why a replay cannot continue, in one sentence for the person at the keyboard. */
export class ReplayError extends Error {
  constructor(message: string, options?: { cause?: unknown }) {
    super(message, options);
    this.name = "ReplayError";
  }
}
