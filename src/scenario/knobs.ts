/** What of a scenario can be turned: places in its file, with what they hold, and what the schema says of them. */
import { globalRegistry, ZodMiniOptional, ZodMiniType } from "zod/mini";
import { approximate } from "../quantity/rational.ts";
import { type QuantityKind, quantityPattern } from "../quantity/units.ts";
import { chainShape } from "./chain-line.ts";
import { writtenAt } from "./edit.ts";
import type { Feed, Scenario } from "./scenario.ts";
import { feedShape, machineShape } from "./shapes.ts";

interface Place {
  /** Keys from the root of the file. */
  readonly path: readonly string[];
  /** Whose it is: a feed, a group of machines, a line; and which of its keys. */
  readonly of: string;
  readonly key: string;
  /** As the schema describes it. */
  readonly about: string;
}

export type Knob = Place &
  (
    | {
        readonly kind: "number";
        readonly number: number;
        readonly unit: string;
        readonly least: number;
        readonly step: number;
      }
    | { readonly kind: "word"; readonly word: string; readonly words: readonly string[] }
  );

/** @param text of the file that the scenario was read from; what that does not state in a number or word is left out */
export function knobsOf(text: string, { feeds, machines, lines }: Scenario): Knob[] {
  const at = writtenAt(text);
  const quantity = (place: Place, kind: QuantityKind, otherwise: number | null, least?: number): Knob[] => {
    const written = at(place.path);
    const [, digits, unit] = quantityPattern(kind).exec(written ?? "") ?? [];
    if (digits !== undefined && unit !== undefined) return [numberKnob(place, amountOf(digits), unit, least)];
    return otherwise === null ? [] : [numberKnob(place, otherwise, kind === "rate" ? "/min" : " %", least)];
  };
  const count = (place: Place, otherwise: number | null = null): Knob[] => {
    const written = at(place.path);
    const value = /^\d+$/.test(written ?? "") ? Number(written) : otherwise;
    return value === null ? [] : [numberKnob(place, value, "", 1, 1)];
  };
  const { rate } = feedShape.def.shape;
  const { count: many, cycle, infeed, speed } = machineShape.def.shape;
  const { dividers } = chainShape.def.shape;
  return [
    ...feeds.flatMap((feed) => {
      const place = { path: ["feeds", feed.id, "rate"], of: feed.id, key: "rate", about: aboutOf(rate) };
      return feed.batch === null && feed.profile.length === 1 ? quantity(place, "rate", steadyRate(feed)) : [];
    }),
    ...machines.flatMap(({ id, members, infeed: rooms }) => {
      const place = (key: string, shape: ZodMiniType): Place => {
        return { path: ["machines", id, key], of: id, key, about: aboutOf(shape) };
      };
      // Those from a table are not in the file.
      if (at(["machines", id, "cycle"]) === null) return [];
      const byKind = at(["machines", id, "infeed"]) === null;
      return [
        ...(members[0] === id ? [] : count(place("count", many))),
        ...(byKind
          ? rooms.flatMap(({ item }) =>
              count({ ...place("infeed", infeed), path: ["machines", id, "infeed", item], key: `infeed ${item}` }),
            )
          : count(place("infeed", infeed))),
        ...quantity(place("cycle", cycle), "duration", null),
        ...quantity(place("speed", speed), "percentage", at(["machines", id, "speed"]) === null ? 100 : null),
      ];
    }),
    ...lines.flatMap((line): Knob[] => {
      const place = {
        path: ["lines", line.id, "layout"],
        of: line.id,
        key: "layout",
        about: "How the line is laid out.",
      };
      if (at(place.path) === null) return [];
      if (line.layout !== "chain" && line.layout !== "tree" && line.layout !== "loop") return [];
      const layouts: Knob[] = [{ ...place, kind: "word", word: line.layout, words: ["chain", "tree", "loop"] }];
      if (line.layout !== "chain") return layouts;
      const words = Object.keys(dividers.def.innerType.def.entries);
      const about = aboutOf(dividers);
      const path = ["lines", line.id, "dividers"];
      return [...layouts, { path, of: line.id, key: "dividers", about, kind: "word", word: line.dividers, words }];
    }),
  ];
}

function steadyRate({ profile: [step] }: Feed): number | null {
  return step === undefined ? null : approximate(step.ratePerMin);
}

function numberKnob(place: Place, number: number, unit: string, least?: number, step = stepOf(number)): Knob {
  return { ...place, kind: "number", number, unit, least: least ?? step, step };
}

/** About a hundredth, in a figure that reads well. */
function stepOf(number: number): number {
  const size = 10 ** Math.floor(Math.log10(Math.max(number, 1e-6) / 50));
  return Number(size.toPrecision(1));
}

function amountOf(written: string): number {
  const [over = "0", under = "1"] = written.split("/");
  return Number(over) / Number(under);
}

function aboutOf(shape: ZodMiniType): string {
  const about = globalRegistry.get(shape)?.description;
  if (about !== undefined || !(shape instanceof ZodMiniOptional)) return about ?? "";
  const { innerType } = shape.def;
  return innerType instanceof ZodMiniType ? aboutOf(innerType) : "";
}
