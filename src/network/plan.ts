/**
 * How a tree shares one flow out: at each divider into equal parts, each of which is divided again or goes to one target.
 * Targets are numbers: consumers in their order, and after the last of them, where some comes back, the return.
 */
export type Plan = { readonly target: number } | { readonly parts: readonly Plan[] };

/** Every target once, each with the same share: dividers of the first count of ways on top, and so on. */
export function equalPlan(ways: readonly number[], first = 0): Plan {
  const [fan, ...further] = ways;
  if (fan === undefined) return { target: first };
  const below = further.reduce((product, way) => product * way, 1);
  return { parts: Array.from({ length: fan }, (_, way) => equalPlan(further, first + way * below)) };
}

/** Parts of a divider in the order of the first target that each leads to. */
export function inOrder(plan: Plan): Plan {
  return ordered(plan).plan;
}

function ordered(plan: Plan): { readonly plan: Plan; readonly first: number } {
  if ("target" in plan) return { plan, first: plan.target };
  const parts = plan.parts.map(ordered).toSorted((a, b) => a.first - b.first);
  return { plan: { parts: parts.map((part) => part.plan) }, first: parts[0]?.first ?? 0 };
}

/**
 * Which of several targets with the same share stands where makes no difference: they take their places in rising order, and
 * whatever leads to the return comes last.
 * @param counts of each target, the return's too
 * @param back the return; a target that there is not where nothing returns
 */
export function toldInOrder(plan: Plan, counts: readonly number[], back: number): Plan {
  const last = returnLast(plan, back).plan;
  const waiting = new Map<number, number[]>();
  for (let target = counts.length - 1; target >= 0; target--) {
    const count = counts[target] ?? 0;
    const alike = waiting.get(count) ?? [];
    if (target !== back) waiting.set(count, alike);
    alike.push(target);
  }
  const named = new Map([[back, back]]);
  for (const target of targetsOf(last)) {
    if (!named.has(target)) named.set(target, waiting.get(counts[target] ?? 0)?.pop() ?? target);
  }
  return renamed(last, named);
}

function returnLast(plan: Plan, back: number): { readonly plan: Plan; readonly leads: boolean } {
  if ("target" in plan) return { plan, leads: plan.target === back };
  const parts = plan.parts.map((part) => returnLast(part, back));
  const inOrder = parts.toSorted((a, b) => Number(a.leads) - Number(b.leads));
  return { plan: { parts: inOrder.map((part) => part.plan) }, leads: parts.some(({ leads }) => leads) };
}

function renamed(plan: Plan, named: ReadonlyMap<number, number>): Plan {
  if ("target" in plan) return { target: named.get(plan.target) ?? plan.target };
  return { parts: plan.parts.map((part) => renamed(part, named)) };
}

/** The targets below, each as often as it has leaves. */
export function targetsOf(plan: Plan): number[] {
  return "target" in plan ? [plan.target] : plan.parts.flatMap(targetsOf);
}

export function dividersIn(plan: Plan): number {
  return "target" in plan ? 0 : plan.parts.reduce((count, part) => count + dividersIn(part), 1);
}
