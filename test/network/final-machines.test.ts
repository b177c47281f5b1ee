import { expect, test } from "vitest";
import { finalMachines } from "../../src/network/graph.ts";
import type { Network } from "../../src/network/network.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, divider, machine } from "../engine/lines.ts";

/** @param only what the belt from press to folder lets in */
const plant = (only: readonly string[] | null): Network =>
  network({
    items: ["roll", "sheet", "trimming", "book"],
    machines: [
      machine("press", "1", { takes: { roll: 1 }, makes: { sheet: 1, trimming: 1 } }),
      machine("folder", "1", { takes: { sheet: 1 }, makes: { book: 1 } }),
    ],
    connections: [connection("press", "folder", { only, belt: belt("60") })],
  });

test("a machine whose product another takes is not final", () => {
  expect([...finalMachines(plant(null))]).toEqual(["folder"]);
});

test("a machine is final where no belt lets its products in to those that take them", () => {
  expect([...finalMachines(plant(["trimming"]))]).toEqual(["press", "folder"]);
});

test("a machine that takes what it makes, by a loop through a divider, is not final", () => {
  const line = network({
    items: ["crate", "scrap"],
    dividers: [divider("turn")],
    machines: [
      machine("washer", "1", { takes: { crate: 1 }, makes: { crate: 1 } }),
      machine("press", "1", { takes: { crate: 1 }, makes: { scrap: 1 } }),
    ],
    connections: [
      connection("washer", "turn"),
      connection("turn", "washer", { belt: belt("60") }),
      connection("turn", "press"),
    ],
  });
  expect([...finalMachines(line)]).toEqual(["press"]);
});
