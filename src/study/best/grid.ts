/** What can be done for a start with what the floor grants: each means with its doses, and the buffers that hands can fill. */
import { expand } from "../../network/expand.ts";
import { feedingOrder } from "../../network/flow-order.ts";
import { total } from "../../quantity/counts.ts";
import { ONE, type Rational, ratio, rational, whole, ZERO } from "../../quantity/rational.ts";
import { formatDuration, formatPercentage } from "../../quantity/units.ts";
import type { Means } from "../../scenario/means.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Amount, Prefill, Tactic, TacticPart } from "../../scenario/tactic.ts";
import { knownTactics } from "../comparison/standard-tactics.ts";
import { NO_TACTIC } from "../play.ts";

/** A start of the line as the search counts it; plain, so that threads can be sent it. */
export interface Code {
  /** A tactic of the file or a standard one, taken as it is; `null`: what follows. */
  readonly known: string | null;
  /** By dial: 0 for not at all, else the dose counted from 1. */
  readonly doses: readonly number[];
  /** Items of each kind placed at each machine of the grid. */
  readonly placed: readonly number[];
}

export interface Dose {
  /** Doses of one family lie one step apart where one of their numbers differs by 1. */
  readonly family: string;
  readonly at: readonly number[];
  readonly parts: Partial<Tactic>;
  /** Such as "metered-102". */
  readonly name: string;
}

/** One means, from the weakest dose of each family on. */
export interface Dial {
  readonly doses: readonly Dose[];
}

interface Stockable {
  readonly id: string;
  /** Of each kind that it takes. */
  readonly rooms: readonly number[];
  /** What one step of the search places: the full buffers, or as much of each as hands place at most. */
  readonly portion: number;
}

export interface Grid {
  readonly dials: readonly Dial[];
  /** As the flow comes to them; none where no hands are granted. */
  readonly machines: readonly Stockable[];
  readonly mostItems: number;
  readonly prefill: Pick<Prefill, "byHandPerMin" | "while">;
  readonly known: readonly Tactic[];
}

export function gridOf(scenario: Scenario): Grid {
  const order = feedingOrder(scenario, expand(scenario));
  const { hands } = scenario.means;
  const mostItems = hands?.items ?? 0;
  const machines = [...new Set(order.flat())].flatMap((id): Stockable[] => {
    const rooms = scenario.machines.find(({ members }) => members.includes(id))?.infeed.map(({ count }) => count) ?? [];
    const portion = portionOf(rooms, mostItems);
    return portion > 0 ? [{ id, rooms, portion }] : [];
  });
  return {
    dials: dialsOf(scenario),
    machines,
    mostItems,
    prefill: { byHandPerMin: hands?.ratePerMin ?? null, while: hands?.while ?? "stopped" },
    known: knownTactics(scenario),
  };
}

/** The most of each kind that hands can place at one machine. */
function portionOf(rooms: readonly number[], mostItems: number): number {
  let portion = Math.max(0, ...rooms);
  while (portion > 0 && handledAt(rooms, portion) > mostItems) portion--;
  return portion;
}

export function handledAt(rooms: readonly number[], amount: number): number {
  return total(rooms.map((room) => Math.min(room, amount)));
}

export function handledBy({ machines }: Grid, placed: readonly number[]): number {
  return total(machines.map(({ rooms }, i) => handledAt(rooms, placed[i] ?? 0)));
}

const SECONDS_HELD = [15, 30, 60, 120, 240];
const SECONDS_BETWEEN = [2, 5, 10, 15, 30];
const SECONDS_FAR_END = [30, 60, 120, 240, 480];
const MINUTES = [2, 5, 10, 20];
const METERED = [150, 120, 110, 105, 103, 102, 101, 100];
const FEED_SHARES = ["1/4", "1/2", "3/4", "1"];
const FEED_TIMES = ["1/4", "1/2", "1"];
const LEVEL_SHARES = [3 / 4, 1 / 2, 1 / 4, 1 / 8];
const SECOND_SHARES = ["1/6", "1/3", "1/2", "2/3"];

const seconds = (count: number): Rational => ratio(BigInt(count), 60n);
const named = (minutes: Rational): string => formatDuration(minutes).replace(/\s/g, "");

/** What the floor grants of each part, as one dial; `null` where it has none of its own. */
const DOSES: Readonly<Record<TacticPart, ((means: Means, room: number) => Dose[]) | null>> = {
  // Machine by machine, beside the dials.
  prefill: null,
  hold: ({ starts }) => [...(starts.held ? heldDoses() : []), ...(starts.staggered ? staggeredDoses() : [])],
  // One start, held or staggered: on the dial above.
  stagger: null,
  boost: ({ feed }) => (feed === null ? [] : feedDoses(feed)),
  lowLevel: ({ levels }, room) => (levels ? levelDoses(room) : []),
  metered: ({ branches }) => (branches ? METERED.map(meteredDose) : []),
  farEndFirst: ({ dividers }) => (dividers ? farEndDoses() : []),
  secondFeed: ({ secondFeed }) => (secondFeed === null ? [] : secondDoses(secondFeed)),
};

