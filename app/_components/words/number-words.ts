/** Numbers as people read them: fixed decimals, a true minus, never a zero that is only rounding. */

/**
 * `value` with `decimals` places. A concentration (unit per litre) above zero that would round to zero is written
 * "< 0.001": less than the last place is a statement, nought is not.
 */
export function valueWords(value: number, decimals: number, unitLabel = ""): string {
  const text = Math.abs(value).toFixed(decimals);
  const isNought = Number(text) === 0;
  if (isNought && value > 0 && unitLabel.includes("/L")) return `< ${(10 ** -decimals).toFixed(decimals)}`;
  return value < 0 && !isNought ? `−${text}` : text;
}

/** Value and unit; a percent sign and a unit both stand off by a space (ISO 80000-1). */
export function withUnit(value: number, decimals: number, unitLabel: string): string {
  const text = valueWords(value, decimals, unitLabel);
  return unitLabel === "" ? text : `${text} ${unitLabel}`;
}

/** A rate with one place more than the quantity, and its sign. */
export function rateWords(rate: number, decimals: number, unitLabel: string): string {
  const text = Math.abs(rate).toFixed(decimals + 1);
  const unit = unitLabel === "" ? "" : ` ${unitLabel}`;
  return `${rate < 0 ? "−" : "+"}${text}${unit} an hour`;
}

/** Volume in m3, without needless places. */
export function volumeWords(m3: number): string {
  return `${m3 >= 10 ? Math.round(m3) : Number(m3.toFixed(1))} m³`;
}
