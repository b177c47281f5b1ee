/** The command line: what is typed goes to its command; what becomes of it to the exit status. */
import { CommanderError } from "commander";
import { formatFinding, formatted } from "../index.ts";
import { inFewerAddresses } from "./address-space.ts";
import { program } from "./commands.ts";
import { FAILED, REFUSED, RefusedError } from "./exit.ts";
import { heapRemedyFor } from "./heap.ts";
import { sayWhenHeldOff } from "./interrupt.ts";
import { type Terminal, terminalOf } from "./terminal.ts";

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
    if (error.exitCode !== 0) {
      status = REFUSED;
      if (argv.includes("--json")) await terminal.printJson(refusal(new RefusedError(error.message)));
    }
  }
  await Promise.all(printed);
  return status;
}

/** @returns the exit status */
async function main(argv: readonly string[]): Promise<number> {
  const terminal = terminalOf(process);
  sayWhenHeldOff(terminal.tell);
  try {
    return await done(argv, terminal);
  } catch (error) {
    if (error instanceof RefusedError) {
      terminal.complain(error.message);
      if (argv.includes("--json")) await terminal.printJson(refusal(error));
      return REFUSED;
    }
    const message = error instanceof Error ? error.message : String(error);
    terminal.complain(`fillfront failed: ${message}${heapRemedyFor(error)}`);
    if (process.env.FILLFRONT_DEBUG && error instanceof Error) terminal.tell(error.stack ?? "");
    return FAILED;
  }
}

/** For programs that asked for JSON: the message, and what is wrong with a file place by place. */
function refusal({ message, refused }: RefusedError): object {
  const file = refused?.file ?? null;
  const findings = (refused?.findings ?? []).map((finding) => ({
    code: finding.code,
    severity: finding.severity,
    path: finding.path,
    line: finding.line,
    column: finding.column,
    message: formatFinding(finding, refused?.file ?? ""),
  }));
  return formatted("refusal", { message, file, findings });
}

inFewerAddresses().then(async (status) => {
  process.exitCode = status ?? (await main(process.argv));
});
