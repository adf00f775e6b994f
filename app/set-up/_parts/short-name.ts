const CODE = /^[a-z0-9]+(-[a-z0-9]+)*$/;
export const CODE_HINT =
  "Small letters, digits and single dashes, as in kelp-gallery; it stands in topics and stays";
export const codeWrong = (code: string, asked: boolean): string =>
  asked && (code.length < 2 || code.length > 40 || !CODE.test(code))
    ? "small letters, digits and single dashes, 2 to 40"
    : "";
