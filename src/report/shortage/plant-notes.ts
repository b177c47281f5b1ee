/** What has to be said about the variants of a plant, whatever was done to its feed. */
import type { KeptLine, Shortage } from "../../study/shortage/shortage-results.ts";
import { listed, listedShort } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

export type PlantNoteCode = "no-chain" | "products" | "tree-needs" | "tree-kept" | "tree-ends";

export interface PlantNote {
  readonly code: PlantNoteCode;
  readonly text: string;
}

export function plantNotes(study: Pick<Shortage, "products" | "variants" | "unequal_needs">): PlantNote[] {
  return [...products(study), ...treeNotes(study)];
}

function products({ products: kinds }: Pick<Shortage, "products">): PlantNote[] {
  if (kinds.length < 2) return [];
  const text = `Unlike products (${listedShort(kinds.map(oneLine))}) are added up item by item; who goes short decides their mix, so outputs can only be compared in part.`;
  return [{ code: "products", text }];
}

function treeNotes({ variants, unequal_needs: unequal }: Pick<Shortage, "variants" | "unequal_needs">): PlantNote[] {
  const tree = variants.find(({ id }) => id === "tree" || id === "loop");
  if (tree === undefined) {
    return [{ code: "no-chain", text: "No chain with several machines: there is nothing to compare the plant with." }];
  }
  const notes: PlantNote[] = [];
  if (unequal.length > 0) {
    const text = `The machines on ${names(unequal)} need different amounts: equal shares send each the same flow, too much for some and too little for others, and are not a good layout there.`;
    notes.push({ code: "tree-needs", text });
  }
  const kept = tree.kept.map(({ line, why }) => `${oneLine(line)} (${WHY[why]})`);
  if (kept.length > 0) {
    notes.push({ code: "tree-kept", text: `Not drawn as a tree: ${listedShort(kept)}.` });
  }
  if (tree.ends_left_out.length > 0) {
    const ends = tree.ends_left_out.map((end) => (end === "return" ? "return belt" : `take-off to ${oneLine(end)}`));
    const text = `A tree has no far end: the ${listed([...new Set(ends)])} ${ends.length === 1 ? "is" : "are"} left out of it.`;
    notes.push({ code: "tree-ends", text });
  }
  return notes;
}

const WHY: Readonly<Record<KeptLine["why"], string>> = {
  custom: "a custom line",
  drawn: "a tree or loop as it is",
  "one-consumer": "it feeds one machine or outlet",
  outlet: "it also feeds an outlet",
};

function names(lines: readonly string[]): string {
  return listedShort(lines.map(oneLine));
}
