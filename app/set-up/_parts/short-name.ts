const CODE = /^[a-z0-9]+(-[a-z0-9]+)*$/;
export const CODE_HINT =
  "Lower-case letters, digits and single hyphens, such as kelp-gallery. Used in topics; it cannot be changed later";
export const codeWrong = (code: string, asked: boolean): string =>
  asked && (code.length < 2 || code.length > 40 || !CODE.test(code))
    ? "2 to 40 characters: lower-case letters, digits and single hyphens"
    : "";
