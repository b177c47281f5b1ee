/** The commands that look for a better start of a line. */
import { type Command, Option } from "commander";
import type { BestOptions } from "./best.ts";
import type { CompareOptions } from "./compare.ts";
import type { eachFile } from "./each-file.ts";
import {
  command,
  detailsOption,
  horizonOption,
  jobsOption,
  luckOptions,
  noCharts,
  outOption,
  printedAs,
  priorityOption,
  SCENARIO,
  seedOption,
  withOptions,
} from "./options.ts";
import type { PrimeOptions } from "./prime.ts";
import { asAsked, type Terminal } from "./terminal.ts";

export function startCommands(fillfront: Command, loud: Terminal): void {
  const terminal = (options: object): Terminal => asAsked(loud, options);
  const each: typeof eachFile = async (...given) => (await import("./each-file.ts")).eachFile(...given);

  const compare = command(
    fillfront,
    "compare",
    "play priming tactics on a line and say which is worth doing, and what each gives up and asks for",
    [
      "compare scenarios/long-chain.yaml --all",
      "compare scenarios/short-chain.yaml --tactic stocked",
      "compare scenarios/unreliable-chain.yaml --all --replications 30",
    ],
  ).argument("<file...>", SCENARIO);
  withOptions(compare, [
    new Option(
      "--all",
      "the standard tactics too, beside those of the file; without any in the file they are taken anyway",
    ),
    new Option("--tactic <name...>", "these only, of the file's and the standard ones"),
    priorityOption(),
    outOption("-compare"),
    ...printedAs("the comparison"),
    noCharts(),
    seedOption(),
    horizonOption(),
    ...luckOptions(" for replications, and for many machines"),
  ]).action(async (files: string[], options: CompareOptions) =>
    each(files, options, terminal(options), (await import("./compare.ts")).compare),
  );

  const best = command(
    fillfront,
    "best",
    "search for the best starts of a line with what its floor grants, stock included",
    [
      "best scenarios/granted-chain.yaml",
      'best scenarios/granted-chain.yaml --within "6 min" --loss-below 400 --handled-below 100',
      "best scenarios/granted-chain.yaml --priority time --json",
    ],
  ).argument("<file...>", SCENARIO);
  withOptions(best, [
    ...goalOptions(),
    priorityOption(),
    new Option("--most <starts>", "try so many starts at most, but for the proof of the recommended one; else 700"),
    new Option("--no-by-item", "leave out the last step, the recommended start item by item"),
    new Option(
      "--replications <number>",
      "where something is left to chance: so many runs of each of the best few, on the same luck; else 10",
    ),
    jobsOption(""),
    outOption("-best"),
    ...printedAs("the starts"),
    noCharts(),
    seedOption(),
    horizonOption(),
  ]).action(async (files: string[], options: BestOptions) =>
    each(files, options, terminal(options), (await import("./best.ts")).best),
  );

  const prime = command(fillfront, "prime", "find the least dose of each priming tactic that reaches a goal", [
    'prime scenarios/short-chain.yaml --within "6 min"',
    "prime scenarios/short-chain.yaml --loss-below 200 --handled-below 400",
  ]).argument("<file...>", SCENARIO);
  withOptions(prime, [
    ...goalOptions(),
    new Option("--json", "print the study as JSON instead"),
    detailsOption(),
    seedOption(),
    horizonOption(),
  ]).action(async (files: string[], options: PrimeOptions) =>
    each(files, options, terminal(options), (await import("./prime.ts")).prime),
  );
}

/** One may be stated, or several together. */
function goalOptions(): Option[] {
  return [
    new Option("--within <duration>", 'a goal: 95 % of the settled output for good within this time, such as "5 min"'),
    new Option("--loss-below <items>", "a goal: a ramp-up loss below so many items"),
    new Option("--handled-below <items>", "a goal: fewer items handled"),
  ];
}
