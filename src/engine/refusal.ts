/** Until when an item that has just been refused would be refused again. */
import { DIVIDER, MACHINE, type Program } from "../network/program.ts";
import { NEVER } from "./calendar.ts";
import { letsIn } from "./hand-over.ts";
import type { State } from "./state.ts";

/** For a connection that has just refused an item: the next tick at which it may let it in. */
export function opensAt(program: Program, state: State, connection: number, item: number): number {
  if (!letsIn(program, connection, item)) return NEVER;
  const b = program.connection.belt[connection]!;
  if (b >= 0) return entranceOpensAt(program, state, b);
  const element = program.connection.toIndex[connection]!;
  switch (program.connection.toKind[connection]) {
    case DIVIDER:
      return dividerOpensAt(program, state, element, item);
    case MACHINE:
      return program.machine.bufferFor[element * program.itemCount + item]! < 0 ? NEVER : state.tick + 1;
    default:
      return NEVER;
  }
}

export function dividerOpensAt(program: Program, state: State, d: number, item: number): number {
  const { start, values } = program.divider.outlets;
  let first = NEVER;
  for (let i = start[d]!; i < start[d + 1]!; i++) {
    const tick = opensAt(program, state, values[i]!, item);
    if (tick < first) first = tick;
  }
  return first;
}

function entranceOpensAt({ belt: { entryPace, room } }: Program, state: State, b: number): number {
  const pace = entryPace[b]!;
  if (state.beltCount[b]! >= room[b]!) state.beltAwaited[b] = 1;
  const lag = state.paceLag[pace]! + state.paceRest[pace]!;
  const opens = state.paceDue[pace]! - state.paceWhole[pace]! - (lag >= state.paceParts[pace]! ? 1 : 0);
  return opens > state.tick ? opens : state.beltCount[b]! >= room[b]! ? NEVER : state.tick + 1;
}
