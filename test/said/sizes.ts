/** What a lengthened chain's study says, held to its table. */
import { expect } from "vitest";
import type { Growth, GrowthStep } from "../../src/study/results.ts";
import { between, PLAIN, type Readers } from "./reader.ts";

/** "4 machines", "with 40". */
function counted(text: string): number[] {
  return [...text.matchAll(/(\d+)(?: machines?|(?=[,.:] ?|$))/g)].map(([, count]) => Number(count));
}

function figure(text: string): number {
  const [over = "", under = "1"] = text.split("/");
  return Number(over) / Number(under);
}

const rate = (step: GrowthStep): number => figure(step.settled_per_min ?? String(step.measured_per_min ?? 0));
/** An exact rate to the last, a measured one to a thousandth. */
const isLess = (step: GrowthStep): boolean =>
  rate(step) < figure(step.full_per_min) * (step.settled_per_min === null ? 0.999 : 1 - 1e-6);

export const GROWTH_READERS: Readers<Growth> = {
  worth: (text, { sizes, worth_up_to: most }) => {
    const bad = sizes.findIndex((one) => isLess(one) || one.settling_min === null || one.limits_broken.length > 0);
    expect(most).toBe(bad < 0 ? sizes.at(-1)?.machines : (sizes[bad - 1]?.machines ?? null));
    if (most !== null) expect(text).toContain(`Up to ${most} machine`);
    else expect(text).toContain("none of these sizes is worth having");
  },
  limits: (text, { sizes }) => {
    const broken = sizes.filter((one) => one.limits_broken.length > 0);
    expect(counted(text)[0]).toBe(broken[0]?.machines);
    expect(Number(/and with (\d+) other/.exec(text)?.[1] ?? 0)).toBe(broken.length - 1);
  },
  "too-small": (text, { sizes, too_small: small }) => {
    if (small === null) expect(text).toMatch(/^Up to \d+ machines every belt/);
    else expect(sizes.find((one) => (one.headroom_per_min ?? "0").startsWith("-"))?.machines).toBe(small.from_machines);
  },
  settling: PLAIN,
  tolerance: PLAIN,
  items: (text, { sizes }) => {
    const known = sizes.filter(({ ramp_up_loss: loss }) => loss !== null);
    const told = /goes from (−?\d+) to (−?\d+)/.exec(text.replaceAll(/(?<=\d) (?=\d)/g, "")) ?? [];
    const count = (digits = ""): number => Number(digits.replace("−", "-"));
    expect(Math.abs(count(told[1]) - (known[0]?.ramp_up_loss ?? Infinity))).toBeLessThan(0.51);
    expect(Math.abs(count(told[2]) - (known.at(-1)?.ramp_up_loss ?? Infinity))).toBeLessThan(0.51);
  },
  short: (text, { sizes }) => {
    const slower = sizes.filter((one) => one.settling_min !== null && isLess(one));
    expect(counted(between(text, "could be: "))[0]).toBe(slower[0]?.machines);
    expect(Number(/and (\d+) longer/.exec(text)?.[1] ?? 0)).toBe(slower.length - 1);
  },
  unsettled: (text, { sizes }) => {
    const open = sizes.filter(({ settling_min: at, stops_at_min: stop }) => at === null && stop === null);
    for (const one of open) expect(one.slower_for_good).toBe(false);
    expect(text).toContain(`with ${open[0]?.machines}`);
  },
  stopped: (text, { sizes }) => {
    const standing = sizes.filter((one) => rate(one) === 0);
    expect(text).toContain(`with ${standing[0]?.machines}`);
  },
  unproved: PLAIN,
};
