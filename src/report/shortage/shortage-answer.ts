/** What a study of short feeds answers: what is still made, who goes short and when, how evenly, and which layout would help. */
import type { LevelResult, Shortage, ShortageLevel } from "../../study/shortage/shortage-results.ts";
import { type AnswerLine, toldIn } from "../answer/answer.ts";
import { approximately, fromTime, listed, listedShort, number, percent, rate } from "../text/figures.ts";
import { CHANGE_FIRST } from "../text/standstill.ts";
import { oneLine } from "../text/text-width.ts";
import { extremes, jainOf, levelText, middleLevel, same, settledOf, shareOf, variantName } from "./shortage-figures.ts";
import { shortageFindings } from "./shortage-findings.ts";

export function shortageAnswer(shortage: Shortage): AnswerLine[] {
  const found = shortageFindings(shortage);
  const middle = middleLevel(shortage);
  const limits = toldIn(found, ["limits"], "Limits").map((line) => ({
    ...line,
    text: line.text.replace(/^(?:Against the limits, |Limits )/, ""),
  }));
  return [
    ...makes(shortage, middle),
    ...toldIn(found, ["output"], "Variants").map((line) => ({ ...line, text: variantsText(line.text) })),
    ...toldIn(found, ["stopped"], "Stops", { isBad: true }),
    ...toldIn(found, ["starving"], "First short").map((line) => ({
      ...line,
      text: line.text.replace(/^As written /, ""),
    })),
    ...(middle === null ? [] : who(middle)),
    ...settles(shortage, middle),
    ...(middle === null ? [] : advice(middle, shortage)),
    ...(limits.length > 0 ? limits : [{ what: "Limits", text: "none stated", isMore: true }]),
    ...toldIn(found, ["held", "ideal", "swing", "products", "tree-needs", "unsettled"], "Mind", {
      isBad: true,
      isMore: true,
    }),
  ];
}

/** As written: at the highest level, in the middle, at the lowest. */
function makes({ levels }: Shortage, middle: ShortageLevel | null): AnswerLine[] {
  const [highest] = levels;
  const shown = [...new Set([highest, middle, levels.at(-1)])].flatMap((level) => {
    const [first] = level?.variants ?? [];
    return level === null || level === undefined || first === undefined
      ? []
      : [`${rate(settledOf(first))} at ${levelText(level.level)}`];
  });
  return shown.length === 0 ? [] : [{ what: "Makes", text: `${listed(shown)} of the feed` }];
}

function variantsText(text: string): string {
  return text
    .replace(/^Every variant makes/, "all make")
    .replace(/(?:, in proportion to the feed)?: only who works.*$/, "; only who works differs")
    .replace(/^The variants differ most in output at/, "most apart at");
}

/** Of the variants the machines that run fully, and the least share. */
function who({ level, variants }: ShortageLevel): AnswerLine[] {
  const [first] = variants;
  if (first === undefined) return [];
  return [{ what: `At ${levelText(level)}`, text: sharesText(first) }];
}

function sharesText({ machines }: LevelResult): string {
  const shares = machines.map(shareOf);
  const range = extremes(shares);
  if (range === null) return "no machines";
  if (same(range.low, range.high)) return `all ${number(shares.length)} machines run at ${percent(range.low)}`;
  const fully = shares.filter((share) => share >= FULLY).length;
  const idle = shares.filter((share) => share <= 1e-9).length;
  const least = idle === 0 ? `the least at ${percent(range.low)}` : `${number(idle)} not at all`;
  return `${number(fully)} of ${number(shares.length)} machines run fully, ${least}`;
}

const FULLY = 0.999;

function settles({ levels }: Shortage, middle: ShortageLevel | null): AnswerLine[] {
  const shown = [...new Set([levels[0], middle])].flatMap((level) => {
    const [first] = level?.variants ?? [];
    if (level === null || level === undefined || first === undefined || settledOf(first) === 0) return [];
    const at = first.settling_min;
    return [`${at === null ? "not by the end" : fromTime(at)} at ${levelText(level.level)}`];
  });
  return shown.length === 0 ? [] : [{ what: "Settles", text: `${listed(shown)} of the feed` }];
}

/** Outputs no further apart are alike: measured ones are off by an item or so. */
const ALIKE = 0.005;

/** What makes more or, where that is as written, the most even of those that make the most. */
function advice({ level, variants }: ShortageLevel, { levels }: Shortage): AnswerLine[] {
  const all = levels.flatMap((each) => each.variants);
  if (all.every((one) => settledOf(one) === 0)) {
    const isFed = all.some(({ feeds }) => feeds.some(({ offered_per_min: offered }) => approximately(offered) > 0));
    return isFed ? [{ what: "To do", text: CHANGE_FIRST }] : [];
  }
  const [written] = variants;
  const most = Math.max(...variants.map(settledOf));
  const best = variants.filter((one) => settledOf(one) >= most * (1 - ALIKE));
  const evenOf = (one: LevelResult): number => jainOf(one) ?? -1;
  const top = Math.max(...best.map(evenOf));
  const even = best.filter((one) => same(evenOf(one), top));
  if (written === undefined || variants.length < 2 || top < 0) return [];
  if (!best.includes(written)) {
    const more = listedShort(best.map(({ id }) => variantName(id)));
    const text = `for more output: ${more}, ${rate(most)} instead of ${rate(settledOf(written))} at ${levelText(level)}`;
    return [{ what: "To do", text }];
  }
  const names = listedShort(even.map(({ id }) => variantName(id)).map(oneLine));
  if (even.includes(written)) {
    return [{ what: "To do", text: `nothing: no variant makes more or shares more evenly at ${levelText(level)}` }];
  }
  const own = jainOf(written);
  const instead = own === null ? "" : ` instead of ${number(own, 3)}`;
  return [
    {
      what: "To do",
      text: `for even shares: ${names}, Jain's index ${number(top, 3)}${instead} at ${levelText(level)}; fillfront layouts says what one takes`,
    },
  ];
}
