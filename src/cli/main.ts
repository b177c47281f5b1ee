#!/usr/bin/env node
/** The command line: which commands there are and what they may be told. Each command's work is in its own file. */
import { readFileSync } from "node:fs";
import { Command, CommanderError, Option } from "commander";
import { check } from "./check.ts";
import { estimateFlow } from "./estimate.ts";
import { FAILED, REFUSED, RefusedError } from "./exit.ts";
import { run } from "./run.ts";
import { schema } from "./schema.ts";
import { type Terminal, terminalOf } from "./terminal.ts";

const SCENARIO = "a scenario file, or - for standard input";

function program(terminal: Terminal): Command {
  const fillfront = new Command("fillfront")
    .description("How long a chained feed line takes to full output, and what every machine does meanwhile.")
    .version(version())
    .exitOverride()
    .showHelpAfterError("(fillfront --help shows what there is)")
    .addHelpText("after", example("fillfront run scenarios/short-chain.yaml"));

  fillfront
    .command("run")
    .description("simulate, write a report and print its findings")
    .argument("<file...>", SCENARIO)
    .option(
      "--out <dir>",
      "the report's folder (default: reports/<the file's name>); of several files, the folder of theirs",
    )
    .option("--json", "print the result as JSON instead of the summary")
    .option("--no-charts", "leave out the pictures")
    .option("--seed <text>", "name the random streams, in place of the file's seed")
    .option("--horizon <duration>", 'simulate this long, such as "90 min", in place of the file\'s horizon')
    .addOption(new Option("--check", "recount every item after every tick").hideHelp())
    .addHelpText("after", example("fillfront run scenarios/long-chain.yaml --out reports/long --horizon '2 h'"))
    .action((files: string[], options) => run(files, options, terminal));

  fillfront
    .command("check")
    .description("read a scenario and say what the line is, without running it")
    .argument("<file>", SCENARIO)
    .option("--network", "print the expanded network as a custom scenario instead")
    .option("--json", "print the facts as JSON instead")
    .addHelpText("after", example("fillfront check scenarios/short-chain.yaml --network > expanded.yaml"))
    .action((file: string, options) => check(file, options, terminal));

  fillfront
    .command("estimate")
    .description("solve the line as a flow, exactly and at once, without simulating")
    .argument("<file>", SCENARIO)
    .option("--json", "print the solution as JSON instead")
    .addHelpText("after", example("fillfront estimate scenarios/long-chain.yaml"))
    .action((file: string, options) => estimateFlow(file, options, terminal));

  fillfront
    .command("schema")
    .description("print the JSON Schema of the scenario file, for editors that complete and check it")
    .addHelpText("after", example("fillfront schema > scenario.schema.json"))
    .action(() => schema(terminal));

  return fillfront;
}

function example(command: string): string {
  return `\nExample:\n  $ ${command}`;
}

function version(): string {
  const text = readFileSync(new URL("../../package.json", import.meta.url), "utf8");
  const parsed: unknown = JSON.parse(text);
  return typeof parsed === "object" && parsed !== null && "version" in parsed ? String(parsed.version) : "unknown";
}

async function main(): Promise<number> {
  const terminal = terminalOf(process);
  try {
    await program(terminal).parseAsync(process.argv);
    return 0;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : REFUSED;
    if (error instanceof RefusedError) {
      terminal.complain(error.message);
      return REFUSED;
    }
    const text = error instanceof Error ? error.message : String(error);
    terminal.complain(`fillfront failed: ${text}`);
    if (process.env.FILLFRONT_DEBUG && error instanceof Error) terminal.complain(error.stack ?? "");
    return FAILED;
  }
}

process.exitCode = await main();
