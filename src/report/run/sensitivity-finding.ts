/** Which stated figures matter most: a sentence of three, and a table of all. */
import type { Result, Sensitivity, SensitivityEffect } from "../../analysis/result.ts";
import { countOrDash, minutesOrDash, rateOrDash } from "../text/cells.ts";
import { duration, items, listed, longRun, rate, significant } from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { escapeMarkdown, left, markdownTable, right } from "../text/markdown-text.ts";
import { oneLine } from "../text/text-width.ts";

const WORDS: Readonly<Record<Sensitivity["figure"], { readonly less: string; readonly more: string }>> = {
  feed: { less: "5\u00a0% less from", more: "5\u00a0% more from" },
  cycle: { less: "cycles 5\u00a0% shorter at", more: "cycles 5\u00a0% longer at" },
  room: { less: "5\u00a0% less room at", more: "5\u00a0% more room at" },
  belts: { less: "belts 5\u00a0% slower in", more: "belts 5\u00a0% faster in" },
};

const MOST_NAMED = 3;

/** By how much they change what is made within the horizon; what changes less than a product is not named. */
export function sensitivityFinding(result: Result): Finding[] {
  const changes = (result.sensitivity ?? []).flatMap((row) =>
    (["less", "more"] as const).flatMap((which) => {
      const effect = row[which];
      return effect === null ? [] : { row, which, effect, made: effect.made - result.output.made };
    }),
  );
  // Of each figure the change that matters more.
  const largest = new Map<Sensitivity, (typeof changes)[number]>();
  for (const one of changes) {
    if (Math.abs(one.made) > Math.abs(largest.get(one.row)?.made ?? 0)) largest.set(one.row, one);
  }
  const named = [...largest.values()]
    .filter(({ made }) => Math.abs(made) >= 1)
    .toSorted((a, b) => Math.abs(b.made) - Math.abs(a.made))
    .slice(0, MOST_NAMED)
    .map(({ row, which, effect }) => `${WORDS[row.figure][which]} ${oneLine(row.id)} (${effectText(result, effect)})`);
  if (named.length === 0) return [];
  return [{ code: "sensitivity", text: `What matters most: ${listed(named)}.` }];
}

/** The output if that changes, else what changes of the ramp-up. */
function effectText({ output, settling }: Result, effect: SensitivityEffect): string {
  const before = longRun(output) ?? 0;
  const after = effect.settled_per_min ?? 0;
  if (Math.abs(after - before) > 1e-6 * before) return `${rate(after)}`;
  const parts = [];
  if (effect.ramp_up_loss !== null && output.ramp_up_loss !== null) {
    const more = effect.ramp_up_loss - output.ramp_up_loss;
    if (Math.abs(more) >= 1) parts.push(`${items(Math.abs(more))} ${more > 0 ? "more" : "fewer"} lost`);
  }
  if (effect.to_95_min !== null && settling.to_95_min !== null)
    parts.push(`95\u00a0% from ${duration(effect.to_95_min)}`);
  return parts.length === 0 ? "not settled" : listed(parts);
}

/** For report.md; empty without. */
export function sensitivityTable({ sensitivity = [], settling, output }: Result): string[] {
  if (sensitivity.length === 0) return [];
  const columns = [
    left("5 % of"),
    right("output at less, items/min"),
    right("at more"),
    right("95 % time at less, min"),
    right("at more"),
    right("loss at less, items"),
    right("at more"),
  ];
  const pair = (row: Sensitivity, cell: (effect: SensitivityEffect) => string): string[] =>
    [row.less, row.more].map((effect) => (effect === null ? "–" : cell(effect)));
  const rows = sensitivity.map((row) => [
    `${FIGURES[row.figure]} ${escapeMarkdown(row.id)}`,
    ...pair(row, (effect) => rateOrDash(effect.settled_per_min)),
    ...pair(row, (effect) => minutesOrDash(effect.to_95_min)),
    ...pair(row, (effect) => countOrDash(effect.ramp_up_loss)),
  ]);
  const now = `As stated: ${significant(longRun(output) ?? 0)} items/min, 95 % from ${minutesOrDash(settling.to_95_min)} min, loss ${countOrDash(output.ramp_up_loss)} items. Room changes by an item at least; belts change in speed.`;
  return ["### What each figure is worth", now, markdownTable(columns, rows)];
}

const FIGURES: Readonly<Record<Sensitivity["figure"], string>> = {
  feed: "feed",
  cycle: "cycle of",
  room: "room of",
  belts: "belts of",
};
