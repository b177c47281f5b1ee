/** The commands that lead to a first file. */
import { Command } from "commander";
import { exampleText, QUIET } from "./options.ts";
import type { SizeOptions } from "./size.ts";
import { quietly, type Terminal } from "./terminal.ts";

export function firstFileCommands(terminal: Terminal): Command[] {
  return [sizeCommand(terminal)];
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
    .showHelpAfterError("(fillfront size --help shows its options)")
    .addHelpText(
      "after",
      exampleText([
        'size kinds.yaml --output "tin: 120/min" --out plant.yaml',
        'size kinds.yaml --output "tin: 120/min" "lid: 60/min" --json',
      ]),
    )
    .action(async (file: string, options: SizeOptions & { readonly quiet?: boolean }) =>
      (await import("./size.ts")).size(file, options, options.quiet ? quietly(terminal) : terminal),
    );
}
