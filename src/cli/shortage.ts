/** fillfront shortage: the feed lowered step by step, or for a while. */
import {
  type DipGiven,
  dipFiles,
  dippingFeeds,
  dipText,
  exact,
  formatted,
  loweredText,
  parseQuantity,
  type QuantityKind,
  type Rational,
  rational,
  type Scenario,
  type Shortage,
  shortageFiles,
  shortageText,
  shortening,
  studyDip,
  variantsTold,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { chanceNotes, type Input, readInput, tellWarnings } from "./input.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { pageSource } from "./page-source.ts";
import { playable } from "./playable.ts";
import { howMuch, putReport, reportFolder, tellPut } from "./report-folders.ts";
import { machinesIn, playedRuns } from "./study-runs.ts";
import type { Terminal } from "./terminal.ts";
import { unknownName } from "./unknown-name.ts";

export interface ShortageOptions extends Overrides {
  readonly levels?: string;
  readonly feed?: readonly string[];
  readonly dip?: string;
  readonly from?: string;
  readonly for?: string;
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
  readonly jobs?: string;
}

const ALL_LEVELS = "100..10:10";

export async function shortage(file: string, options: ShortageOptions, terminal: Terminal): Promise<void> {
  const dip = dipFrom(options);
  const levels = levelsFrom(options.levels ?? ALL_LEVELS);
  const folder = await reportFolder(file, options, dip === null ? "-shortage" : "-dip");
  const input = await readInput(file, overridesOf(options));
  const { file: shown, scenario, warnings } = input;
  tellWarnings(warnings, shown, terminal);
  for (const note of chanceNotes(input)) terminal.tell(note);
  const onProgress = (done: number, of: number): void => terminal.progress(`${shown}: run ${done + 1} of ${of}`);
  const writing = (): void => {
    if (folder !== null) terminal.progress(`${shown}: writing the report`);
  };

  if (dip === null) {
    const feeds = feedsFrom(options.feed, scenario);
    const study = await studyLevels(input, levels, feeds, options, terminal);
    writing();
    const { charts } = options;
    const source = pageSource(input, options);
    const texts = new Map(study.levels.map(({ level }) => [level, loweredText(scenario, feeds, rational(level))]));
    const put = await putReport(folder, () => shortageFiles(study, { charts, source }, texts));
    if (options.json) await terminal.printJson(formatted("shortage", variantsTold(study)));
    else await terminal.print(shortageText(study, terminal.style, howMuch(put, terminal)));
    tellPut(put, terminal);
  } else {
    const feeds = dippingFrom(options.feed, scenario);
    refuseLateDip(dip, scenario, options);
    const study = playable(shown, () => studyDip(scenario, dip, { feeds, onProgress }));
    writing();
    const put = await putReport(folder, () => dipFiles(study.dip, study.curves, { charts: options.charts }));
    if (options.json) await terminal.printJson(formatted("dip", variantsTold(study.dip)));
    else await terminal.print(dipText(study.dip, terminal.style, howMuch(put, terminal)));
    tellPut(put, terminal);
  }
}

async function studyLevels(
  input: Input,
  levels: readonly Rational[],
  feeds: readonly string[],
  options: ShortageOptions,
  terminal: Terminal,
): Promise<Shortage> {
  const { scenario, of, play, studied } = playable(input.file, () => shortening(input.scenario, levels, { feeds }));
  const machines = Array.from({ length: of }, () => machinesIn(scenario));
  const asked = { of: "shortage", levels: levels.map(exact), feeds } as const;
  return studied(await playedRuns(input, { asked, scenario, machines, play }, options, terminal));
}

function feedsFrom(names: readonly string[] | undefined, { feeds }: Scenario): string[] {
  const known = feeds.map(({ id }) => id);
  const unknown = names?.find((name) => !known.includes(name));
  if (unknown !== undefined) throw unknownName("feed", unknown, known);
  return names === undefined ? known : [...new Set(names)];
}

/** A vehicle is unloaded at its own rate, so only feeds without vehicles have a rate to lower for a while. */
function dippingFrom(names: readonly string[] | undefined, scenario: Scenario): string[] {
  const able = dippingFeeds(scenario);
  const chosen = feedsFrom(names, scenario);
  const unable = names === undefined ? undefined : chosen.find((name) => !able.includes(name));
  if (unable !== undefined || able.length === 0) {
    throw new RefusedError(
      `--dip: the feed ${unable ?? chosen.join(", ")} comes in vehicles, which bring what they bring; use --levels to have them bring less`,
    );
  }
  return chosen.filter((name) => able.includes(name));
}

/** Half-stated dips are refused. */
function dipFrom({ dip, from, for: long }: ShortageOptions): DipGiven | null {
  if (dip === undefined) {
    if (from === undefined && long === undefined) return null;
    throw new RefusedError(
      `${from === undefined ? "--for" : "--from"} belongs to --dip "50 %" --from "2 h" --for "30 min"`,
    );
  }
  if (from === undefined || long === undefined) {
    throw new RefusedError('--dip needs its beginning and its length: --dip "50 %" --from "2 h" --for "30 min"');
  }
  const level = quantityFrom("percentage", "--dip", dip, 'a percentage such as "50 %", from 0 % to below 100 %');
  const forMin = quantityFrom("duration", "--for", long, 'a duration such as "30 min"');
  if (level.compare(1) >= 0) {
    throw new RefusedError(`--dip ${JSON.stringify(dip)}: expected a percentage below 100 %`);
  }
  if (forMin.compare(0) <= 0) {
    throw new RefusedError(`--for ${JSON.stringify(long)}: expected a duration such as "30 min", above 0`);
  }
  return { level, fromMin: quantityFrom("duration", "--from", from, 'a duration such as "2 h"'), forMin };
}

function quantityFrom(kind: QuantityKind, option: string, text: string, expected: string): Rational {
  const parsed = parseQuantity(kind, text);
  if (parsed.ok) return parsed.value;
  throw new RefusedError(`${option} ${JSON.stringify(text)}: expected ${expected}`);
}

function refuseLateDip(
  { fromMin, forMin }: DipGiven,
  { horizonMin, horizonIsAuto }: Scenario,
  { from, for: long }: ShortageOptions,
): void {
  if (horizonIsAuto || fromMin.add(forMin).compare(horizonMin) < 0) return;
  throw new RefusedError(
    `--from ${JSON.stringify(from)} --for ${JSON.stringify(long)}: the dip must be over before the horizon ends; state a longer --horizon`,
  );
}

const MOST_LEVELS = 100;
const NUMBER = String.raw`\d{1,3}(?:\.\d{1,3})?`;
const RANGE = new RegExp(`^(${NUMBER})\\.\\.(${NUMBER})(?::(${NUMBER}))?$`);
const LIST = new RegExp(`^${NUMBER}(?:,${NUMBER})*$`);

/** "100,90,50" or "100..10:10", in per cent; shares of the full feed. */
function levelsFrom(text: string): Rational[] {
  const range = RANGE.exec(text);
  const levels = range
    ? rangeOf(rational(range[1] ?? ""), rational(range[2] ?? ""), rational(range[3] ?? "10"))
    : LIST.test(text)
      ? text.split(",").map((one) => rational(one))
      : [];
  const isFalling = levels.every((level, i) => {
    const before = levels[i - 1];
    return level.compare(0) > 0 && level.compare(100) <= 0 && (before === undefined || level.compare(before) < 0);
  });
  if (levels.length === 0 || levels.length > MOST_LEVELS || !isFalling) {
    throw new RefusedError(
      `--levels ${JSON.stringify(text)}: expected falling percentages such as 100,90,50 or 100..10:10, from 100 to above 0, at most ${MOST_LEVELS} of them`,
    );
  }
  return levels.map((level) => level.div(100n));
}

function rangeOf(first: Rational, last: Rational, step: Rational): Rational[] {
  const levels: Rational[] = [];
  if (step.compare(0) <= 0) return levels;
  for (let level = first; level.compare(last) >= 0 && levels.length <= MOST_LEVELS; level = level.sub(step))
    levels.push(level);
  return levels;
}
