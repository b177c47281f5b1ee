/** fillfront completion: what bash, zsh and fish need to complete commands, options and file names. */
import type { Command, Option } from "commander";
import { RefusedError } from "./exit.ts";
import type { Terminal } from "./terminal.ts";
import { oneOf } from "./unknown-name.ts";

export const COMPLETED_SHELLS = ["bash", "zsh", "fish"] as const;
type Shell = (typeof COMPLETED_SHELLS)[number];

const WRITERS: Readonly<Record<Shell, (commands: readonly Command[]) => string>> = { bash, zsh, fish };

export async function completion(shell: string, fillfront: Command, terminal: Terminal): Promise<void> {
  if (fillfront.commands.length === 0) throw new RefusedError("there are no commands to complete");
  await terminal.print(WRITERS[oneOf("completion", shell, COMPLETED_SHELLS)](fillfront.commands));
}

function optionsOf(command: Command): Option[] {
  return command.options.filter(({ hidden, long }) => !hidden && long);
}

const takesValue = ({ required, optional }: Option): boolean => required || optional;

/** In single quotes, for any of the three. */
function quoted(text: string): string {
  return `'${text.replaceAll("'", "’")}'`;
}

function bash(commands: readonly Command[]): string {
  const cases = commands.map((command) => {
    const flags = optionsOf(command).map(({ long }) => long);
    return `    ${command.name()}) words=${quoted([...flags, "--help"].join(" "))} ;;`;
  });
  return `_fillfront() {
  local current=\${COMP_WORDS[COMP_CWORD]} words=
  if [[ $COMP_CWORD -eq 1 ]]; then
    mapfile -t COMPREPLY < <(compgen -W ${quoted([...commands.map((one) => one.name()), "help"].join(" "))} -- "$current")
    return
  fi
  case \${COMP_WORDS[1]} in
${cases.join("\n")}
  esac
  if [[ $current == -* ]]; then
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$current")
  else
    mapfile -t COMPREPLY < <(compgen -f -- "$current")
  fi
}
complete -o filenames -F _fillfront fillfront
`;
}

function zsh(commands: readonly Command[]): string {
  const named = commands.map((command) => `    ${quoted(`${command.name()}:${command.description()}`)}`);
  const cases = commands.map((command) => {
    const options = optionsOf(command).map((option) => {
      const about = option.description.replace(/[[\]:\\]/g, "\\$&");
      return `        ${quoted(`${option.long}[${about}]${takesValue(option) ? `:${option.attributeName()}:_files` : ""}`)} \\`;
    });
    return `      ${command.name()})\n        _arguments \\\n${options.join("\n")}\n        '*:file:_files' ;;`;
  });
  return `#compdef fillfront
_fillfront() {
  local -a commands
  commands=(
${named.join("\n")}
  )
  if (( CURRENT == 2 )); then
    _describe command commands
    return
  fi
  local command=$words[2]
  shift words
  (( CURRENT-- ))
  case $command in
${cases.join("\n")}
  esac
}
compdef _fillfront fillfront
`;
}

function fish(commands: readonly Command[]): string {
  const lines = commands.flatMap((command) => {
    const name = command.name();
    const start = `complete -c fillfront -n __fish_use_subcommand -f -a ${name} -d ${quoted(command.description())}`;
    const options = optionsOf(command).map((option) => {
      const flag = `-l ${option.long?.slice(2)}${takesValue(option) ? " -r" : ""}`;
      return `complete -c fillfront -n '__fish_seen_subcommand_from ${name}' ${flag} -d ${quoted(option.description)}`;
    });
    return [start, ...options];
  });
  return `${lines.join("\n")}\n`;
}
