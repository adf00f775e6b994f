/** Class names in one attribute; those that a state does not have are left out. */
export const classes = (...names: readonly (string | undefined)[]): string | undefined =>
  names.filter((name) => name !== undefined && name !== "").join(" ") || undefined;
