/** What has been finished, until the host takes it over: cycles by machine, or items by outlet in a plant without machines. */
import { countDwell } from "./hold-up";
import { completionMachine, completionTick, machines } from "./memory";
import { tick } from "./schedule";

export let completions: i32 = 0;

/** @param maker index of a machine; of an outlet where there are no machines */
export function finished(maker: i32): void {
  completionMachine[completions] = maker;
  completionTick[completions] = tick;
  completions += 1;
}

/** Where there are no machines, what leaves is what the plant makes, and it has been on the line until now. */
export function countLeft(outlet: i32, item: i32, born: i32): void {
  if (machines > 0) return;
  finished(outlet);
  countDwell(item, tick - born);
}
