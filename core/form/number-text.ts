/** Numbers as people write them: digits, at most one decimal point, and commas between groups of three. */

const PLAIN = /^[+-]?(\d+\.?\d*|\.\d+)$/;
const GROUPED = /^[+-]?\d{1,3}(,\d{3})+(\.\d*)?$/;

/** The digits of a written number without its commas, or null when it is no number: "1,234.5" gives "1234.5". */
export function plainDigits(text: string): string | null {
  const trimmed = text.trim().replace(/^\u2212/, "-");
  if (PLAIN.test(trimmed)) return trimmed;
  return GROUPED.test(trimmed) ? trimmed.replaceAll(",", "") : null;
}

/** Moves the decimal point of a number without the noise of a multiplication: 0.123 moved by 2 is 12.3. */
export function movePoint(value: number, by: number): number {
  const [digits, exponent = "0"] = String(value).split("e");
  return Number(`${digits}e${Number(exponent) + by}`);
}

/** Fewest digits that a number that is not zero is shown with. */
const LEAST_DIGITS = 3;

/** How a number is written. */
export interface NumberStyle {
  readonly decimals: number;
  /** Decimals that stand there even when they are zero, as with money. */
  readonly leastDecimals?: number;
  /** With commas between groups of three; a year has none. */
  readonly grouped: boolean;
}

/** A number with at most so many decimals, but never so few that fewer than three of its digits are left. */
export function numberText(value: number, { decimals, leastDecimals = 0, grouped }: NumberStyle): string {
  const tiny = value !== 0 && Math.abs(value) < 10 ** (LEAST_DIGITS - 1 - decimals);
  const text = value.toLocaleString("en-US", {
    useGrouping: grouped,
    ...(tiny && leastDecimals === 0
      ? { maximumSignificantDigits: LEAST_DIGITS }
      : { minimumFractionDigits: leastDecimals, maximumFractionDigits: decimals }),
  });
  return text.replace(/^-(?=[0.]+$)/, "");
}
