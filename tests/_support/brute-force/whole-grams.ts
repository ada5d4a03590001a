/** Weights this close to all there is are all there is. */
const ALL_BUT_G = 3;

/**
 * Kilograms as whole grams, taken one after another from a whole of so many grams: their running sum is rounded, so that each part is within
 * a gram and what is used up is used up to the last gram.
 */
export function wholeGrams(partsKg: readonly number[], wholeG: number): number[] {
  let sumKg = 0, sumG = 0;
  const parts = partsKg.map((massKg) => {
    sumKg += massKg;
    const massG = Math.round(sumKg * 1000) - sumG;
    sumG += massG;
    return massG;
  });
  const left = wholeG - sumG;
  if (parts.length > 0 && (left < 0 || Math.abs(left) <= ALL_BUT_G)) parts[parts.length - 1]! += left;
  return parts;
}
