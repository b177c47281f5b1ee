/** Whole numbers below a limit; the same on every run (S. Park, K. Miller, Communications of the ACM 31(10), 1988). */
export function random(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 48_271) % 2_147_483_647;
    return state % below;
  };
}
