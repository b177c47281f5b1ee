/** Which commands there are and what they may be told. Each command's work is in its own file, loaded when it is asked for. */
import { Command, Option } from "commander";
import type { CheckOptions } from "./check.ts";
import type { DrawOptions } from "./draw.ts";
import type { eachFile } from "./each-file.ts";
import type { EstimateOptions } from "./estimate.ts";
import { firstFileCommands } from "./first-file.ts";
import type { FitOptions } from "./fit.ts";
import type { GatherOptions } from "./gather-request.ts";
import type { GrowOptions } from "./grow.ts";
import type { LayoutsOptions } from "./layouts.ts";
import {
  command,
  detailsOption,
  exampleText,
  horizonOption,
  jobsOption,
  luckOptions,
  noCharts,
  outOption,
  printedAs,
  repeated,
  SCENARIO,
  seedOption,
  shardOption,
  withOptions,
} from "./options.ts";
import type { RunOptions } from "./run.ts";
import type { SchemaOptions } from "./schema.ts";
import type { ShortageOptions } from "./shortage.ts";
import { startCommands } from "./start-commands.ts";
import type { SweepOptions } from "./sweep.ts";
import { asAsked, type Terminal } from "./terminal.ts";
import { version } from "./version.ts";

/** @param printed filled with what help and version print */
export function program(loud: Terminal, printed: Promise<void>[]): Command {
  const fillfront = new Command("fillfront")
    .description("How long a chained feed line takes to full output, and what every machine does meanwhile.")
    .version(version(), "-V, --version", "print the version")
    .helpOption("-h, --help", "show this help")
    .helpCommand("help [command]", "show the help of a command")
    .showHelpAfterError("(fillfront --help shows what there is)")
    .exitOverride()
    .configureOutput({
      writeOut: (text) => printed.push(loud.print(text)),
      outputError: (text) => loud.complain(text.trimEnd()),
    })
    .addHelpText("after", exampleText(["run scenarios/short-chain.yaml", "help compare"]));
  const terminal = (options: object): Terminal => asAsked(loud, options);

  const each: typeof eachFile = async (...given) => (await import("./each-file.ts")).eachFile(...given);

  const run = command(fillfront, "run", "simulate, write a report and print its findings", [
    "run scenarios/short-chain.yaml",
    'run scenarios/long-chain.yaml --out reports/long --horizon "2 h"',
    "run scenarios/short-chain.yaml --json | jq .settling",
    "run scenarios/unreliable-chain.yaml --replications 20",
  ]).argument("<file...>", SCENARIO);
  withOptions(run, [
    outOption(""),
    ...printedAs("the result"),
    noCharts(),
    seedOption(),
    horizonOption(),
    new Option(
      "--replications <number>",
      "where something is left to chance: so many runs, each with a seed of its own",
    ),
    new Option(
      "--until <figure=width>",
      'until the interval of a figure is so narrow, such as "settled_output_per_min=2 %", or as many as --replications allows',
    ),
    jobsOption(" for replications"),
    shardOption(),
    new Option("--check", "recount every item after every tick"),
  ]).action(async (files: string[], options: RunOptions) =>
    (await import("./run.ts")).run(files, options, terminal(options)),
  );

  const check = command(fillfront, "check", "read a scenario and say what the line is, without running it", [
    "check scenarios/custom-network.yaml",
    "check scenarios/short-chain.yaml --network > expanded.yaml",
  ]).argument("<file...>", SCENARIO);
  withOptions(check, [
    new Option("--network", "print the expanded network as a custom scenario instead"),
    new Option("--json", "print the facts as JSON instead").conflicts("network"),
    detailsOption(),
  ]).action(async (files: string[], options: CheckOptions) =>
    each(files, options, terminal(options), (await import("./check.ts")).check),
  );

  const estimate = command(fillfront, "estimate", "solve the line as a flow, exactly and at once, without simulating", [
    "estimate scenarios/long-chain.yaml",
    "estimate scenarios/unequal-chain.yaml --json",
  ]).argument("<file...>", SCENARIO);
  withOptions(estimate, [new Option("--json", "print the solution as JSON instead"), detailsOption()]).action(
    async (files: string[], options: EstimateOptions) =>
      each(files, options, terminal(options), (await import("./estimate.ts")).estimateFlow),
  );

  const draw = command(
    fillfront,
    "draw",
    "draw the plant, with what passes every belt once it has settled: SVG and PNG",
    ["draw scenarios/equal-loop.yaml", "draw scenarios/short-chain.yaml --to-scale --out drawing"],
  ).argument("<file...>", SCENARIO);
  withOptions(draw, [
    outOption("-drawing"),
    new Option("--to-scale", "draw each line's floor in metres too: rows, aisles, belts, returns and crossings"),
    ...printedAs("what is drawn"),
    seedOption(),
    horizonOption(),
  ]).action(async (files: string[], options: DrawOptions) =>
    each(files, options, terminal(options), (await import("./draw.ts")).draw),
  );

  startCommands(fillfront, loud);

  const grow = command(fillfront, "grow", "lengthen a chain machine by machine and say when it has grown too long", [
    "grow scenarios/short-chain.yaml --machines 2..16",
    "grow scenarios/short-chain.yaml --machines 4,8,16 --no-charts",
  ]).argument("<file...>", SCENARIO);
  withOptions(grow, [
    new Option("--machines <counts>", "numbers of machines: 2..40, 2..40:2 or 4,8,16"),
    jobsOption(" for many machines"),
    outOption("-growth"),
    ...printedAs("the study"),
    noCharts(),
    seedOption(),
    horizonOption(),
  ]).action(async (files: string[], options: GrowOptions) =>
    each(files, options, terminal(options), (await import("./grow.ts")).grow),
  );

  const shortage = command(
    fillfront,
    "shortage",
    "lower the feed and say what is still made, who goes short, and what another layout would do",
    [
      "shortage scenarios/tin-assembly.yaml",
      "shortage scenarios/short-chain.yaml --levels 100,80,60",
      'shortage scenarios/short-chain.yaml --dip "50 %" --from "2 h" --for "30 min"',
    ],
  ).argument("<file...>", SCENARIO);
  withOptions(shortage, [
    new Option("--levels <percentages>", "percentages of the full feed: 100,90,50 or 100..10:10 (the default)"),
    new Option("--feed <name...>", "lower these feeds only"),
    new Option("--dip <percentage>", 'lower the feed for a while instead, such as to "50 %"').conflicts("levels"),
    new Option("--from <duration>", 'when the dip begins, such as "2 h"'),
    new Option("--for <duration>", 'how long it lasts, such as "30 min"'),
    jobsOption(" for many machines, at --levels"),
    outOption("-shortage, or -dip"),
    ...printedAs("the study"),
    noCharts(),
    seedOption(),
    horizonOption(),
  ]).action(async (files: string[], options: ShortageOptions) =>
    each(files, options, terminal(options), (await import("./shortage.ts")).shortage),
  );

  const layouts = command(
    fillfront,
    "layouts",
    "draw up a line in several layouts, weigh them and say which to build",
    [
      "layouts scenarios/four-equal.yaml",
      "layouts scenarios/five-unequal.yaml --priority small --ways 2",
      "layouts scenarios/thirty-equal.yaml --grow-to 36",
    ],
  ).argument("<file...>", SCENARIO);
  withOptions(layouts, [
    new Option("--line <name>", "the line to lay out, where there are several"),
    new Option(
      "--ways <numbers>",
      "the most outlets that a divider may have, 2 to 12, or those that can be had, such as 2,5",
    ),
    new Option("--priority <what>", "what counts most: fast (the default), small, cheap, even, grow or money"),
    new Option(
      "--lengths <how>",
      "belts as long as their way on the grid (from-grid) or all as-stated; as the file says if left out",
    ),
    new Option("--grow-to <machines>", "tell also what growing to so many machines takes"),
    outOption("-layouts"),
    ...printedAs("the study"),
    noCharts(),
    seedOption(),
    horizonOption(),
    ...luckOptions(" for replications, and for layouts of many machines"),
  ]).action(async (files: string[], options: LayoutsOptions) =>
    each(files, options, terminal(options), (await import("./layouts.ts")).layouts),
  );

  const sweep = command(fillfront, "sweep", "run a scenario over the values of one or two quantities of its file", [
    "sweep scenarios/short-chain.yaml --vary feeds.blender.rate=60/min..300/min:10/min",
    "sweep scenarios/short-chain.yaml --vary machines.cartoner.infeed=20,50,100 --vary machines.cartoner.cycle=2s,2.5s,3s",
  ]).argument("<file...>", SCENARIO);
  withOptions(sweep, [
    repeated(
      "--vary <path=values>",
      "a place in the file and its values: a range (60/min..300/min:10/min) or a list (50,100,200); once or twice",
    ),
    jobsOption(""),
    new Option("--shard <part/parts>", "run every n-th point only, such as 1/4, for fillfront gather to join"),
    outOption("-sweep"),
    ...printedAs("the sweep"),
    noCharts(),
    seedOption(),
    horizonOption(),
  ]).action(async (files: string[], options: SweepOptions) =>
    each(files, options, terminal(options), (await import("./sweep.ts")).sweep),
  );

  const gather = command(
    fillfront,
    "gather",
    "join the parts of a sweep, of replications or of a comparison that --shard has spread over machines",
    ["gather reports/short-chain-sweep-*-of-4", "gather part-1/sweep.json part-2/sweep.json --out whole"],
  ).argument("<part...>", "report folders of the parts, or the sweep.json or part.json in them");
  withOptions(gather, [
    new Option("--out <folder>", "where the report goes; else where the whole would go, or nowhere with --json"),
    ...printedAs("the whole"),
    noCharts(),
  ]).action(async (parts: string[], options: GatherOptions) =>
    (await import("./gather.ts")).gather(parts, options, terminal(options)),
  );

  const fit = command(
    fillfront,
    "fit",
    "estimate values of the file from counts observed at the plant, and say how well they are known",
    [
      "fit scenarios/pouch-trial.yaml --observed scenarios/pouch-trial-counts.csv --unknown machines.cartoner.infeed=20..200",
      "fit scenarios/pouch-trial.yaml --observed scenarios/pouch-trial-counts.csv --unknown feeds.blender.rate=100/min..180/min --json",
    ],
  ).argument("<file>", SCENARIO);
  withOptions(fit, [
    new Option("--observed <file>", "the counts as CSV, such as time_min,cartoner-3.made,cartoner-3.infeed,made"),
    repeated(
      "--unknown <path=bounds>",
      "a place in the file and the bounds to look between: 100/min..300/min, or 20..200; up to five times",
    ),
    repeated("--error <items>", "how far off a count may be, in place of one item or cycle; of one thing: made=5"),
    outOption("-fit"),
    ...printedAs("the fit"),
    noCharts(),
    seedOption(),
  ]).action(async (file: string, options: FitOptions) =>
    (await import("./fit.ts")).fitCounts(file, options, terminal(options)),
  );

  for (const one of firstFileCommands(loud)) fillfront.addCommand(one.copyInheritedSettings(fillfront));

  fillfront
    .command("schema")
    .description("print the JSON Schema of the scenario file, for editors that complete and check it")
    .option("--result [command]", "of what --json prints instead: of run, of best, of layouts, or of size")
    .addHelpText("after", exampleText(["schema > scenario.schema.json", "schema --result > result.schema.json"]))
    .action(async (options: SchemaOptions) => (await import("./schema.ts")).schema(options, loud));

  fillfront
    .command("completion")
    .description("print what a shell needs to complete commands, options and file names")
    .argument("<shell>", "bash, zsh or fish")
    .addHelpText(
      "after",
      exampleText([
        "completion bash > ~/.local/share/bash-completion/completions/fillfront",
        "completion fish > ~/.config/fish/completions/fillfront.fish",
      ]),
    )
    .action(async (shell: string) => (await import("./completion.ts")).completion(shell, fillfront, loud));

  return fillfront;
}
