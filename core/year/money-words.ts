/** Whole units of a currency, as "€12,300": a plan's cents are spurious. `cents` may be negative. */
export function moneyAmount(cents: number, currency: string): string {
  return (cents / 100).toLocaleString("en-US", { style: "currency", currency, maximumFractionDigits: 0 });
}
