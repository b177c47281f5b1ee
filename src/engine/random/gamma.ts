/**
 * The gamma function for arguments from 1, by the recurrence Γ(x) = Γ(x + 1) / x up to where Stirling's series is exact to
 * the last few bits (M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 1964, 6.1.15 and 6.1.40; from memory).
 */

const FAR_ENOUGH = 16;

export function gamma(x: number): number {
  let far = x;
  let product = 1;
  while (far < FAR_ENOUGH) {
    product *= far;
    far += 1;
  }
  const inverse = 1 / (far * far);
  const series = (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse * (1 / 1680 - inverse / 1188)))) / far;
  return Math.exp((far - 0.5) * Math.log(far) - far + 0.5 * Math.log(2 * Math.PI) + series) / product;
}
