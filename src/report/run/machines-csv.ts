/** machines.csv: what every machine does, a row for each. */
import type { InfeedResult, MachineResult, Result } from "../../analysis/result.ts";
import { type Cell, csv } from "../text/csv.ts";
import { approximately, longRun } from "../text/figures.ts";
import { fullProducts, settledProducts } from "./machine-rates.ts";

interface Field {
  readonly name: string;
  readonly cell: (machine: MachineResult) => Cell;
}

const BEFORE: readonly Field[] = [
  { name: "machine", cell: ({ id }) => id },
  { name: "line", cell: ({ line }) => line },
  { name: "full_products_per_min", cell: fullProducts },
  { name: "settled_products_per_min", cell: settled(settledProducts) },
  { name: "measured_products_per_min", cell: measured(settledProducts) },
  { name: "full_cycles_per_min", cell: ({ cycles }) => approximately(cycles.full_per_min) },
  { name: "settled_cycles_per_min", cell: settled(({ cycles }) => longRun(cycles)) },
  { name: "measured_cycles_per_min", cell: measured(({ cycles }) => longRun(cycles)) },
  { name: "first_item_min", cell: (machine) => machine.first_item_min },
  { name: "full_rate_from_min", cell: (machine) => machine.full_rate_from_min },
  { name: "uptime_ramp_up_share", cell: ({ uptime }) => uptime.ramp_up },
  { name: "uptime_settled_share", cell: ({ uptime }) => uptime.settled },
  { name: "uptime_horizon_share", cell: ({ uptime }) => uptime.horizon },
  { name: "running_min", cell: ({ minutes }) => minutes.running },
  { name: "starved_min", cell: ({ minutes }) => minutes.starved },
  { name: "blocked_min", cell: ({ minutes }) => minutes.blocked },
  { name: "down_min", cell: ({ minutes }) => minutes.down },
  { name: "held_min", cell: ({ minutes }) => minutes.held },
  { name: "made_items", cell: ({ made }) => made },
];

type OfMachine = (machine: MachineResult) => number | null;

/** Where it is exact, else nothing. */
function settled(rate: OfMachine): OfMachine {
  return (machine) => (machine.settled_per_min === null ? null : rate(machine));
}

/** Where it is not exact. */
function measured(rate: OfMachine): OfMachine {
  return (machine) => (machine.settled_per_min === null ? rate(machine) : null);
}

/** The fields of a machine's infeed buffer number `index`, which not every machine has. */
function bufferFields(index: number): Field[] {
  const prefix = `infeed_${index + 1}`;
  const ofBuffer = ({ infeed }: MachineResult, rate: (buffer: InfeedResult) => number | null): number | null => {
    const buffer = infeed[index];
    return buffer === undefined ? null : rate(buffer);
  };
  return [
    { name: `${prefix}_item`, cell: ({ infeed }) => infeed[index]?.item ?? null },
    {
      name: `${prefix}_needs_items_per_min`,
      cell: (machine) => ofBuffer(machine, ({ needs_per_min: needs }) => approximately(needs)),
    },
    { name: `${prefix}_settled_items_per_min`, cell: settled((machine) => ofBuffer(machine, longRun)) },
    { name: `${prefix}_measured_items_per_min`, cell: measured((machine) => ofBuffer(machine, longRun)) },
    { name: `${prefix}_capacity_items`, cell: ({ infeed }) => infeed[index]?.capacity ?? null },
    { name: `${prefix}_full_at_min`, cell: ({ infeed }) => infeed[index]?.full_at_min ?? null },
    { name: `${prefix}_settled_low_items`, cell: ({ infeed }) => infeed[index]?.settled_low ?? null },
    { name: `${prefix}_settled_high_items`, cell: ({ infeed }) => infeed[index]?.settled_high ?? null },
  ];
}

/** A row for each machine; minutes, items per minute, items, shares of 1. */
export function machinesCsv({ machines }: Result): string {
  const buffers = machines.reduce((most, { infeed }) => Math.max(most, infeed.length), 0);
  const fields = [...BEFORE, ...Array.from({ length: buffers }, (_, index) => bufferFields(index)).flat()];
  return csv([fields.map(({ name }) => name), ...machines.map((machine) => fields.map(({ cell }) => cell(machine)))]);
}
