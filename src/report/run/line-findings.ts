/** What a plant of several lines says of each. */
import type { LineItem, MachineResult, Output, Result } from "../../analysis/result.ts";
import { approximately, duration, items, listed, longRun, rate } from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { oneLine } from "../text/text-width.ts";

/** Only where there are several, each for itself. */
export function lineFindings({ lines: all, machines, chance }: Result): Finding[] {
  if (all.length < 2) return [];
  return all.map(({ id, items: brought, machines: own, settling, output }): Finding => {
    const at = longRun(output);
    const level = at === null ? "no settled output" : `${rate(at)} of ${rate(approximately(output.full_per_min))}`;
    if (chance !== undefined)
      return { code: "line", text: `Line ${oneLine(id)}: ${level} over the last part of the run.` };
    if (at === 0 && output.settled_per_min !== null) {
      return { code: "line", text: `Line ${oneLine(id)}: ${level}, it stands still for good.` };
    }
    const when =
      settling.time_min === null || settling.to_95_min === null
        ? "not settled by the end"
        : `95\u00a0% of it from ${duration(settling.to_95_min)}, all from ${duration(settling.time_min)}`;
    const text = `Line ${oneLine(id)}: ${level}, ${when}${lossOf(output)}${shortOf(brought, own, machines)}.`;
    return { code: "line", text };
  });
}

/** "; its machines wait for lid": those kinds that the line brings too little of, told apart from what others bring. */
function shortOf(items: readonly LineItem[], own: readonly string[], machines: readonly MachineResult[]): string {
  const waits = machines.filter(({ id }) => own.includes(id)).flatMap((machine) => machine.waits);
  const lacks = items.filter(({ item }) =>
    waits.some((wait) => wait.state === "starved" && wait.item === item && (wait.settled_share ?? 0) > WAITS),
  );
  return lacks.length === 0 ? "" : `; its machines wait for ${listed(lacks.map(({ item }) => oneLine(item)))}`;
}

/** Less of the time is rounding. */
const WAITS = 0.001;

function lossOf({ ramp_up_loss: lost }: Output): string {
  if (lost === null) return "";
  return lost < 0 ? `, ${items(-lost)} more than at that rate from the start` : `, ramp-up loss ${items(lost)}`;
}