function dialsOf({ means, machines }: Scenario): Dial[] {
  const room = Math.min(...machines.flatMap(({ infeed }) => infeed.map(({ count }) => count)));
  const all = machines.length === 0 ? [DOSES.boost] : Object.values(DOSES);
  return all.map((dosesOf) => ({ doses: dosesOf?.(means, room) ?? [] })).filter(({ doses }) => doses.length > 0);
}

function heldDoses(): Dose[] {
  const held = (until: "own-full" | "all-full" | { afterMin: Rational }): Partial<Tactic> => {
    return { hold: { until, release: "together", everyMin: ZERO } };
  };
  return [
    ...SECONDS_HELD.map((count, i): Dose => {
      const afterMin = seconds(count);
      return { family: "held", at: [i], parts: held({ afterMin }), name: `held-${named(afterMin)}` };
    }),
    { family: "own-full", at: [0], parts: held("own-full"), name: "own-fill-then-go" },
    { family: "all-full", at: [0], parts: held("all-full"), name: "fill-then-go" },
  ];
}

function staggeredDoses(): Dose[] {
  return (["tail", "head"] as const).flatMap((first) =>
    SECONDS_BETWEEN.map((count, i): Dose => {
      const everyMin = seconds(count);
      return {
        family: `${first}-first`,
        at: [i],
        parts: { stagger: { first, everyMin } },
        name: `${first}-first-${named(everyMin)}`,
      };
    }),
  );
}

function feedDoses({ factor, forMin }: NonNullable<Means["feed"]>): Dose[] {
  return FEED_SHARES.flatMap((share, i) =>
    FEED_TIMES.map((part, j): Dose => {
      const boost = { factor: ONE.add(factor.sub(ONE).mul(rational(share))), forMin: forMin.mul(rational(part)) };
      const name = `feed-${formatPercentage(boost.factor).replace(/\s?%/, "")}-${named(boost.forMin)}`;
      return { family: "feed", at: [i, j], parts: { boost }, name };
    }),
  );
}

function levelDoses(room: number): Dose[] {
  const levels = [...new Set(LEVEL_SHARES.map((share) => Math.max(1, Math.round(room * share))))];
  return levels.flatMap((level, i) => [
    ...MINUTES.map((minutes, j): Dose => {
      const lowLevel = { level, among: { which: "all" }, forMin: whole(minutes) } as const;
      return { family: "level", at: [i, j], parts: { lowLevel }, name: `level-${level}-${minutes}min` };
    }),
    {
      family: "level-for-good",
      at: [i],
      parts: { lowLevel: { level, among: { which: "all" }, forMin: null } },
      name: `level-${level}`,
    },
  ]);
}

function meteredDose(perCent: number, i: number): Dose {
  const factor = ratio(BigInt(perCent), 100n);
  return { family: "metered", at: [i], parts: { metered: { factor } }, name: `metered-${perCent}` };
}

function farEndDoses(): Dose[] {
  return [
    ...SECONDS_FAR_END.map((count, i): Dose => {
      const afterMin = seconds(count);
      const name = `far-end-${named(afterMin)}`;
      return { family: "far-end", at: [i], parts: { farEndFirst: { until: { afterMin } } }, name };
    }),
    { family: "far-end-full", at: [0], parts: { farEndFirst: { until: "tail-full" } }, name: "far-end-first" },
  ];
}

function secondDoses(at: string): Dose[] {
  return SECOND_SHARES.flatMap((share, i) =>
    MINUTES.map((minutes, j): Dose => {
      const secondFeed = { share: rational(share), at, forMin: whole(minutes) };
      const name = `second-feed-${share.replace("/", "-of-")}-${minutes}min`;
      return { family: "second-feed", at: [i, j], parts: { secondFeed }, name };
    }),
  );
}

/** Nothing done. */
export function noCode({ dials, machines }: Grid): Code {
  return { known: null, doses: dials.map(() => 0), placed: machines.map(() => 0) };
}

export function keyOf({ known, doses, placed }: Code): string {
  return known ?? `${doses.join(" ")}|${placed.join(" ")}`;
}

export function tacticOf(grid: Grid, code: Code, id = keyOf(code)): Tactic {
  const known = grid.known.find((one) => one.id === code.known);
  if (known !== undefined) return known;
  const parts = grid.dials.map(({ doses }, i) => doses[(code.doses[i] ?? 0) - 1]?.parts ?? {});
  return { ...NO_TACTIC, ...Object.assign({}, ...parts), prefill: prefillOf(grid, code.placed), id };
}

function prefillOf({ machines, prefill }: Grid, placed: readonly number[]): Prefill | null {
  const byMachine = machines.flatMap(({ id, rooms }, i): { machine: string; amount: Amount }[] => {
    const amount = placed[i] ?? 0;
    return amount === 0 ? [] : [{ machine: id, amount: amount >= Math.max(...rooms) ? null : amount }];
  });
  return byMachine.length === 0 ? null : { amounts: { byMachine }, belts: false, ...prefill };
}

/** The machines in which a tactic of the grid places items, in their order. */
export function placedBy({ machines }: Grid, { placed }: Pick<Code, "placed">) {
  return machines.flatMap(({ id, rooms }, i) => {
    const items = handledAt(rooms, placed[i] ?? 0);
    return items > 0 ? [{ machine: id, items }] : [];
  });
}
