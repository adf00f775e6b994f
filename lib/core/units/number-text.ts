/**
 * A number as people read it: fixed decimals, a true minus sign, and never a zero that hides a positive value
 * (0.0004 with three decimals is "< 0.001", not "0.000"). A non-finite number is "not known".
 */
export function numberText(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return "not known";
  const text = Math.abs(value).toFixed(decimals);
  const isZero = Number(text) === 0;
  if (isZero && value > 0) return `< ${(10 ** -decimals).toFixed(decimals)}`;
  return value < 0 && !isZero ? `−${text}` : text;
}

/** The number with its unit beside it; pure numbers such as pH and salinity have none. "%" stands after a space too (SI brochure 5.4.7). */
export function withUnit(value: number, decimals: number, unitLabel: string): string {
  return unitLabel === "" ? numberText(value, decimals) : `${numberText(value, decimals)} ${unitLabel}`;
}
