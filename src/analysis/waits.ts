/** What each machine waits for, how long, and why. */
import type { Run } from "../engine/simulate.ts";
import { BLOCKED, STARVED, STATE_COUNT } from "../engine/states.ts";
import type { Causes } from "./causes.ts";
import type { Wait } from "./plant-results.ts";
import type { StateMinutes } from "./result.ts";
import { eachBuffer, type SettledView } from "./settled-view.ts";

/** @param view `null` where the long-run rates are only measured, and so no cause is known */
export interface WaitTracing {
  readonly view: SettledView | null;
  readonly causes: Causes | null;
}

/** @param minutes of the machine's states, so that its waits agree with them */
export function waitsOf(run: Run, m: number, minutes: StateMinutes, { view, causes }: WaitTracing): Wait[] {
  const { program, totals, recurrence } = run;
  const id = program.network.machines[m]?.id ?? "";
  const settled = view?.waits[m] ?? [];
  return eachBuffer(program, m, (buffer, state, item): Wait[] => {
    const inState = totals.stateTicks[m * STATE_COUNT + (state === "starved" ? STARVED : BLOCKED)] ?? 0;
    const lacked = totals.lackTicks[buffer] ?? 0;
    if (lacked === 0) return [];
    const now = settled.find((wait) => wait.state === state && wait.item === item);
    return [
      {
        state,
        item,
        minutes: (minutes[state] * lacked) / inState,
        settled_share: recurrence && (now?.share ?? 0),
        cause: now === undefined ? null : (causes?.of(id, state, item) ?? null),
      },
    ];
  });
}
