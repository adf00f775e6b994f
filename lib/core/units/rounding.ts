/** The number nearest to `value` with so many decimal places: for data that is kept or drawn, not for text. */
export const roundTo = (value: number, decimals: number): number => Number(value.toFixed(decimals));

/** The number nearest to `value` with so many significant figures. */
export const roundToFigures = (value: number, figures: number): number => Number(value.toPrecision(figures));
