/** What a drawing says of elements and belts. */
import type { DrawnBelt, DrawnElement, ElementKind, PlantDrawing } from "../../analysis/plant-drawing.ts";
import { rational } from "../../quantity/rational.ts";
import { pixels } from "../chart/font.ts";
import { approximately, percent, plain, significant } from "../text/figures.ts";
import { oneLine, shorten } from "../text/text-width.ts";

/** Pixels. */
export const NAME_SIZE = 22;
export const TEXT_SIZE = 20;
const LONGEST_NAME = 230;
const LONGEST_KINDS = 130;

/** A belt with less than this share of its rate left has hardly any headroom. */
const LEAST_HEADROOM = 0.05;

interface Passes {
  readonly measured_per_min: number | null;
}

function rateFrom(exactly: string | null, { measured_per_min }: Passes): number | null {
  return exactly === null ? measured_per_min : approximately(exactly);
}

export function flowOf(belt: DrawnBelt): number | null {
  return rateFrom(belt.flow_per_min, belt);
}

function figure(value: number): string {
  return plain(significant(value));
}

/** @param commonRate what belts carry that say only what passes; `null` where each says it */
export function beltText(belt: DrawnBelt, commonRate: string | null): string | null {
  if (belt.jammed_by !== null) return shorten(`${oneLine(belt.jammed_by)} stands`, LONGEST_NAME, pixels(TEXT_SIZE));
  const flow = flowOf(belt);
  const passing = flow === null ? "–" : figure(flow);
  const back = `${belt.returns ? "back: " : ""}${kindsText(belt)}`;
  if (belt.rate_per_min === null) return flow === null && back === "" ? null : `${back}${passing}/min`;
  if (belt.rate_per_min === commonRate) return `${back}${passing}/min`;
  return `${back}${passing} of ${figure(approximately(belt.rate_per_min))}/min`;
}

/** "red + blue · ": what can come along it; of many kinds their number. */
function kindsText({ kinds }: DrawnBelt): string {
  if (kinds.length === 0) return "";
  return `${itemsText({ items: kinds })} · `;
}

/** From so many belts on, those of the commonest rate no longer state it. */
const MANY_BELTS = 40;

export function commonRateOf({ belts }: PlantDrawing): string | null {
  if (belts.length < MANY_BELTS) return null;
  const counts = new Map<string, number>();
  for (const { rate_per_min: rate } of belts) if (rate !== null) counts.set(rate, (counts.get(rate) ?? 0) + 1);
  const [commonest] = [...counts].sort(([, a], [, b]) => b - a);
  return commonest !== undefined && commonest[1] * 2 > belts.length ? commonest[0] : null;
}

/** Whether it has hardly any headroom, or none. */
export function isTight(belt: DrawnBelt): boolean {
  const flow = flowOf(belt);
  if (belt.rate_per_min === null || flow === null) return false;
  return 1 - flow / approximately(belt.rate_per_min) < LEAST_HEADROOM - 1e-9;
}

/** A box, one that points in the direction of the flow, or a triangle, which has no room for texts. */
export const OUTLINES = {
  feed: "pointed",
  surge: "box",
  divider: "triangle",
  merge: "triangle",
  machine: "box",
  outlet: "pointed",
} as const satisfies Readonly<Record<ElementKind, string>>;

/** Name, and what is known of what passes. */
export function elementTexts(element: DrawnElement): string[] {
  if (OUTLINES[element.kind] === "triangle") return [];
  const name = element.kind === "surge" ? element.id.replace(/\.[^.]*$/, " buffer") : element.id;
  const taken = [passed(element), shareText(element)].filter((text) => text !== null).join(" · ");
  const figures =
    element.kind === "machine" && element.items.length > 0 ? `${taken} → ${itemsText(element)}`.trim() : taken;
  return [shorten(oneLine(name), LONGEST_NAME, pixels(NAME_SIZE)), ...(figures === "" ? [] : [figures])];
}

/** A machine that gets less than it needs, or a feed of which less is taken than it offers. */
export function isShort(element: DrawnElement): boolean {
  const passes = rateFrom(element.per_min, element);
  const full = fullOf(element);
  return full !== null && passes !== null && passes < approximately(full) * (1 - 1e-6);
}

function fullOf({ needs_per_min, offered_per_min }: DrawnElement): string | null {
  return needs_per_min ?? offered_per_min;
}

function passed(element: DrawnElement): string | null {
  const value = rateFrom(element.per_min, element);
  if (value === null) return null;
  const full = fullOf(element);
  const what = element.kind === "machine" ? "" : itemsText(element);
  const kinds = element.items.length > 1 && what !== "" ? `${what} · ` : "";
  const unit = what === "" || kinds !== "" ? "/min" : ` ${what}/min`;
  if (element.has_no_belt) return `${kinds}${figure(value)}${unit}, no belt`;
  return full !== null && isShort(element)
    ? `${kinds}${figure(value)} of ${figure(approximately(full))}${unit}`
    : `${kinds}${figure(value)}${unit}`;
}

/** "can", or "red + blue"; of many kinds their number. */
function itemsText({ items }: Pick<DrawnElement, "items">): string {
  const all = items.map(oneLine).join(" + ");
  const most = items.length > 1 ? `${items.length} kinds` : shorten(all, LONGEST_KINDS, pixels(TEXT_SIZE));
  return shorten(all, LONGEST_KINDS, pixels(TEXT_SIZE)) === all ? all : most;
}

/** In per cent, to a decimal. */
export function shareText({ share }: Pick<DrawnElement, "share">): string | null {
  if (share === null || rational(share).equals(1)) return share === null ? null : "all";
  return plain(percent(approximately(share)));
}
