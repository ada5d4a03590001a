/** The standard normal distribution, needed because seed deaths are spread normally in time. */

/** Beyond eight standard deviations the area left over is below 1e-15. */
const FAR = 8;

/** Height of the normal curve at z. */
function density(z: number): number {
  return Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI);
}

/**
 * Area of the normal curve left of z, by the series z + z^3/3 + z^5/15 + … (Abramowitz and Stegun, 26.2.11).
 */
export function normalArea(z: number): number {
  if (z > FAR) return 1;
  if (z < -FAR) return 0;
  let term = z, sum = z;
  for (let odd = 3; Math.abs(term) > 1e-17; odd += 2) {
    term *= z * z / odd;
    sum += term;
  }
  return 0.5 + density(z) * sum;
}

/** The z left of which the area is `area` (the probit). Throws a RangeError unless 0 < area < 1. */
export function normalDeviate(area: number): number {
  if (!(area > 0 && area < 1)) {
    throw new RangeError(`A normal deviate exists only for a fraction between 0 and 1, not for ${area}.`);
  }
  if (area < 0.5) return -normalDeviate(1 - area);
  // Right of zero the curve of areas bends down, so Newton's steps from zero climb to the root and never pass
  // it.
  let z = 0;
  for (let round = 0; round < 100; round++) {
    const step = (area - normalArea(z)) / density(z);
    z += step;
    if (step < 1e-13) break;
  }
  return z;
}
