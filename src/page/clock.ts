/** The moment that the page shows: one for diagram, charts and tables. */
export interface Clock {
  readonly tick: () => number;
  readonly endTick: () => number;
  readonly ticksPerMin: () => number;
  readonly minute: () => number;
  readonly set: (tick: number) => void;
  readonly reach: (ticksPerMin: number, endTick: number) => void;
  readonly onChange: (hear: () => void) => void;
}

export function startClock(): Clock {
  const hearers: (() => void)[] = [];
  let [tick, end, perMin] = [0, 1, 600];
  const set = (wanted: number): void => {
    tick = Math.max(0, Math.min(end, Math.round(wanted)));
    for (const hear of hearers) hear();
  };
  return {
    tick: () => tick,
    endTick: () => end,
    ticksPerMin: () => perMin,
    minute: () => tick / perMin,
    set,
    reach: (ticksPerMin, endTick) => {
      const minute = tick / perMin;
      [perMin, end] = [ticksPerMin, Math.max(1, endTick)];
      set(minute * perMin);
    },
    onChange: (hear) => hearers.push(hear),
  };
}
