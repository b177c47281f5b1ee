/** The table of a run: what every machine does, a row for each. */
import type { InfeedResult, MachineResult, Result } from "../../analysis/result.ts";
import { total } from "../../quantity/counts.ts";
import { approximately, longRun, rateWord, significant } from "../text/figures.ts";
import { count, exactRate, minutes, quantity, rate, type StudyColumn, share, text } from "../text/study-table.ts";
import { oneLine } from "../text/text-width.ts";

type Machine = StudyColumn<MachineResult>;

/** Minutes, items per minute, items; shares of 1 in CSV. */
export function machineColumns({ machines, settling }: Result): Machine[] {
  const word = rateWord(settling);
  const buffers = Math.max(0, ...machines.map(({ infeed }) => infeed.length));
  return [
    text(({ id }) => id, { csv: "machine", markdown: "machine", terminal: ["machine", 99] }),
    text(({ line }) => line, { csv: "line" }),
    rate(fullProducts, {
      csv: "full_products_per_min",
      markdown: "at full speed, products/min",
      terminal: ["full|/min", 8],
    }),
    quantity((machine: MachineResult) => settledText(machine, word), {
      csv: "settled_products_per_min",
      markdown: `${word}, products/min`,
      terminal: [`${word}|/min`, 9],
      value: exactly(settledProducts),
    }),
    ...(machines.every(takesAsItMakes) ? [] : [quantity(takenText, { terminal: ["takes|/min", 8.5] })]),
    rate(measured(settledProducts), { csv: "measured_products_per_min" }),
    exactRate(({ cycles }) => cycles.full_per_min, { csv: "full_cycles_per_min" }),
    rate(
      exactly(({ cycles }) => longRun(cycles)),
      { csv: "settled_cycles_per_min" },
    ),
    rate(
      measured(({ cycles }) => longRun(cycles)),
      { csv: "measured_cycles_per_min" },
    ),
    minutes(({ first_item_min: at }) => at, {
      csv: "first_item_min",
      markdown: "first item, min",
      terminal: ["first|item|min", 3],
    }),
    minutes(fullAt, { terminal: ["buffer|full at|min", 6] }),
    minutes(({ full_rate_from_min: from }) => from, {
      csv: "full_rate_from_min",
      markdown: "settled from, min",
      terminal: ["settled|from|min", 10],
    }),
    share(({ uptime }) => uptime.ramp_up, {
      csv: "uptime_ramp_up_share",
      markdown: "uptime in ramp-up, %",
      terminal: ["uptime|ramp-up|%", 4],
    }),
    share(({ uptime }) => uptime.settled, {
      csv: "uptime_settled_share",
      markdown: "uptime settled, %",
      terminal: ["uptime|settled|%", 7],
    }),
    share(({ uptime }) => uptime.horizon, {
      csv: "uptime_horizon_share",
      ...(machines.some(({ uptime }) => uptime.settled === null) ? { terminal: ["uptime|overall|%", 7.5] } : {}),
    }),
    ...STATES.map(([state, importance]) =>
      minutes<MachineResult>(({ minutes: in_state }) => in_state[state], {
        csv: `${state}_min`,
        markdown: `${state}, min`,
        ...(importance !== null && (state === "starved" || machines.some((one) => one.minutes[state] !== 0))
          ? { terminal: [`${state}|min`, importance] }
          : {}),
      }),
    ),
    count(({ made }) => made, { csv: "made_items", markdown: "made, items" }),
    ...Array.from({ length: buffers }, (_, b) => bufferColumns(b)).flat(),
  ];
}

const STATES = [
  ["running", null],
  ["starved", 5],
  ["blocked", 5.5],
  ["down", 5.5],
  ["held", 5.5],
] as const;

type OfMachine = (machine: MachineResult) => number | null;

/** Where it is exact, else nothing. */
function exactly(rate: OfMachine): OfMachine {
  return (machine) => (machine.settled_per_min === null ? null : rate(machine));
}

/** Where it is not exact. */
function measured(rate: OfMachine): OfMachine {
  return (machine) => (machine.settled_per_min === null ? rate(machine) : null);
}

/** Of a machine's infeed buffer number `b`, which not every machine has. */
function bufferColumns(b: number): Machine[] {
  const prefix = `infeed_${b + 1}`;
  const of =
    (read: (buffer: InfeedResult) => number | null): OfMachine =>
    ({ infeed }) => {
      const buffer = infeed[b];
      return buffer === undefined ? null : read(buffer);
    };
  return [
    text(({ infeed }) => infeed[b]?.item ?? null, { csv: `${prefix}_item` }),
    rate(
      of(({ needs_per_min: needs }) => approximately(needs)),
      { csv: `${prefix}_needs_items_per_min` },
    ),
    rate(exactly(of(longRun)), { csv: `${prefix}_settled_items_per_min` }),
    rate(measured(of(longRun)), { csv: `${prefix}_measured_items_per_min` }),
    count(
      of(({ capacity }) => capacity),
      { csv: `${prefix}_capacity_items` },
    ),
    minutes(
      of(({ full_at_min: at }) => at),
      { csv: `${prefix}_full_at_min` },
    ),
    count(
      of(({ settled_low: low }) => low),
      { csv: `${prefix}_settled_low_items` },
    ),
    count(
      of(({ settled_high: high }) => high),
      { csv: `${prefix}_settled_high_items` },
    ),
  ];
}

/** When the last of its infeed buffers is full for the first time; `null` if one never is. */
function fullAt({ infeed }: MachineResult): number | null {
  let last: number | null = null;
  for (const { full_at_min: at } of infeed) {
    if (at === null) return null;
    last = Math.max(last ?? 0, at);
  }
  return last;
}

/** Of all kinds that it makes, products/min, when it never waits. */
function fullProducts({ products }: MachineResult): number {
  return total(products.map(({ full_per_min }) => approximately(full_per_min)));
}

/** In the long run; `null` where it is not known. */
function settledProducts({ products }: MachineResult): number | null {
  const rates = products.map(longRun).filter((rate) => rate !== null);
  return rates.length < products.length ? null : total(rates);
}

/** "~30" where what was found is not exact beside what is. @param word what the long-run rates are called */
function settledText(machine: MachineResult, word: ReturnType<typeof rateWord>): string {
  const rate = settledProducts(machine);
  if (rate === null) return "–";
  return `${machine.settled_per_min === null && word === "settled" ? "~" : ""}${significant(rate)}`;
}

/** Whether a product is made of each item, so that rates of items say nothing that those of products don't. */
export function takesAsItMakes(machine: MachineResult): boolean {
  const [only, ...others] = machine.infeed;
  const taken = only === undefined ? 0 : approximately(only.needs_per_min);
  return others.length === 0 && Math.abs(taken - fullProducts(machine)) < 1e-9 * taken;
}

/** "50 body + 50 lid": in the long run, items/min; "–" where that is not known. */
function takenText({ infeed }: MachineResult): string {
  const parts = infeed.flatMap((buffer) => {
    const rate = longRun(buffer);
    return rate === null ? [] : [`${significant(rate)} ${oneLine(buffer.item)}`];
  });
  return parts.length < infeed.length ? "–" : parts.join(" + ");
}
