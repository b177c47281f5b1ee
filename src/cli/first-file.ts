/** The commands that lead to a first file. */
import { Command, Option } from "commander";
import type { NewOptions } from "./new.ts";
import { detailsOption, exampleText, QUIET } from "./options.ts";
import type { SizeOptions } from "./size.ts";
import { asAsked, type Terminal } from "./terminal.ts";

export function firstFileCommands(terminal: Terminal): Command[] {
  return [newCommand(terminal), sizeCommand(terminal)];
}

function newCommand(terminal: Terminal): Command {
  return new Command("new")
    .description("write a first scenario from a few answers, or from a table of machines")
    .option(
      "--from <table>",
      "a table instead, .csv or .xlsx, a row for each kind: name, count, cycle [s], takes, makes, room, speed [%]",
    )
    .option(
      "--output <item: rate...>",
      'with a table: what is to be made, such as "tin: 120/min"; counts left open follow from it',
    )
    .option("--machine <name>", "what the machines are called")
    .option("--takes <items>", 'what one cycle takes: pouch, or "2 pouch + 1 lid"')
    .option("--makes <items>", "what it makes")
    .option("--cycle <duration>", 'how long it takes, such as "2.5 s"')
    .option("--count <number or rate>", 'how many there are, or how much they are to make, such as "120/min"')
    .option("--room <items>", "room before each machine; 60 if left out")
    .option("--feed <rate>", "what is fed; as needed if left out")
    .option("--belt <belt>", 'length, speed and pitch, such as "3 m, 24 m/min, 100 mm"; fast enough if left out')
    .addOption(
      new Option(
        "--next <machine>",
        'a further kind: name; takes; makes; cycle; count; room, such as "packer; 24 tin; case; 30 s; 3; 60"; once or more',
      ).argParser((value: string, before: readonly string[] = []) => [...before, value]),
    )
    .option("--title <text>", "what reports are headed")
    .option("--out <file>", "where the scenario goes; else plant.yaml, or <table's name>.yaml")
    .option("--run", "run it at once")
    .option("--no-run", "don't ask whether to run it")
    .showHelpAfterError("(fillfront new --help shows its options)")
    .addHelpText(
      "after",
      exampleText([
        "new --from machines.csv --out plant.yaml",
        'new --machine capper --takes bottle --makes capped-bottle --cycle "2.5 s" --count 6 --out plant.yaml',
      ]),
    )
    .action(async (options: NewOptions) => (await import("./new.ts")).newFile(options, terminal));
}

function sizeCommand(terminal: Terminal): Command {
  return new Command("size")
    .description("work out how many machines a wanted output takes, and write the scenario that has them")
    .argument("<file>", "a scenario that may leave open counts, feeds, lines and belts, or - for standard input")
    .option(...QUIET)
    .option("--output <item: rate...>", 'what is to be made, such as "tin: 120/min"; in place of the file\'s wanted')
    .option("--out <file>", "where the scenario goes; else <file's name>-sized.yaml")
    .option("--replications <number>", "where something is left to chance: so many runs of each try; else 10")
    .option("--json", "print all as JSON instead; the scenario's file is then written with --out only")
    .addOption(detailsOption())
    .showHelpAfterError("(fillfront size --help shows its options)")
    .addHelpText(
      "after",
      exampleText([
        'size kinds.yaml --output "tin: 120/min" --out plant.yaml',
        'size kinds.yaml --output "tin: 120/min" "lid: 60/min" --json',
      ]),
    )
    .action(async (file: string, options: SizeOptions) =>
      (await import("./size.ts")).size(file, options, asAsked(terminal, options)),
    );
}
