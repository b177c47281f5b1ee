/**
 * The schema in an editor: yaml-language-server, on which most editors rely for YAML, is asked what it shows, proposes and marks.
 * In empty braces it proposes nothing, whatever the schema; with a letter typed it does.
 */
import { describe, expect, test } from "vitest";
import { TextDocument } from "vscode-languageserver-textdocument";
import { getLanguageService } from "yaml-language-server";
import { scenarioSchema } from "../../src/scenario/schema.ts";
import { CUSTOM_EXAMPLE, changed, EXAMPLE, RANDOM_EXAMPLE, TACTICS_EXAMPLE } from "./example.ts";

const service = getLanguageService({
  schemaRequestService: async () => "",
  workspaceContext: { resolveRelativePath: (path) => path },
  telemetry: {
    send: () => undefined,
    sendTrack: () => undefined,
    sendError: (name, cause) => {
      throw new Error(name, { cause });
    },
  },
});
service.configure({
  validate: true,
  hover: true,
  hoverSchemaSource: false,
  completion: true,
  schemas: [{ fileMatch: ["*.yaml"], uri: "file:///scenario.schema.json", schema: scenarioSchema() }],
});

let version = 0;

/** The text with the cursor where `|` stands. */
function opened(text: string) {
  version += 1;
  const cursor = Math.max(text.indexOf("|"), 0);
  const document = TextDocument.create("file:///line.yaml", "yaml", version, text.replace("|", ""));
  return { document, position: document.positionAt(cursor) };
}

async function shown(text: string): Promise<string> {
  const { document, position } = opened(text);
  return JSON.stringify((await service.doHover(document, position))?.contents);
}

async function proposed(text: string): Promise<string[]> {
  const { document, position } = opened(text);
  return (await service.doComplete(document, position, false)).items.map(({ label }) => label);
}

/** As "line: message", lines from 1. */
async function marked(text: string): Promise<string[]> {
  const { document } = opened(text);
  const marks = await service.doValidation(document, false);
  return marks.map(({ range, message }) => `${range.start.line + 1}: ${message}`);
}

const BELT = "belt:   { rate: 270/min, length: 3 m, speed: 24 m/min, pitch: 80 mm }";

describe("what is shown", () => {
  test.each([
    ["cycle: 2 s", "cy|cle: 2 s", ["Length of one cycle", "Units: s, min, ms, h, d", "90 s"]],
    ["rate: 240/min", "ra|te: 240/min", ["as needed", "Units: /min, /s, /h", "30/min"]],
    ["horizon: 4 h", "hori|zon: 4 h", ["until the line has settled", "auto"]],
    [BELT, BELT.replace("belt", "be|lt"), ["The through belts", "speed and pitch"]],
    [BELT, BELT.replace("pitch", "pi|tch"), ["packed close", "Units: m, mm, cm", "80 mm"]],
    ["layout: chain", "lay|out: chain", ["A belt passes machine after machine", "custom"]],
    ["infeed: 100", "in|feed: 100", ["Room of the infeed buffer"]],
  ])("over %s", async (from, to, words) => {
    const text = await shown(changed(EXAMPLE, from, to));
    for (const word of words) expect(text).toContain(word);
    expect(text).not.toContain("[0-9]");
  });
});

describe("what is proposed", () => {
  test.each([
    [BELT, "belt: { l| }", ["length", "speed", "pitch", "rate", "capacity", "transit"]],
    [BELT, "belt: { length: 3 m, s| }", ["speed", "pitch"]],
    ["cycle: 2 s", "cycle: |", ["90 s", "100 ms"]],
    ["rate: 240/min }", "rate: a| }", ["as needed", "30/min"]],
    ["layout: chain", "layout: |", ["chain", "tree", "loop", "lanes", "custom"]],
    ["dividers: even", "dividers: |", ["even", "through-first", "branch-first", "weighted"]],
    ["end: stop\n", "end: stop\n    |\n", ["collect", "merges", "return"]],
    ["outfeed: 20", "out|", ["outfeed"]],
  ])("at %s as %s", async (from, to, labels) => {
    expect(await proposed(changed(EXAMPLE, from, to))).toEqual(expect.arrayContaining(labels));
  });

  test("only what the layout knows", async () => {
    const chain = await proposed(changed(EXAMPLE, "end: stop\n", "end: stop\n    |\n"));
    expect(chain).not.toContain("ways");
    const tree = changed(
      changed(EXAMPLE, "layout: chain", "layout: tree"),
      "    dividers: even\n    end: stop\n",
      "    |\n",
    );
    expect(await proposed(tree)).toEqual(expect.arrayContaining(["ways", "collect"]));
    expect(await proposed(tree)).not.toContain("end");
  });
});

describe("what is marked", () => {
  test("nothing in right files", async () => {
    for (const text of [EXAMPLE, CUSTOM_EXAMPLE, TACTICS_EXAMPLE, RANDOM_EXAMPLE])
      expect(await marked(text)).toEqual([]);
  });

  test.each([
    ["cycle: 2 s", "cycle: 2 sec", "9: a duration with its unit, such as 90 s or 100 ms"],
    ["cycle: 2 s", "cycle: 2", "9: a duration with its unit, such as 90 s or 100 ms"],
    ["rate: 240/min", "rate: 240", "5: as needed, or a rate with its unit, such as 30/min or 0.5/s"],
    ["horizon: 4 h", "horizon: 4 hours", "2: auto, or a duration with its unit, such as 90 s or 100 ms"],
    ["length: 3 m,", "length: 3,", "20: a length with its unit, such as 6 m or 80 mm"],
    ["from: [blender]", "from: the blender", "18: a name of letters, digits, - and _, such as filler or filler-2"],
    [
      "layout: chain",
      "layout: chian",
      '17: Value is not accepted. Valid values: "chain", "tree", "loop", "lanes", "custom".',
    ],
    ["infeed: 100", "infede: 100", "12: Property infede is not allowed."],
  ])("%s as %s", async (from, to, message) => {
    const marks = await marked(changed(EXAMPLE, from, to));
    expect(marks).toContain(message);
    expect(marks.length).toBeLessThanOrEqual(2);
  });
});
