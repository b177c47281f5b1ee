/** From when an output keeps up for good with shares of what it settles at. */
import { keepsUpFrom, type Leeway } from "./keeping-up.ts";
import type { MadeCurve } from "./made-curve.ts";
import type { SettledPattern, Stretch } from "./settled-pattern.ts";

/** In ticks from the start; `null`: it never does. */
export interface Times {
  readonly to50: number | null;
  readonly to90: number | null;
  readonly to95: number | null;
  readonly to99: number | null;
  readonly full: number | null;
  /** What counts as full output: see `SettledPattern`. */
  readonly fullShare: number;
}

export const NEVER: Times = { to50: null, to90: null, to95: null, to99: null, full: null, fullShare: 1 };

/** When a machine begins its first cycle, and what it makes in the long run. */
export interface FirstCycle {
  readonly tick: number;
  readonly perMin: number;
}

/** Where the last thousandth takes as long again as all before it, full output is told without it. */
const ALL_BUT_CRUMBS = 0.999;

/**
 * No share is kept up with before machines that make it have begun; 95 % never comes after full output.
 * @param saturatedTick from when all machines that never wait in the long run, and count, have settled
 */
export function timesOf(
  curve: MadeCurve,
  { perTick, leeway, fullShare }: SettledPattern,
  { fromTick }: Stretch,
  firsts: readonly FirstCycle[],
  saturatedTick: number,
): Times {
  const from = (share: number, most: Leeway, earliest: number): number =>
    Math.max(fromTick, earliest, keepsUpFrom(curve, share * perTick, most));
  const atLeast = { short: leeway, over: Infinity };
  const neither = { short: leeway, over: leeway };
  if (perTick === 0) return { ...NEVER, full: from(1, neither, 0) };
  const begun = begunOf(firsts);
  const to = (share: number): number => from(share, atLeast, begun.share(share));
  const to99 = to(0.99);
  const shares = { to50: to(0.5), to90: to(0.9), to95: to(0.95), to99 };
  const nearlyFull = (share: number): number => Math.max(to99, from(share, atLeast, begun.allButSmall));
  if (fullShare < 1) return { ...shares, full: nearlyFull(fullShare), fullShare };
  const full = Math.max(to99, from(1, neither, begun.allButSmall), saturatedTick);
  const nearly = Math.max(nearlyFull(ALL_BUT_CRUMBS), from(1, { short: Infinity, over: leeway }, 0));
  const hasCrumbs = nearly - fromTick < (full - fromTick) / 2;
  return { ...shares, ...(hasCrumbs ? { full: nearly, fullShare: ALL_BUT_CRUMBS } : { full, fullShare }) };
}

/** A machine that makes less than this part of an equal share may begin after full output. */
const SMALL = 1 / 4;

/** When machines have begun that together make a share of the output, and all but those of small parts. */
function begunOf(firsts: readonly FirstCycle[]) {
  const inAll = firsts.reduce((total, { perMin }) => total + perMin, 0);
  const inOrder = firsts.toSorted((a, b) => a.tick - b.tick);
  const share = (part: number): number => {
    let made = 0;
    for (const { tick, perMin } of inOrder) {
      made += perMin;
      if (made >= part * inAll * (1 - 1e-9)) return tick;
    }
    return 0;
  };
  const least = countsFrom(firsts);
  const allButSmall = Math.max(0, ...firsts.map(({ tick, perMin }) => (perMin >= least ? tick : 0)));
  return { share, allButSmall };
}

/** From how much a machine's part counts. @param parts of those that run in the long run */
export function countsFrom(parts: readonly { readonly perMin: number }[]): number {
  return (SMALL * parts.reduce((total, { perMin }) => total + perMin, 0)) / Math.max(1, parts.length);
}
