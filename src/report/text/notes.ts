/** What every report says about the model, and what must be heeded before anything is done with it. In Markdown. */
import type { Result } from "../../analysis/result.ts";
import { approximately, duration } from "./figures.ts";
import { escapeMarkdown } from "./markdown-text.ts";

export function assumptions({ tick_s, output, batches, limits, chance, machines }: Result): string[] {
  const tick = `${escapeMarkdown(tick_s)} s`;
  const about = tick_s.includes("/") ? ` (${duration(approximately(tick_s) / 60)})` : "";
  return [
    `Time runs in ticks of ${tick}${about}; every time here is right to a tick. In a tick the line is swept once from the outlets back to the feeds, so that room made downstream is usable upstream in the same tick.`,
    "Rated elements keep their rate exactly in the long run, whatever the tick.",
    "A belt is first in, first out, with room for a fixed number of items: an item reaches the head after the transit time and leaves when the next element takes it; items follow one another no closer than the rate limit allows; behind a held-up head they accumulate.",
    "A divider that is even takes turns, beginning with the first-named outlet; an outlet that cannot take the item is skipped.",
    ...(machines.length > 0 ? [CYCLES] : [WITHOUT_MACHINES]),
    ...(chance !== undefined ? CHANCE : machines.length > 0 ? [SAME_CYCLES] : []),
    ...(chance === undefined ? [WHEN_SETTLED] : []),
    "The moving average in the picture is centred and only for the eye: it spans half its width before and after, so it can leave 0 before the first product.",
    "The ramp-up loss is what is never made up, against running at the settled output from the start, or from the last change of a feed's profile. A cycle counts as far as it is done.",
    ...(Object.keys(output.made_by_item).length > 1
      ? ["Unlike products are added up, item by item, in output and loss."]
      : []),
    ...(batches.some(({ vehicles }) => vehicles !== null)
      ? [
          "Vehicles come at their stated interval. One that comes before the last is empty waits for its place and is then unloaded without a pause; if it waits for a whole interval, those after it are put off. Held up is counted whenever an item is ready to be unloaded and nothing takes it.",
        ]
      : []),
    ...(limits.length > 0
      ? [
          "Limits are held against what lies on belts and in buffers, tick by tick; items in machines' cycles are not counted. A dwell counts from feed or machine until a machine or an outlet takes the item, and what still lies at the end counts with the time it has lain.",
        ]
      : []),
    chance === undefined
      ? "The flow solution treats the same line as steady flows, without belts and whole items; it is a second opinion on the simulation."
      : "The flow solution treats the same line as steady flows of the stated means: without belts, whole items and chance.",
  ];
}

const CYCLES =
  "A machine starts a cycle when its infeed buffers hold what the cycle takes and the last product has gone to the outfeed buffer. Waiting for items is starved; a finished product without room is blocked. Items in a machine's cycle are not in its buffers.";

const SAME_CYCLES =
  "Machines are the same from cycle to cycle: no jams, breakdowns, rejects or change-overs unless a state above says so.";

const WITHOUT_MACHINES =
  "There are no machines: output, settling and ramp-up loss are those of what leaves by the outlets, item by item, and full output is all that is fed. An item's dwell ends where it leaves.";

export const WHEN_SETTLED =
  "A line keeps up with a share of its settled output from when on every later stretch, however long, makes at least that share, less a leeway: an eighth of a cycle of each machine, and a little more than the settled output swings by itself. It has settled, with full output, from when that is all of it, neither less nor more, and machines that never wait in the long run have begun not to; where the last thousandth would take as long again, without that.";

const CHANCE: readonly string[] = [
  "Breakdowns, short stops, cycles, feeds and vehicles vary as the file's random states, each by draws of its own named stream; what it does not state is the same every time. The means are those of the file.",
  "Failures are independent of one another, repair begins at once, and nothing is scrapped by a stop: a cycle that a breakdown interrupts is finished after the repair.",
  "Under chance nothing repeats, so nothing is proved: long-run figures are estimates, and a 95 % interval misses the true mean in about one study of twenty.",
];

export const CAUTIONS: readonly string[] = [
  "The model is an estimate to plan with, not a safety function.",
  "Before hands go in, whether to clear a jam, to reach in or to fill by hand: stop, isolate and lock out. Guards stay on. Full buffers and loaded belts may hold stored energy. Follow local codes (in the USA, for example, 29 CFR 1910.147), the machine's manual and licensed practice.",
  "Where the items are hazardous goods, the quantities permitted on the line come from local codes and the site's permit, not from this program.",
];

/** For every tactic that needs hands in the line. */
export const HAND_CAUTIONS: readonly string[] = [
  "Before hands go in: stop, isolate and lock out (29 CFR 1910.147 in the USA, elsewhere local law). Guards stay on; filling beside a running line needs a place to do so outside the guards.",
  "Loaded belts and full buffers may hold stored energy.",
];

/** For every tactic. */
export const TACTIC_CAUTIONS: readonly string[] = [
  "A restart in stages starts machines that stood still while others ran: it needs a start warning and guards (EN 619, ASME B20.1, ISO 12100).",
  "Stocked buffers are more inventory. Where the items are hazardous, check the thresholds of local codes and of the site's permit first.",
];

/** For every drawing. */
export const DRAWING_CAUTIONS: readonly string[] = [
  "A drawing shows what is connected to what and is no installation plan: guards, emergency stops, escape ways and clearances follow from local codes, the makers' manuals and a licensed designer's risk assessment (ISO 12100, EN 619).",
];

export const HANDS_WORK =
  "Hands work at the steady rate that a tactic states, and what they place is there from then on. Items handled are counted one by one, whatever carries them.";

/** What a comparison leaves to its reader: hands where the file does not say what they cost. */
export function notCharged(
  tactics: readonly { readonly money?: { readonly hands_per_start: string | null } }[],
): string {
  const isPriced = tactics.every(({ money }) => money !== undefined && money.hands_per_start !== null);
  return `A tactic that makes more at first is not charged for what it costs otherwise: ${isPriced ? "" : "hands, "}sensors, drives and controls are for the reader to weigh.`;
}
