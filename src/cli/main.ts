#!/usr/bin/env node
/** The command line: which commands there are and what they may be told. Each command's work is in its own file. */
import { Command, CommanderError, Option } from "commander";
import { inFewerAddresses } from "./address-space.ts";
import type { CheckOptions } from "./check.ts";
import type { CompareOptions } from "./compare.ts";
import type { DrawOptions } from "./draw.ts";
import type { EstimateOptions } from "./estimate.ts";
import { FAILED, REFUSED, RefusedError } from "./exit.ts";
import type { FitOptions } from "./fit.ts";
import type { GatherOptions } from "./gather.ts";
import type { GrowOptions } from "./grow.ts";
import type { LayoutsOptions } from "./layouts.ts";
import type { PrimeOptions } from "./prime.ts";
import type { RunOptions } from "./run.ts";
import type { ShortageOptions } from "./shortage.ts";
import type { SweepOptions } from "./sweep.ts";
import { type Terminal, terminalOf } from "./terminal.ts";
import { version } from "./version.ts";

const SCENARIO = "a scenario file (YAML or JSON), or - for standard input";

function program(terminal: Terminal, printed: Promise<void>[]): Command {
  const fillfront = new Command("fillfront")
    .description("How long a chained feed line takes to full output, and what every machine does meanwhile.")
    .version(version(), "-V, --version", "print the version")
    .helpOption("-h, --help", "show this help")
    .helpCommand("help [command]", "show the help of a command")
    .showHelpAfterError("(fillfront --help shows what there is)")
    .exitOverride()
    .configureOutput({
      writeOut: (text) => printed.push(terminal.print(text)),
      outputError: (text) => terminal.complain(text.trimEnd()),
    })
    .addHelpText("after", example("fillfront run scenarios/short-chain.yaml"));

  fillfront
    .command("run")
    .description("simulate, write a report and print its findings")
    .argument("<file...>", SCENARIO)
    .option("--out <folder>", "where the report goes, or with several files their reports; else reports/<file's name>")
    .option("--json", "print the result as JSON instead of the summary; several files give an array")
    .option("--no-charts", "leave out the pictures")
    .option("--seed <text>", "name the random streams, in place of the file's seed")
    .option("--horizon <duration>", 'simulate this long, such as "90 min", in place of the file\'s horizon')
    .option("--replications <number>", "where something is left to chance: so many runs, each with a seed of its own")
    .option(
      "--until <figure=width>",
      'until the interval of a figure is so narrow, such as "settled_output_per_min=2 %", or as many as --replications allows',
    )
    .option("--jobs <number>", "worker threads for replications; as many as there are cores if not stated")
    .option("--check", "recount every item after every tick")
    .showHelpAfterError("(fillfront run --help shows its options)")
    .addHelpText("after", example('fillfront run scenarios/long-chain.yaml --out reports/long --horizon "2 h"'))
    .action(async (files: string[], options: RunOptions) => (await import("./run.ts")).run(files, options, terminal));

  fillfront
    .command("check")
    .description("read a scenario and say what the line is, without running it")
    .argument("<file>", SCENARIO)
    .option("--network", "print the expanded network as a custom scenario instead")
    .addOption(new Option("--json", "print the facts as JSON instead").conflicts("network"))
    .showHelpAfterError("(fillfront check --help shows its options)")
    .addHelpText("after", example("fillfront check scenarios/short-chain.yaml --network > expanded.yaml"))
    .action(async (file: string, options: CheckOptions) => (await import("./check.ts")).check(file, options, terminal));

  fillfront
    .command("estimate")
    .description("solve the line as a flow, exactly and at once, without simulating")
    .argument("<file>", SCENARIO)
    .option("--json", "print the solution as JSON instead")
    .showHelpAfterError("(fillfront estimate --help shows its options)")
    .addHelpText("after", example("fillfront estimate scenarios/long-chain.yaml"))
    .action(async (file: string, options: EstimateOptions) =>
      (await import("./estimate.ts")).estimateFlow(file, options, terminal),
    );

  fillfront
    .command("draw")
    .description("draw the plant, with what passes every belt once it has settled: SVG and PNG")
    .argument("<file>", SCENARIO)
    .option("--out <folder>", "where the report goes; else reports/<file's name>-drawing")
    .option("--to-scale", "draw each line's floor in metres too: rows, aisles, belts, returns and crossings")
    .option("--json", "print what is drawn as JSON instead of its findings")
    .option("--seed <text>", "name the random streams, in place of the file's seed")
    .option("--horizon <duration>", 'simulate this long, such as "90 min", in place of the file\'s horizon')
    .showHelpAfterError("(fillfront draw --help shows its options)")
    .addHelpText("after", example("fillfront draw scenarios/equal-loop.yaml"))
    .action(async (file: string, options: DrawOptions) => (await import("./draw.ts")).draw(file, options, terminal));

  fillfront
    .command("compare")
    .description("play priming tactics on a line and say which shortens the ramp-up most, for how little handling")
    .argument("<file>", SCENARIO)
    .option(
      "--all",
      "the standard tactics too, beside those of the file; without any in the file they are taken anyway",
    )
    .option("--tactic <name...>", "these only, of the file's and the standard ones")
    .option("--out <folder>", "where the report goes; else reports/<file's name>-compare")
    .option("--json", "print the comparison as JSON instead of the table")
    .option("--no-charts", "leave out the pictures")
    .option("--seed <text>", "name the random streams, in place of the file's seed")
    .option("--horizon <duration>", 'simulate this long, such as "90 min", in place of the file\'s horizon')
    .option(
      "--replications <number>",
      "where something is left to chance: so many runs of each, on the same luck; else 10",
    )
    .option("--look <number>", "which look at this comparison it is: 2 when going on with more replications; else 1")
    .option("--jobs <number>", "worker threads for replications; as many as there are cores if not stated")
    .showHelpAfterError("(fillfront compare --help shows its options)")
    .addHelpText("after", example("fillfront compare scenarios/long-chain.yaml --all"))
    .action(async (file: string, options: CompareOptions) =>
      (await import("./compare.ts")).compare(file, options, terminal),
    );

  fillfront
    .command("prime")
    .description("find the least dose of each priming tactic that reaches a goal")
    .argument("<file>", SCENARIO)
    .option("--within <duration>", 'the goal: settled for good within this time, such as "5 min"')
    .option("--loss-below <items>", "the goal: a ramp-up loss below so many items")
    .option("--handling-below <items>", "only doses with fewer items handled count")
    .option("--json", "print the study as JSON instead")
    .option("--horizon <duration>", 'simulate this long, such as "90 min", in place of the file\'s horizon')
    .showHelpAfterError("(fillfront prime --help shows its options)")
    .addHelpText("after", example('fillfront prime scenarios/short-chain.yaml --within "6 min"'))
    .action(async (file: string, options: PrimeOptions) => (await import("./prime.ts")).prime(file, options, terminal));

  fillfront
    .command("grow")
    .description("lengthen a chain machine by machine and say when it has grown too long")
    .argument("<file>", SCENARIO)
    .option("--machines <counts>", "numbers of machines: 2..40, 2..40:2 or 4,8,16")
    .option("--out <folder>", "where the report goes; else reports/<file's name>-growth")
    .option("--json", "print the study as JSON instead")
    .option("--no-charts", "leave out the pictures")
    .option("--horizon <duration>", 'simulate this long, such as "90 min", in place of the file\'s horizon')
    .showHelpAfterError("(fillfront grow --help shows its options)")
    .addHelpText("after", example("fillfront grow scenarios/short-chain.yaml --machines 2..16"))
    .action(async (file: string, options: GrowOptions) => (await import("./grow.ts")).grow(file, options, terminal));

  fillfront
    .command("shortage")
    .description("lower the feed and say what is still made, who goes short, and what another layout would do")
    .argument("<file>", SCENARIO)
    .option("--levels <percentages>", "percentages of the full feed: 100,90,50 or 100..10:10 (the default)")
    .option("--feed <name...>", "lower these feeds only")
    .addOption(
      new Option("--dip <percentage>", 'lower the feed for a while instead, such as to "50 %"').conflicts("levels"),
    )
    .option("--from <duration>", 'when the dip begins, such as "2 h"')
    .option("--for <duration>", 'how long it lasts, such as "30 min"')
    .option("--out <folder>", "where the report goes; else reports/<file's name>-shortage, or -dip")
    .option("--json", "print the study as JSON instead")
    .option("--no-charts", "leave out the pictures")
    .option("--seed <text>", "name the random streams, in place of the file's seed")
    .option("--horizon <duration>", 'simulate this long, such as "90 min", in place of the file\'s horizon')
    .showHelpAfterError("(fillfront shortage --help shows its options)")
    .addHelpText(
      "after",
      example('fillfront shortage scenarios/short-chain.yaml --dip "50 %" --from "2 h" --for "30 min"'),
    )
    .action(async (file: string, options: ShortageOptions) =>
      (await import("./shortage.ts")).shortage(file, options, terminal),
    );

  fillfront
    .command("layouts")
    .description("draw up a line in several layouts, weigh them and say which to build")
    .argument("<file>", SCENARIO)
    .option("--line <name>", "the line to lay out, where there are several")
    .option(
      "--ways <numbers>",
      "the most outlets that a divider may have, 2 to 12, or those that can be had, such as 2,5",
    )
    .option("--priority <what>", "what counts most: fast (the default), small, cheap, even or grow")
    .option(
      "--lengths <how>",
      "belts as long as their way on the grid (from-grid) or all as-stated; as the file says if left out",
    )
    .option("--grow-to <machines>", "tell also what growing to so many machines takes")
    .option("--out <folder>", "where the report goes; else reports/<file's name>-layouts")
    .option("--json", "print the study as JSON instead of the tables")
    .option("--no-charts", "leave out pictures and drawings")
    .option("--seed <text>", "name the random streams, in place of the file's seed")
    .option("--horizon <duration>", 'simulate this long, such as "90 min", in place of the file\'s horizon')
    .option(
      "--replications <number>",
      "where something is left to chance: so many runs of each, on the same luck; else 10",
    )
    .option("--look <number>", "which look at this comparison it is: 2 when going on with more replications; else 1")
    .option("--jobs <number>", "worker threads for replications; as many as there are cores if not stated")
    .showHelpAfterError("(fillfront layouts --help shows its options)")
    .addHelpText("after", example("fillfront layouts scenarios/four-equal.yaml --priority small"))
    .action(async (file: string, options: LayoutsOptions) =>
      (await import("./layouts.ts")).layouts(file, options, terminal),
    );

  fillfront
    .command("sweep")
    .description("run a scenario over the values of one or two quantities of its file")
    .argument("<file>", SCENARIO)
    .addOption(
      new Option(
        "--vary <path=values>",
        "a place in the file and its values: a range (60/min..300/min:10/min) or a list (50,100,200); once or twice",
      ).argParser((value: string, before: readonly string[] = []) => [...before, value]),
    )
    .option("--jobs <number>", "worker threads; as many as there are cores if not stated")
    .option("--shard <part/parts>", "run every n-th point only, such as 1/4, for fillfront gather to join")
    .option("--out <folder>", "where the report goes; else reports/<file's name>-sweep")
    .option("--json", "print the sweep as JSON instead of the table")
    .option("--no-charts", "leave out the pictures")
    .option("--seed <text>", "name the random streams, in place of the file's seed")
    .option("--horizon <duration>", 'simulate this long, such as "90 min", in place of the file\'s horizon')
    .showHelpAfterError("(fillfront sweep --help shows its options)")
    .addHelpText(
      "after",
      example("fillfront sweep scenarios/short-chain.yaml --vary feeds.blender.rate=60/min..300/min:10/min"),
    )
    .action(async (file: string, options: SweepOptions) => (await import("./sweep.ts")).sweep(file, options, terminal));

  fillfront
    .command("gather")
    .description("join the parts of a sweep that --shard has spread over machines")
    .argument("<part...>", "report folders of the parts, or the sweep.json in them")
    .option("--out <folder>", "where the report goes; else reports/<scenario's name>-sweep")
    .option("--json", "print the sweep as JSON instead of the table")
    .option("--no-charts", "leave out the pictures")
    .showHelpAfterError("(fillfront gather --help shows its options)")
    .addHelpText("after", example("fillfront gather reports/short-chain-sweep-*-of-4"))
    .action(async (parts: string[], options: GatherOptions) =>
      (await import("./gather.ts")).gather(parts, options, terminal),
    );

  fillfront
    .command("fit")
    .description("estimate values of the file from counts observed at the plant, and say how well they are known")
    .argument("<file>", SCENARIO)
    .option("--observed <file>", "the counts as CSV, such as time_min,cartoner-3.made,cartoner-3.infeed,made")
    .addOption(
      new Option(
        "--unknown <path=bounds>",
        "a place in the file and the bounds to look between: 100/min..300/min, or 20..200; up to five times",
      ).argParser((value: string, before: readonly string[] = []) => [...before, value]),
    )
    .addOption(
      new Option(
        "--error <items>",
        "how far off a count may be, in place of one item or cycle; of one thing: made=5",
      ).argParser((value: string, before: readonly string[] = []) => [...before, value]),
    )
    .option("--out <folder>", "where the report goes; else reports/<file's name>-fit")
    .option("--json", "print the fit as JSON instead of the table")
    .option("--no-charts", "leave out the pictures")
    .option("--seed <text>", "name the random streams, in place of the file's seed")
    .showHelpAfterError("(fillfront fit --help shows its options)")
    .addHelpText(
      "after",
      example(
        "fillfront fit scenarios/pouch-trial.yaml --observed scenarios/pouch-trial-counts.csv --unknown machines.cartoner.infeed=20..200",
      ),
    )
    .action(async (file: string, options: FitOptions) => (await import("./fit.ts")).fitCounts(file, options, terminal));

  fillfront
    .command("schema")
    .description("print the JSON Schema of the scenario file, for editors that complete and check it")
    .addHelpText("after", example("fillfront schema > scenario.schema.json"))
    .action(async () => (await import("./schema.ts")).schema(terminal));

  return fillfront;
}

function example(command: string): string {
  return `\nExample:\n  $ ${command}`;
}

/** @returns the exit status, once help and version are printed, too */
async function done(argv: readonly string[], terminal: Terminal): Promise<number> {
  const printed: Promise<void>[] = [];
  const fillfront = program(terminal, printed);
  let status = 0;
  try {
    if (argv.length <= 2) fillfront.outputHelp();
    else await fillfront.parseAsync(argv);
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (error.exitCode !== 0) status = REFUSED;
  }
  await Promise.all(printed);
  return status;
}

/** @returns the exit status */
async function main(argv: readonly string[]): Promise<number> {
  const terminal = terminalOf(process);
  try {
    return await done(argv, terminal);
  } catch (error) {
    if (error instanceof RefusedError) {
      terminal.complain(error.message);
      return REFUSED;
    }
    terminal.complain(`fillfront failed: ${error instanceof Error ? error.message : String(error)}`);
    if (process.env.FILLFRONT_DEBUG && error instanceof Error) terminal.tell(error.stack ?? "");
    return FAILED;
  }
}

process.exitCode = (await inFewerAddresses()) ?? (await main(process.argv));
