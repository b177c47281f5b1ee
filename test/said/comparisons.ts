/** What a comparison of tactics says, held to its table. */
import { expect } from "vitest";
import type { Comparison, TacticResult } from "../../src/study/results.ts";
import { between, expectList, expectLoss, lossIn, named, PLAIN, type Readers } from "./reader.ts";

const going = (one: TacticResult): boolean => one.settled_per_min !== 0;
const over = (one: TacticResult): number => one.over_limit_item_min ?? 0;

function idsOf({ tactics }: Comparison): string[] {
  return tactics.map(({ id }) => id);
}

function row({ tactics }: Comparison, id: string | null | undefined): TacticResult {
  const found = tactics.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no row ${id}`);
  return found;
}

/** By the rule in words: soundness, what the floor grants, the stock. */
function qualifies(one: TacticResult): boolean {
  return (
    going(one) && !one.slower_for_good && one.settling_min !== null && one.granted && (one.reserve_kept ?? 0) >= 0.9
  );
}

/** In limits, then loss, then time, each beyond what counts as equal. */
function isBetter(
  one: TacticResult,
  other: TacticResult,
  { equal_within_items: items, settled_per_min }: Comparison,
): boolean {
  if (over(one) < over(other) * 0.99 - 1e-6) return true;
  if (over(one) * 0.99 - 1e-6 > over(other)) return false;
  const loss = (one.ramp_up_loss ?? Infinity) - (other.ramp_up_loss ?? Infinity);
  if (Math.abs(loss) > items + 1e-3) return loss < 0;
  const minutes = items / (settled_per_min || 1);
  const time = (one.to_95_min ?? Infinity) - (other.to_95_min ?? Infinity);
  if (Math.abs(time) > minutes + 1e-6) return time < 0;
  return one.items_handled < other.items_handled;
}

const four = (one: TacticResult): number[] => [
  one.slower_for_good ? Infinity : (one.settling_min ?? Infinity),
  one.slower_for_good ? Infinity : (one.ramp_up_loss ?? Infinity),
  one.items_handled,
  one.hold_up_peak,
];

function dominates(one: TacticResult, other: TacticResult): boolean {
  const [a, b] = [four(one), four(other)];
  return a.every((value, i) => value <= (b[i] ?? 0)) && a.some((value, i) => value < (b[i] ?? 0));
}

function beside(id: keyof Pick<Comparison, "best_without_reserve" | "best_with_hands" | "best_with_other_means">) {
  return (text: string, study: Comparison): void => {
    const one = row(study, study[id]);
    expect(named(text, idsOf(study))[0]).toBe(one.id);
    expectLoss(text, one.ramp_up_loss);
    expect(qualifies(one)).toBe(false);
    expect(one.slower_for_good || one.settling_min === null).toBe(false);
    if (study.winner !== null && going(row(study, "none")))
      expect(isBetter(row(study, study.winner), one, study)).toBe(false);
    expect(text.includes("keeps the limits")).toBe(
      study.winner !== null && row(study, study.winner).limits_broken.length > 0 && one.limits_broken.length === 0,
    );
  };
}

export const COMPARISON_READERS: Readers<Comparison> = {
  winner: (text, study) => {
    if (study.winner === null) {
      expect(text).toMatch(/standstill|No feed offers/);
      expect(study.tactics.some((one) => qualifies(one) && one.id !== "none")).toBe(false);
      return;
    }
    const won = row(study, study.winner);
    expectLoss(text, won.ramp_up_loss);
    if (won.id === "none") {
      expect(text).toMatch(/^Doing nothing is |better than doing nothing/);
      const others = study.tactics.filter((one) => one.id !== "none" && qualifies(one));
      if (text.includes("what is left")) expect(study.nothing_qualifies).toBe(true);
      for (const one of study.nothing_qualifies ? [] : others) expect(isBetter(one, won, study), one.id).toBe(false);
      return;
    }
    expect(named(text, idsOf(study))[0]).toBe(won.id);
    expect(qualifies(won)).toBe(true);
    const none = row(study, "none");
    if (going(none)) expect(isBetter(none, won, study)).toBe(false);
    const instead = /instead of (?:losing )?(\d[\d ]*)(?:,|$)/.exec(text)?.[1];
    if (instead !== undefined && lossIn(text) !== null) {
      expect(Math.abs(Number(instead.replaceAll(" ", "")) - Math.abs(none.ramp_up_loss ?? Infinity))).toBeLessThan(
        0.51,
      );
    }
    if (text.includes(", as with nothing done"))
      expect(
        Math.abs((won.ramp_up_loss ?? 0) - (none.ramp_up_loss ?? 0)) <= study.equal_within_items + 0.01 ||
          Math.abs((won.to_95_min ?? 0) - (none.to_95_min ?? 0)) < 0.2,
      ).toBe(true);
  },
  limits: (text, study) => {
    const keeping = study.tactics.filter((one) => one.limits_broken.length === 0).map(({ id }) => id);
    const won = row(study, study.winner);
    if (text.startsWith("The limits are kept")) {
      expect(won.limits_broken).toEqual([]);
      for (const id of named(between(text, "; with "), idsOf(study))) expect(keeping).not.toContain(id);
    } else if (text.includes("None keeps all limits")) expect(keeping).toEqual([]);
    else expectList(between(text, "kept by "), idsOf(study), keeping);
  },
  "without-reserve": (text, study) => {
    beside("best_without_reserve")(text, study);
    expect(row(study, study.best_without_reserve).reserve_kept).toBeLessThan(0.9);
  },
  "with-hands": (text, study) => {
    beside("best_with_hands")(text, study);
    expect(row(study, study.best_with_hands)).toMatchObject({ by_hand: true, granted: false });
  },
  "with-other-means": (text, study) => {
    beside("best_with_other_means")(text, study);
    expect(row(study, study.best_with_other_means).granted).toBe(false);
  },
  "while-stopped": (text, study) => {
    const made = study.tactics
      .filter((one) => going(one) && !one.slower_for_good)
      .flatMap(({ id, made_while_stopped: { feeds } }) => (feeds === null ? [] : [{ id, feeds }]));
    const at = (value: number): string[] => made.filter(({ feeds }) => feeds === value).map(({ id }) => id);
    const [most, least] = [Math.max(...made.map(({ feeds }) => feeds)), Math.min(...made.map(({ feeds }) => feeds))];
    if (text.includes("whatever is done")) expect(most).toBe(least);
    else {
      expectList(between(text, " with ", ", the most"), idsOf(study), at(most));
      const last = /.* \d[\d ]* with (.*), the least/.exec(text)?.[1] ?? "";
      expectList(last, idsOf(study), at(least));
    }
  },
  choice: (text, study) => {
    const unbeaten = study.tactics.filter(
      (one) => going(one) && !study.tactics.some((other) => going(other) && dominates(other, one)),
    );
    if (text.includes("nothing to weigh")) expect(unbeaten).toHaveLength(1);
    expectList(
      text.replaceAll("doing nothing (none)", "none").replace(/ none is better|: none of these.*/, ""),
      idsOf(study),
      unbeaten.map(({ id }) => id),
    );
  },
  beaten: (text, study) => {
    for (const part of between(text, "in one: ").split("; ")) {
      const names = named(part, idsOf(study));
      const by = row(study, names.at(-1));
      for (const id of names.slice(0, -1)) expect(dominates(by, row(study, id)), `${by.id} beats ${id}`).toBe(true);
    }
  },
  same: (text, study) => {
    const all = study.tactics.flatMap(({ id, same_as: others }) => [id, ...others]);
    for (const part of between(text, "Item for item, ").split("; ")) {
      const names = named(part, all);
      expectList(part, all, [row(study, names.at(-1)).id, ...row(study, names.at(-1)).same_as]);
    }
  },
  stopped: (text, study) =>
    expectList(
      text.split("A start that")[0] ?? "",
      idsOf(study),
      study.tactics.filter((one) => !going(one)).map(({ id }) => id),
    ),
  slower: (text, study) => {
    const slower = study.tactics.filter((one) => one.slower_for_good && going(one));
    expectList(
      text,
      idsOf(study),
      slower.map(({ id }) => id),
    );
    // What has not settled yet is not known to be.
    for (const one of slower) expect(one.settling_min).not.toBeNull();
  },
  unsettled: (text, study) => {
    const open = study.tactics.filter((one) => going(one) && one.settling_min === null);
    expectList(
      text,
      idsOf(study),
      open.map(({ id }) => id),
    );
    for (const one of open) expect(one.slower_for_good).toBe(false);
  },
  unproved: (text, study) => {
    const open = study.tactics.filter((one) => one.settling_min !== null && !one.proved).map(({ id }) => id);
    if (text.startsWith("All")) expect(open).toHaveLength(study.tactics.length);
    else expectList(text, idsOf(study), open);
  },
  baseline: (text, study) => {
    const { min_10, min_30, min_60 } = row(study, "none").made;
    const told = [...text.matchAll(/(\d[\d ]*) items? in the first (\d+)/g)].map(([, made = "", min]) => [
      Number(made.replaceAll(" ", "")),
      min,
    ]);
    expect(told).toEqual(
      [
        [min_10, "10"],
        [min_30, "30"],
        [min_60, "60"],
      ].flatMap(([made, min]) => (made === null ? [] : [[Math.round(Number(made)), min]])),
    );
  },
  note: PLAIN,
};
