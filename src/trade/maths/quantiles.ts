// Where a distribution's tails begin: plain numbers, good to ten digits, as they say how unsure a mean is and never become money.

/**
 * The value that a Beta(a, b) stays below with a probability.
 *
 * @param probability between 0 and 1
 * @param a           above zero, as b
 * @returns 0..1
 * @throws RangeError outside the above
 */
export function betaQuantile(probability: number, a: number, b: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError('A probability must be between 0 and 1.');
  if (!(a > 0 && b > 0)) throw new RangeError('The shapes of a beta distribution must be above 0.');
  let [low, high] = [0, 1];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (betaBelow(middle, a, b) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * The value that Student's t stays below with a probability, by its relation to the beta distribution: with x the (2 - 2p) quantile
 * of Beta(freedom / 2, 1 / 2), t is the root of freedom (1 / x - 1).
 *
 * @param probability at least a half, below 1
 * @param freedom     degrees of freedom, above zero
 * @throws RangeError outside the above
 */
export function studentQuantile(probability: number, freedom: number): number {
  if (!(probability >= 0.5 && probability < 1)) throw new RangeError('A probability must be between 0.5 and 1.');
  if (probability === 0.5) return 0;
  const x = betaQuantile(2 * (1 - probability), freedom / 2, 0.5);
  return Math.sqrt(freedom * (1 / x - 1));
}

const HALVINGS = 60;
const TERMS = 200;

/** The probability that a Beta(a, b) stays below x: the regularised incomplete beta function, by its continued fraction (DLMF 8.17.22). */
function betaBelow(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - betaBelow(1 - x, b, a); // where the fraction settles fast
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b)) / a;
  return front * fraction(x, a, b);
}

/** From the inside out; it settles in about as many terms as the root of the larger shape, so that these do for thousands of pieces. */
function fraction(x: number, a: number, b: number): number {
  let value = 1;
  for (let j = TERMS; j > 0; j--) {
    const m = Math.floor(j / 2);
    const even = (m * (b - m)) / ((a + 2 * m - 1) * (a + 2 * m));
    const odd = -((a + m) * (a + b + m)) / ((a + 2 * m) * (a + 2 * m + 1));
    value = 1 + ((j % 2 === 0 ? even : odd) * x) / value;
  }
  return 1 / value;
}

/** The logarithm of the gamma function: Stirling's series (DLMF 5.11.1) from ten on, where four terms give all digits. */
function logGamma(x: number): number {
  let [z, less] = [x, 0];
  for (; z < 10; z++) less += Math.log(z);
  const square = z * z;
  const series = (1 / 12 - (1 / 360 - (1 / 1260 - 1 / (1680 * square)) / square) / square) / z;
  return (z - 0.5) * Math.log(z) - z + Math.log(2 * Math.PI) / 2 + series - less;
}
