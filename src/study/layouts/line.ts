/** The line that `layouts` draws up in several ways, or why there is none. */
import { kindsCarried, membersOf, plantOf } from "../../network/collect.ts";
import type { ChainLine, Line, LoopLine, Scenario, TreeLine } from "../../scenario/scenario.ts";

export type DrawnLine = ChainLine | TreeLine | LoopLine;

/** Why no line of a plant can be laid out in other ways. */
export type LayoutsRefusal =
  | { readonly ok: false; readonly why: "no-line" }
  | { readonly ok: false; readonly why: "several-lines"; readonly lines: readonly string[] }
  | { readonly ok: false; readonly why: "unknown-line"; readonly line: string; readonly lines: readonly string[] }
  | { readonly ok: false; readonly why: "custom" | "lanes"; readonly line: string }
  | { readonly ok: false; readonly why: "several-kinds"; readonly line: string; readonly kinds: readonly string[] }
  | { readonly ok: false; readonly why: "outlets"; readonly line: string; readonly outlets: readonly string[] }
  | { readonly ok: false; readonly why: "far-end"; readonly line: string }
  | { readonly ok: false; readonly why: "one-machine"; readonly line: string };

/** @param name the only chain, tree or loop if left out */
export function lineToLayOut(
  scenario: Scenario,
  name?: string,
): { readonly ok: true; readonly line: DrawnLine } | LayoutsRefusal {
  const drawn = scenario.lines.filter(isDrawn);
  const lines = drawn.map(({ id }) => id);
  if (name === undefined) {
    const [line, ...others] = drawn;
    if (line === undefined) return { ok: false, why: "no-line" };
    if (others.length > 0) return { ok: false, why: "several-lines", lines };
    return refusalOf(scenario, line) ?? { ok: true, line };
  }
  const named = scenario.lines.find(({ id }) => id === name);
  if (named === undefined) {
    return { ok: false, why: "unknown-line", line: name, lines: scenario.lines.map(({ id }) => id) };
  }
  if (named.layout === "custom" || named.layout === "lanes") return { ok: false, why: named.layout, line: name };
  return refusalOf(scenario, named) ?? { ok: true, line: named };
}

/** Lanes are drawn up too, but share out over as many belts as come in, which no layout with one first stretch can stand for. */
function isDrawn(line: Line): line is DrawnLine {
  return line.layout !== "custom" && line.layout !== "lanes";
}

function refusalOf(scenario: Scenario, given: DrawnLine): LayoutsRefusal | null {
  const { id: line, from, to } = given;
  const plant = plantOf(scenario);
  const consumers = membersOf(to, plant);
  const outlets = consumers.filter((consumer) => plant.outlets.has(consumer));
  // Outlets alone share alike; beside machines' needs an outlet has no share.
  if (outlets.length > 0 && outlets.length < consumers.length) return { ok: false, why: "outlets", line, outlets };
  if (given.layout === "chain" && given.end.kind !== "stop") return { ok: false, why: "far-end", line };
  const kinds = [...kindsCarried({ from, to, end: { kind: "stop" } }, plant)];
  if (kinds.length > 1) return { ok: false, why: "several-kinds", line, kinds };
  return consumers.length < 2 ? { ok: false, why: "one-machine", line } : null;
}
