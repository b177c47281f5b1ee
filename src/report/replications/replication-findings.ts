/** What replications say, in a few plain sentences, each with a code. */
import type { Replications } from "../../analysis/chance-results.ts";
import type { Result } from "../../analysis/result.ts";
import { approximately, duration, number, percent, rate } from "../figures.ts";
import type { Finding } from "../finding.ts";
import { oneLine } from "../text-width.ts";
import { inItems, inMinutes, inPercent, inRate, saidFully } from "./replication-figures.ts";

export function replicationFindings(result: Result, replications: Replications): Finding[] {
  return [
    settled(result, replications),
    ...until(replications),
    rampUp(replications),
    settling(replications),
    ...loss(replications),
    holdUp(replications),
    ...uptimes(replications),
    median(replications),
  ];
}

function settled({ output }: Result, { n, settled_output_per_min: figure }: Replications): Finding {
  const full = approximately(output.full_per_min);
  const share = full > 0 ? ` That is ${percent(figure.mean / full)} of its full ${rate(full)}.` : "";
  const text = `Over ${number(n)} replications the line makes ${saidFully(figure, inRate)} in the long run.${share}`;
  return { code: "settled", text };
}

function until({ until: asked, n }: Replications): Finding[] {
  if (asked === null) return [];
  const wanted = `\u00b1${percent(asked.share)}`;
  const width = asked.half_width === null ? "" : ` (\u00b1${percent(asked.half_width)})`;
  if (asked.reached) {
    const text = `${number(n)} replications were enough for an interval of ${wanted} of ${oneLine(asked.figure)}${width}.`;
    return [{ code: "until", text }];
  }
  const about = asked.about === null || asked.about <= n ? "" : `; about ${number(asked.about)} would do`;
  const text = `${number(n)} replications are not enough for an interval of ${wanted} of ${oneLine(asked.figure)}${width}${about}.`;
  return [{ code: "until", text }];
}

const NO_MSER: Readonly<Record<"too few values" | "beyond half", string>> = {
  "too few values": "there are too few points",
  "beyond half": "it lies beyond half of the horizon, which asks for a longer one",
};
const NO_WELCH: Readonly<Record<"one run" | "too few points" | "still moving" | "too rough", string>> = {
  "one run": "there is one run only",
  "too few points": "there are too few points",
  "still moving": "the mean output still moves, which asks for a longer horizon",
  "too rough": "the mean output is too rough, which asks for more replications",
};

function rampUp({ ramp_up_end: ends, counted_from_min: from, tolerance }: Replications): Finding {
  const mser =
    ends.mser5_min === null
      ? `MSER-5 finds no end of the ramp-up: ${NO_MSER[ends.mser5_why ?? "beyond half"]}`
      : `By MSER-5 on the mean output the ramp-up ends at ${duration(ends.mser5_min)}`;
  const over = ends.welch_window_min === null ? "" : ` (moving average over ${duration(ends.welch_window_min)})`;
  const welch =
    ends.welch_min === null
      ? `Welch's procedure finds none: ${NO_WELCH[ends.welch_why ?? "too rough"]}`
      : `by Welch's procedure at ${duration(ends.welch_min)}${over}`;
  const average = `the mean output's moving average over ${duration(ends.band_average_min)}`;
  const band =
    ends.band_min === null
      ? `${average} does not come to stay within ${percent(tolerance)} of the settled output by half of the horizon`
      : `${average} stays within ${percent(tolerance)} of the settled output from ${duration(ends.band_min)} on`;
  const isNone = ends.mser5_min === null && ends.welch_min === null;
  const counted = `Settled figures are counted from ${duration(from)} on${isNone ? ", half of the horizon" : ""}.`;
  return { code: "ramp-up", text: `${mser}; ${welch}; ${band}. ${counted}` };
}

/** So many times wider than the ramp-up is long, an average follows the swings. */
const MUCH_WIDER = 2;

function settling(replications: Replications): Finding {
  const { settling_min: figure, settling_average_min: over, tolerance, n, counted_from_min: from } = replications;
  const average = `moving average over ${duration(over)} stays within ${percent(tolerance)} of its own settled output`;
  if (figure === null) return { code: "settling", text: `In no replication a ${average} by half of the horizon.` };
  const left = n - figure.n;
  const rest =
    left === 0 ? "" : `; in ${number(left)} of ${number(n)} it does not come to stay there by half of the horizon`;
  const wide =
    over > MUCH_WIDER * from
      ? " So wide an average follows the swings of single runs more than their ramp-up, of which the ends of the mean output tell more."
      : "";
  const text = `${left === 0 ? "In every replication a" : `In ${number(figure.n)} replications a`} ${average} from ${saidFully(figure, inMinutes)} on${rest}.${wide}`;
  return { code: "settling", text };
}

function loss({ ramp_up_loss: figure }: Replications): Finding[] {
  if (figure === null) return [];
  const text = `The ramp-up costs ${saidFully(figure, inItems)} against running at the settled output from the start.`;
  return [{ code: "loss", text }];
}

function holdUp({ hold_up_settled: figure }: Replications): Finding {
  return { code: "hold-up", text: `On belts and in buffers lie ${saidFully(figure, inItems)} once settled.` };
}

function uptimes({ machines }: Replications): Finding[] {
  const [first] = machines;
  if (first === undefined) return [];
  const inOrder = machines.toSorted((a, b) => a.uptime.mean - b.uptime.mean);
  const [least, most] = [inOrder[0] ?? first, inOrder.at(-1) ?? first];
  const one = `${oneLine(least.id)} runs ${saidFully(least.uptime, inPercent)} of the time once settled`;
  const text =
    machines.length === 1
      ? `${one}.`
      : `${one}, the least of all; ${oneLine(most.id)} most, ${percent(most.uptime.mean)}.`;
  return [{ code: "uptime", text }];
}

function median({ median: { replication, seed } }: Replications): Finding {
  const text = `Machine by machine this report shows the median run, replication ${number(replication)} (--seed ${quoted(seed)}), which made the median number of products.`;
  return { code: "median", text };
}

function quoted(seed: string): string {
  return `'${oneLine(seed)}'`;
}
