/** Findings of the network as a whole: codes, what was found, and where. */
import { describe, expect, test } from "vitest";
import { prepare } from "../../src/network/prepare.ts";
import type { FileFinding } from "../../src/scenario/file-finding.ts";
import { readScenario } from "../../src/scenario/read.ts";

function findingsOf(text: string): readonly FileFinding[] {
  const read = readScenario(text);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const prepared = prepare(read.scenario, read.locate);
  return prepared.ok ? prepared.warnings : prepared.findings;
}

/** `severity code line:column element …`: the sentence's other arguments are its own affair. */
function brief({ severity, code, line, column, args }: FileFinding): string {
  const names = [args.element, args.item, args.belt].filter((name) => name !== undefined);
  return [severity, code, `${line}:${column}`, ...names].join(" ");
}

const MACHINE = "cycle: 1 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 5";

const SOUND = `horizon: 1 h
tick: auto
feeds:
  silo: { item: pouch, rate: 59.9999/min }
machines:
  packer: { count: 2, ${MACHINE} }
lines:
  main:
    layout: chain
    from: silo
    to: packer
    belt: { rate: 89.9999/min, capacity: 5 }
`;

function changed(from: string, to: string): string {
  if (!SOUND.includes(from)) throw new Error(`no "${from}"`);
  return SOUND.replace(from, to);
}

test("nothing, where all is well", () => {
  expect(findingsOf(SOUND)).toEqual([]);
});

describe("the tick and the horizon", () => {
  test.each([
    ["tick: auto", "tick: 400 ms", "error tick-too-long 2:7 main.through-1"],
    ["horizon: 1 h", "horizon: 10 ms", "error horizon-too-short 1:10"],
    ["tick: auto", "tick: 0.000001 s", "error run-too-long 1:10"],
    ["tick: auto", "tick: 0.012347 s", "error too-fine 2:7 main.through-1"],
  ])("%s → %s", (from, to, expected) => {
    expect(findingsOf(changed(from, to)).map(brief)).toEqual([expected]);
  });
});

describe("the network", () => {
  test("machines that nothing can come to: a warning at the group's key, with the first item that is missing", () => {
    const more = changed(
      `packer: { count: 2, ${MACHINE} }`,
      `packer: { count: 2, ${MACHINE} }\n  away: { ${MACHINE} }`,
    );
    expect(findingsOf(more).map(brief)).toEqual(["warning unreachable-machine 7:3 pouch"]);
    const kinds = changed("takes: { pouch: 1 }", "takes: { pouch: 1, carton: 1 }");
    expect(findingsOf(kinds).map(brief)).toEqual([
      "warning unreachable-machine 6:3 carton",
      "warning unreachable-machine 6:3 carton",
    ]);
  });

  test("outlets that a line leads to, but nothing they take comes along it", () => {
    const ended = (item: string) =>
      `${SOUND.trimEnd()}\n    end: bin\noutlets: { bin: { item: ${item} }, door: { item: carton } }`;
    expect(findingsOf(ended("pouch"))).toEqual([]);
    expect(findingsOf(ended("carton")).map(({ code, args }) => [code, args])).toEqual([
      ["unreachable-outlet", { found: "bin", item: "carton" }],
    ]);
  });

  test("outlets that no line leads to, of a kind that does not leave by itself", () => {
    const outlets = (item: string) => `${SOUND.trimEnd()}\noutlets: { door: { item: ${item} } }`;
    expect(findingsOf(outlets("carton"))).toEqual([]);
    expect(findingsOf(outlets("pouch")).map(({ code, args }) => [code, args])).toEqual([
      ["unreachable-outlet", { found: "door", item: "pouch" }],
    ]);
  });

  test("machines that feed one another in a circle: an error at the first one's key, naming all", () => {
    const back = changed("makes: { carton: 1 }", "makes: { carton: 1, pouch: 1 }");
    const text = back.replace("from: silo", "from: [silo, packer-2]").replace("count: 2, ", "count: 2, outfeed: 5, ");
    const found = findingsOf(text);
    expect(found.map(brief)).toEqual(["error plant-loop 6:3"]);
    expect(found[0]?.args.circle).toBe("packer-2 → packer-2");
  });

  test("a kind that a belt bars is no more reached than one that is not there", () => {
    const custom = `feeds: { silo: { item: pouch, rate: 60/min } }
machines: { packer: { count: 2, ${MACHINE} } }
lines:
  main:
    layout: custom
    dividers: { split: even }
    belts:
      in: { from: silo, to: split, belt: none }
      a: { from: split, to: packer-1, belt: none, only: carton }
      b: { from: split, to: packer-2, belt: none }
`;
    expect(findingsOf(custom).map(brief)).toEqual(["warning unreachable-machine 2:13 pouch"]);
  });

  test("a hand-over to a merge without a belt, unless from a feed", () => {
    const custom = `feeds: { silo: { item: pouch, rate: 60/min } }
machines: { packer: { ${MACHINE} } }
lines:
  main:
    layout: custom
    dividers: { split: even }
    merges: { join: even }
    belts:
      in: { from: silo, to: split, belt: none }
      left: { from: split, to: join, belt: none }
      right: { from: split, to: join, rate: 60/min, capacity: 3 }
      out: { from: join, to: packer, belt: none }
`;
    expect(findingsOf(custom).map(brief)).toEqual(["error merge-direct 10:7 left"]);
  });

  test("more than 1,000 dividers handing over directly one after another", () => {
    const direct = (count: number) =>
      changed("count: 2", `count: ${count}`).replace("{ rate: 89.9999/min, capacity: 5 }", "none");
    expect(findingsOf(direct(1001))).toEqual([]);
    expect(findingsOf(direct(1002)).map(brief)).toEqual(["error direct-too-deep 12:5"]);
  });

  test("more room in all buffers together than can be kept", () => {
    const big = changed("count: 2", "count: 21").replace("infeed: 5", "infeed: 1000000");
    expect(findingsOf(big).map(brief)).toEqual(["error too-many 5:1"]);
  });
});

test("without the file, findings have no position", () => {
  const read = readScenario(changed("horizon: 1 h", "horizon: 10 ms"));
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const prepared = prepare(read.scenario);
  expect(prepared.ok ? [] : prepared.findings.map(brief)).toEqual(["error horizon-too-short null:null"]);
});
