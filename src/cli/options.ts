/** Options that several commands share, each worded once, and the form of every command's help. */
import { type Command, Option } from "commander";

export const SCENARIO = "a scenario file (YAML or JSON), or - for standard input";

export const QUIET = [
  "-q, --quiet",
  "print the answer and errors only: no warnings, no progress, no place of the report",
] as const;

/** A command with what all of them have. @param examples what could be typed, the simplest first */
export function command(parent: Command, name: string, does: string, examples: readonly string[]): Command {
  return parent
    .command(name)
    .description(does)
    .option(...QUIET)
    .showHelpAfterError(`(fillfront ${name} --help shows its options)`)
    .addHelpText("after", exampleText(examples));
}

export function exampleText(examples: readonly string[]): string {
  return `\nExample${examples.length > 1 ? "s" : ""}:\n${examples.map((one) => `  $ fillfront ${one}`).join("\n")}`;
}

/** @param suffix of the folder's own name */
export function outOption(suffix: string): Option {
  const otherwise = `else reports/<file's name>${suffix}, or nowhere with --json`;
  return new Option("--out <folder>", `where the report goes, or with several files their reports; ${otherwise}`);
}

function jsonOption(what: string): Option {
  return new Option("--json", `print ${what} as JSON instead, and write a report only with --out`);
}

export const detailsOption = (): Option =>
  new Option("--details", "print also what stands behind the answer: findings, further tables, notes and cautions");

/** How an answer is printed: in brief, as JSON, or with all that stands behind it. */
export function printedAs(what: string): Option[] {
  return [jsonOption(what), detailsOption()];
}

export const noCharts = (): Option => new Option("--no-charts", "leave out the pictures");

export const priorityOption = (): Option =>
  new Option("--priority <what>", "what decides first: loss (the default), time, handling, hold-up or money");

export const seedOption = (): Option =>
  new Option("--seed <text>", "name the random streams, in place of the file's seed");

export const horizonOption = (): Option =>
  new Option("--horizon <duration>", 'simulate this long, such as "90 min", in place of the file\'s horizon');

export const jobsOption = (what: string): Option =>
  new Option("--jobs <number>", `worker threads${what}; as many as there are cores if not stated`);

/** @param jobs what threads are for */
export function luckOptions(jobs = " for replications"): Option[] {
  return [
    new Option(
      "--replications <number>",
      "where something is left to chance: so many runs of each, on the same luck; else 10",
    ),
    new Option(
      "--look <number>",
      "which look at this comparison it is: 2 when going on with more replications; else 1",
    ),
    jobsOption(jobs),
    shardOption(),
  ];
}

export const shardOption = (): Option =>
  new Option("--shard <part/parts>", "play every n-th replication only, such as 1/4, for fillfront gather to join");

/** One that may be stated several times. */
export function repeated(flags: string, about: string): Option {
  return new Option(flags, about).argParser((value: string, before: readonly string[] = []) => [...before, value]);
}

export function withOptions(to: Command, options: readonly Option[]): Command {
  for (const option of options) to.addOption(option);
  return to;
}
