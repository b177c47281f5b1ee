/** What comparisons on the same luck say, of tactics and of layouts, held to their tables. */
import { expect } from "vitest";
import type { LayoutStudy } from "../../src/study/layouts/layout-results.ts";
import type { LuckFigure, SameLuck } from "../../src/study/luck-results.ts";
import type { Comparison, TacticResult } from "../../src/study/results.ts";
import { LAYOUT_READERS } from "./layouts.ts";
import { between, expectList, named, PLAIN, type Readers } from "./reader.ts";

function luckOf({ replications: luck }: Pick<Comparison | LayoutStudy, "replications">): SameLuck {
  if (luck === undefined) throw new Error("nothing of luck");
  return luck;
}

const idsOf = ({ figures }: SameLuck): string[] => figures[0]?.variants.map(({ id }) => id) ?? [];
const open = (figure: LuckFigure | undefined): readonly string[] => figure?.not_told_apart ?? [];

function deciding(study: Comparison): LuckFigure {
  const { deciding: own, figures } = luckOf(study);
  const found = own ?? figures.find(({ figure }) => figure === "ramp_up_loss");
  if (found === undefined) throw new Error("no loss");
  return found;
}

function row({ tactics }: Comparison, id: string | null | undefined): TacticResult {
  const found = tactics.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no row ${id}`);
  return found;
}

/** Of the leader: who is not told apart from it, and how many replications would tell. */
function expectOpen(text: string, luck: SameLuck, figure: LuckFigure | undefined): void {
  expect(text.includes("not told apart from")).toBe(figure?.told_apart === false && open(figure).length > 0);
  const whom = between(text, "not told apart from ", " with ");
  if (whom !== "" && whom !== "any other") expectList(whom, idsOf(luck), open(figure));
  expectAbout(text, luck, figure);
}

function expectAbout(text: string, luck: SameLuck, figure: LuckFigure | undefined): void {
  const [, about, look] = /about ([\d ]+) replications \(--look (\d+)\)/.exec(text) ?? [];
  if (about === undefined) return;
  expect(Number(about.replaceAll(" ", ""))).toBe(Number((figure?.about ?? NaN).toPrecision(2)));
  expect(Number(look)).toBe(luck.look + 1);
}

const FIGURE_NAMES: Readonly<Record<LuckFigure["figure"], string>> = {
  ramp_up_loss: "Ramp-up loss",
  settled_output_per_min: "Settled output",
  hold_up_settled: "Settled hold-up",
  evenness_at_half_feed: "Evenness on half the feed",
};

function figureReader(text: string, study: Pick<Comparison | LayoutStudy, "replications">): void {
  const luck = luckOf(study);
  const figure = luck.figures.find(({ figure: name }) => text.startsWith(`${FIGURE_NAMES[name]}: `));
  expect(figure, text).toBeDefined();
  if (figure && figure.leader !== null) expect(named(text, idsOf(luck))[0]).toBe(figure.leader);
  expectOpen(text, luck, figure);
}

/** What is said of the runs alone. */
const OF_RUNS: Readers<Pick<Comparison | LayoutStudy, "replications">> = {
  figure: figureReader,
  luck: (text, study) => expect(text).toContain(`means over ${luckOf(study).n} replications`),
  slower: (text, study) => expectList(text, idsOf(luckOf(study)), luckOf(study).slower_for_good),
  "few-stops": (text, study) => {
    const rare = luckOf(study).stops.filter(({ enough }) => !enough);
    expect(rare.length).toBeGreaterThan(0);
    for (const { of } of rare) expect(text).toContain(`of ${of}`);
    expect(rare.every(({ seen }) => seen < 50)).toBe(true);
  },
  "no-end": (text, study) =>
    expectList(between(text, "found with ", ", so that"), idsOf(luckOf(study)), luckOf(study).without_end),
};

export const COMPARISON_ON_LUCK_READERS: Readers<Comparison> = {
  ...OF_RUNS,
  winner: (text, study) => {
    const figure = deciding(study);
    const [first] = named(text, idsOf(luckOf(study)));
    if (text.startsWith("No winner")) {
      expect([study.winner, first]).toEqual([null, figure.leader]);
      expectOpen(text, luckOf(study), figure);
    } else if (text.includes(" wins: ")) {
      expect([study.winner, figure.leader, figure.told_apart]).toEqual([first, first, true]);
    } else if (text.startsWith("There is no choice but ")) {
      expect([study.winner, figure.leader]).toEqual([first, null]);
      const keeps = (one: TacticResult): boolean => (one.over_limit_min ?? 0) + (one.over_limit_items ?? 0) === 0;
      const slower = luckOf(study).slower_for_good;
      const rivals = study.tactics.filter(
        (one) => one.granted && one.settled_per_min !== 0 && !slower.includes(one.id) && keeps(one),
      );
      // What seems to give up stock is no rival either.
      for (const { id } of rivals.filter(({ id: other }) => other !== first)) {
        const less = luckOf(study).times.find((time) => time.id === id)?.later_less_per_min;
        expect(less, id).toBeGreaterThan(0);
      }
    } else if (text.startsWith("There is no winner")) expect(study.winner).toBeNull();
    else expect(study.winner).toBe("none");
    expect(text.includes("what is left")).toBe(
      study.winner === "none" && study.nothing_qualifies && study.tactics.length > 1,
    );
    const lost = / up to [^,]+, (a gain of )?([\d ]+) items?/.exec(text);
    if (lost === null) return;
    const mean = figure.variants.find(({ id }) => id === figure.leader)?.value?.mean ?? NaN;
    expect(Math.abs(Number(lost[2]?.replaceAll(" ", "")) * (lost[1] === undefined ? 1 : -1) - mean)).toBeLessThan(0.51);
  },
  sure: (text, study) => {
    const { leader, variants, told_apart: isTold } = deciding(study);
    const behind = variants.flatMap(({ id, from_leader: paired }) => ((paired?.told ?? null) === null ? [] : [id]));
    if (text.includes("nothing yet")) expect(behind).toEqual([]);
    else if (text.includes("only that ")) {
      expect(named(between(text, "only that "), idsOf(luckOf(study)))[0]).toBe(leader);
      expectList(between(text, "less than "), idsOf(luckOf(study)), behind);
    } else {
      expect(isTold).toBe(true);
      // Whoever is next, no other is nearer.
      const next = named(text, idsOf(luckOf(study))).at(-1);
      const distance = (id: string | undefined): number =>
        variants.find((one) => one.id === id)?.from_leader?.mean ?? Infinity;
      expect(distance(next)).toBe(Math.min(...behind.map(distance)));
    }
  },
  more: (text, study) => expectAbout(text, luckOf(study), deciding(study)),
  "against-none": (text, study) => {
    const luck = luckOf(study);
    const loss = luck.figures.find(({ figure }) => figure === "ramp_up_loss");
    const are = (told: "less" | "more" | null): string[] =>
      loss?.variants.flatMap(({ id, from_baseline: paired }) =>
        paired !== null && paired.told === told ? [id] : [],
      ) ?? [];
    const parts = text.replace(/^Against doing nothing, /, "").split("; ");
    const part = (begins: string): string => parts.find((one) => one.startsWith(begins)) ?? "";
    expectList(part("fewer"), idsOf(luck), are("less"));
    expectList(part("more"), idsOf(luck), are("more"));
    expectList(part("not told"), idsOf(luck), are(null));
  },
  "beyond-means": (text, study) => {
    const [first, other] = named(text, idsOf(luckOf(study)));
    expect(row(study, first).granted).toBe(false);
    expect([study.best_with_hands, study.best_with_other_means]).toContain(first);
    expect(other).toBe(study.winner);
    expect(row(study, first).ramp_up_loss).toBeLessThan(row(study, study.winner).ramp_up_loss ?? -Infinity);
  },
  "without-reserve": (text, study) => {
    const one = row(study, named(text, idsOf(luckOf(study)))[0]);
    expect(one.id).toBe(study.best_without_reserve);
    const less = luckOf(study).times.find(({ id }) => id === one.id)?.later_less_per_min ?? 0;
    expect(less).toBeGreaterThan(0);
    expect(Number(between(text, "makes ", "/min").replaceAll(" ", "")) / less).toBeCloseTo(1, 2);
  },
  choice: (text, study) =>
    expectList(
      text.split(": none")[0] ?? "",
      idsOf(luckOf(study)),
      study.tactics.flatMap(({ id, undominated }) => (undominated ? [id] : [])),
    ),
  beaten: (text, study) =>
    expectList(
      between(text, "in none: "),
      idsOf(luckOf(study)),
      study.tactics.flatMap((one) => (one.beaten_by === null || one.settled_per_min === 0 ? [] : [one.id])),
    ),
  stopped: (text, study) =>
    expectList(
      text,
      idsOf(luckOf(study)),
      study.tactics.flatMap((one) => (one.settled_per_min === 0 ? [one.id] : [])),
    ),
  note: PLAIN,
};

export const LAYOUTS_ON_LUCK_READERS: Readers<LayoutStudy> = {
  ...LAYOUT_READERS,
  ...OF_RUNS,
  recommended: (text, study) => {
    const luck = luckOf(study);
    expect(text.startsWith("None is recommended")).toBe(study.recommended === null);
    if (study.priority !== "fast" && study.priority !== "even") return;
    const name = study.priority === "fast" ? "ramp_up_loss" : "evenness_at_half_feed";
    const figure = luck.figures.find(({ figure: own }) => own === name);
    const said = between(text, "): ");
    if (study.recommended !== null) expect([study.recommended, figure?.told_apart]).toEqual([figure?.leader, true]);
    else if (said.includes("not told apart")) expectList(between(said, "apart from ", ";"), idsOf(luck), open(figure));
    expect(named(said, idsOf(luck))[0]).toBe(figure?.leader ?? undefined);
  },
  choice: (text, study) => {
    const names = study.layouts.flatMap(({ id, undominated }) => (undominated && id !== study.recommended ? [id] : []));
    if (!text.startsWith("There is nothing")) expectList(text, idsOf(luckOf(study)), names);
  },
};
