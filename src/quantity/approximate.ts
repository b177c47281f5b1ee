/** Numbers from exact values, without a library of fractions. */

/** @param exact as results carry it: a whole number or a fraction */
export function approximateText(exact: string): number {
  const [, numerator, denominator = "1"] = /^(-?\d+)(?:\/(\d+))?$/.exec(exact) ?? [];
  return numerator === undefined ? Number(exact) : quotientOf(BigInt(numerator), BigInt(denominator));
}

/**
 * The nearest floating-point number, or nearly, of a quotient that is not reduced: a numerator or denominator beyond 2^1024 would
 * overflow by itself, although the quotient does not.
 */
export function quotientOf(numerator: bigint, denominator: bigint): number {
  const bits = (part: bigint) => part.toString(16).length * 4;
  const excess = BigInt(Math.max(bits(numerator), bits(denominator), 1000) - 1000);
  const size = Number((numerator < 0n ? -numerator : numerator) >> excess) / Number(denominator >> excess);
  return numerator < 0n ? -size : size;
}
