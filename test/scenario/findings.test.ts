import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type FileFinding, formatFinding } from "../../src/scenario/file-finding.ts";
import { catalogue } from "../../src/scenario/messages.ts";
import { editDistance, nearest } from "../../src/scenario/nearest.ts";
import { readScenario, scenarioReader } from "../../src/scenario/read.ts";
import {
  CUSTOM_EXAMPLE,
  changed,
  EXAMPLE,
  LANES_EXAMPLE,
  PLANT_EXAMPLE,
  RANDOM_EXAMPLE,
  TACTICS_EXAMPLE,
} from "./example.ts";

function findingsOf(text: string): readonly FileFinding[] {
  const outcome = readScenario(text);
  return outcome.ok ? outcome.warnings : outcome.findings;
}

/** "code line:column" of each finding. */
function summary(text: string): string[] {
  return findingsOf(text).map((finding) => `${finding.code} ${finding.line}:${finding.column}`);
}

const BELT = "{ rate: 270/min, length: 3 m, speed: 24 m/min, pitch: 80 mm }";
const inChain = (from: string, to: string) => changed(EXAMPLE, from, to);
const inCustom = (from: string, to: string) => changed(CUSTOM_EXAMPLE, from, to);

const inPlant = (from: string, to: string) => changed(PLANT_EXAMPLE, from, to);
const inTactics = (from: string, to: string) => changed(TACTICS_EXAMPLE, from, to);
const inRandom = (from: string, to: string) => changed(RANDOM_EXAMPLE, from, to);
/** A tactic of the chain, from column 6 of line 27 on. */
const tactic = (body: string) => `${EXAMPLE}tactics:\n  t: ${body}\n`;

/** What things cost, from column 10 of line 26 on. */
const costs = (body: string) => `${EXAMPLE}costs: { ${body} }\n`;

/** What is done to an example, and all that is then found. */
const CASES: [what: string, text: string, ...found: string[]][] = [
  ["a file too big", `# ${"x".repeat(2 ** 20)}`, "file-too-big null:null"],
  ["no content", "# nothing\n", "no-content null:null"],
  ["an empty text", "", "no-content null:null"],
  ["two documents", `${EXAMPLE}---\n${EXAMPLE}`, "several-documents 26:1"],
  ["broken YAML", inChain("[blender]", "[blender"), "bad-yaml 19:5"],
  ["a tab as indent", inChain("    cycle", "\tcycle"), ...brokenLines()],
  ["nesting", "[".repeat(60), "too-deep 1:53"],
  ["nesting by aliases", chainOfAliases(60), "too-deep 51:11"],
  ["an alias bomb", aliasBomb(), "too-many-values 6:9"],
  ["an alias without anchor", inChain("count: 8", "count: *many"), "unknown-alias 8:12"],
  ["an alias in itself", inChain("[blender]", "&a [*a]"), "alias-in-itself 18:15"],
  ["a tag", inChain("count: 8", "count: !!int 8"), "bad-tag 8:18"],
  ["an unknown tag", inChain("count: 8", "count: !many 8"), "bad-tag 8:18"],
  ["a map as key", inChain("count: 8", "{ a: 1 }: 8"), "bad-key 8:5"],
  ["a key twice", inChain("    cycle: 2 s", "    cycle: 2 s\n    cycle: 3 s"), "duplicate-key 10:5"],
  ["a merge key", inChain("count: 8", "<<: { count: 8 }"), "merge-key 8:5"],

  ["a list for a file", "- a", "wrong-type 1:1"],
  ["a text for a file", "a scenario", "wrong-type 1:1"],
  ["an unknown key", inChain("infeed", "infede"), "unknown-key 12:5"],
  ["an unknown key far from any", inChain("speed: 100 %", "colour: red"), "unknown-key 14:5"],
  ["an unknown key in a flow map", inChain("rate: 240/min }", "rate: 240/min, x: 1 }"), "unknown-key 5:42"],
  ["a missing key", inChain("    infeed: 100\n", ""), "missing-key 7:3"],
  ["a decimal comma that parts entries", inChain("rate: 240/min", "rate: 240,5/min"), "comma-between 5:37"],
  ["a missing section", "title: x\nfeeds: { f: { item: pouch, rate: 1/min } }\n", "missing-key 1:1", "missing-key 1:1"],
  ["a list for a map", inChain("{ pouch: 1 }", "[pouch]"), "wrong-type 10:5"],
  ["nothing for a value", inChain("cycle: 2 s", "cycle:"), "wrong-type 9:5"],
  ["a word for a count", inChain("count: 8", "count: eight"), "wrong-type 8:12"],
  ["part of a machine", inChain("count: 8", "count: 1.5"), "wrong-type 8:12"],
  ["a boolean for a name", inChain("to: [cartoner]", "to: true"), "wrong-type 19:9"],
  ["an unknown word", inChain("dividers: even", "dividers: evn"), "unknown-word 22:15"],
  ["an unknown layout", inChain("layout: chain", "layout: chian"), "unknown-word 17:13"],
  ["a word for a belt", inChain(BELT, "nothing"), "wrong-type 20:13"],
  ["weights without any", inCustom("split: ordered", "split: weighted"), "wrong-type 24:24"],
  [
    "a weight for another belt",
    inCustom("split: ordered", "split: { weighted: { a: 3, b: 2, d: 1 } }"),
    "weights-unknown 24:50",
  ],
  ["a belt without a weight", inCustom("split: ordered", "split: { weighted: { a: 3 } }"), "weights-missing 24:26"],
  ["a name with a slash", inChain("  main:", "  ../main:"), "bad-name 16:3"],
  ["a name of a formula", inChain("  dispatch:", '  "=A1":'), "bad-name 25:3"],
  ["a name too long", inChain("  main:", `  ${"m".repeat(41)}:`), "bad-name 16:3"],
  ["an item with a space", inChain("item: carton", "item: a carton"), "bad-name 25:21"],
  ["a key that objects hide", inChain("  main:", "  __proto__: {}\n  main:"), "bad-name 16:3"],
  ["null for a name", inChain("  main:", "  ~:"), "bad-key 16:3"],
  ["an escape sequence in the title", inChain("title: E", 'title: "\\e[2J"\n#'), "bad-text 1:8"],
  ["a title that turns round", inChain("title: E", 'title: "\\u202e"\n#'), "bad-text 1:8"],
  ["a title too long", inChain("title: E", `title: ${"e".repeat(200)}`), "text-too-long 1:8"],
  ["an empty title", inChain("title: E", 'title: " "\n#'), "empty 1:8"],
  ["no feeds", inChain("  blender: { item: pouch, rate: 240/min }", "  {}"), ...noFeeds()],
  ["no sources", inChain("[blender]", "[]"), "empty 18:5"],
  ["nothing made", inChain("{ carton: 1 }", "{}"), "empty 11:5", "unknown-item 25:21"],

  ["no unit", inChain("240/min", "240"), "missing-unit 5:33"],
  ["no unit, quoted", inChain("240/min", '"240"'), "missing-unit 5:33"],
  ["no unit in a list", inChain("speed: 100 %", "speed: [100 %, 90]"), "missing-unit 14:20"],
  ["an unknown unit", inChain("2 s", "2 sec"), "unknown-unit 9:12"],
  ["no number", inChain("2 s", "soon"), "no-number 9:12"],
  ["a word for a tick", inChain("tick: auto", "tick: fast"), "wrong-type 3:7"],
  ["a decimal comma", inChain("2 s", "2,5 s"), "decimal-comma 9:12"],
  ["a negative time", inChain("2 s", "-2 s"), "negative 9:12"],
  ["a negative room", inChain("infeed: 100", "infeed: -1"), "negative 12:13"],
  ["no machines", inChain("count: 8", "count: 0"), "zero 8:12"],
  ["no time", inChain("2 s", "0 s"), "zero 9:12"],
  ["a feed of nothing", inChain("240/min", "0/min"), "zero 5:33"],
  ["too many digits", inChain("2 s", "2.00000000001 s"), "too-many-digits 9:12"],
  ["a million digits", inChain("2 s", `${"2".repeat(1e6)} s`), "too-many-digits 9:12"],
  ["a horizon of years", inChain("4 h", "900 d"), "too-large 2:10"],
  ["more machines than numbers hold", inChain("count: 8", `count: ${"9".repeat(20)}`), "too-large 8:12"],
  ["too many machines at once", inChain("count: 8", "count: 20001"), "too-large 8:12"],
  ["a count beyond all numbers", inChain("count: 8", `count: ${"9".repeat(400)}`), "wrong-type 8:12"],
  ["too many machines together", inChain("machines:\n", `machines:\n${machines(2)}`), "too-many 9:3"],
  ["a belt too long", inChain(BELT, "{ length: 9 km, speed: 24 m/min, pitch: 80 mm }"), "unknown-unit 20:23"],
  ["too many items on a belt", inChain(BELT, "{ length: 9000 m, speed: 24 m/min, pitch: 80 mm }"), "too-many 20:23"],
  [
    "too much belt together",
    inChain("count: 8", "count: 20000").replaceAll(/length: \d m/g, "length: 30 m"),
    "too-many 15:1",
  ],
  ["too many kinds", inChain("makes: { carton: 1 }", `makes: { carton: 1, ${kinds(63)} }`), "too-many 6:1"],

  ["a name twice", inChain("  dispatch:", "  blender:"), "duplicate-id 25:3"],
  ["a machine's number taken", inChain("  dispatch:", "  cartoner-3:"), "duplicate-id 25:3"],
  [
    "a divider called as a machine",
    inCustom("split: ordered", "packer: ordered"),
    "duplicate-id 24:17",
    "unknown-reference 27:29",
    "unknown-reference 28:18",
    "unknown-reference 29:18",
  ],
  ["an unknown feed", inChain("[blender]", "[blendr]"), "unknown-reference 18:12"],
  ["an unknown machine", inChain("[cartoner]", "cartoner-9"), "unknown-reference 19:9"],
  ["an unknown end of a belt", inCustom("to: packer", "to: paker"), "unknown-reference 32:28"],
  ["a feed as a consumer", inChain("[cartoner]", "[cartoner, blender]"), "wrong-reference 19:20"],
  ["an outlet as a source", inChain("[blender]", "[blender, dispatch]"), "wrong-reference 18:21"],
  ["a group for a machine", inCustom("to: filler-1", "to: filler"), "several-machines 28:29"],
  ["a machine twice", inChain("[cartoner]", "[cartoner-2, cartoner]"), "listed-twice 19:22"],
  ["a feed twice", inChain("[blender]", "[blender, blender]"), "listed-twice 18:21"],
  [
    "an item that nobody supplies",
    inChain("takes: { pouch: 1 }", "takes: { puch: 1 }"),
    "item-not-taken 5:20",
    "unknown-item 10:14",
  ],
  ["an outlet for no item", inChain("item: carton", "item: cartons"), "unknown-item 25:21"],
  ["a belt for no item", inCustom("only: [can]", "only: [can, tin]"), "unknown-item 29:95"],

  ["a feed without rate", inChain(", rate: 240/min", ""), "feed-form 5:3"],
  ["a share without what it is of", inChain("240/min", "110 %"), "wrong-type 5:33"],
  ["a share of nothing", inChain("240/min", "0 % of need"), "zero 5:33"],
  ["a share beyond all measure", inChain("240/min", "200000 % of need"), "too-large 5:33"],
  ["a need of several kinds", inPlant("rate: 50/min", "rate: as needed"), "need-of-several 3:61"],
  ["a need of vehicles", inPlant("rate: 60/min, first", "rate: as needed, first"), "need-steady 4:64"],
  [
    "a feed that nobody needs",
    inChain("240/min }", "240/min }\n  idle: { item: carton, rate: as needed }"),
    "unused-feed 6:3",
    "nothing-needed 6:31",
  ],
  [
    "a need that is met",
    changed(
      inChain("240/min }", "as needed }\n  other: { item: pouch, rate: 240/min }"),
      "[blender]",
      "[blender, other]",
    ),
    "enough-given 5:33",
  ],
  [
    "needs of feeds that lead to different machines",
    changed(
      inChain("240/min }", "as needed }\n  other: { item: pouch, rate: as needed }"),
      "lines:",
      "lines:\n  aside: { layout: chain, from: other, to: cartoner-1, belt: none }",
    ),
    "need-apart 5:33",
    "need-apart 6:31",
  ],
  [
    "a need beside what may be made",
    changed(
      inPlant("feeds:\n", "feeds:\n  more: { item: filled, rate: as needed }\n"),
      "[filler, press]",
      "[filler, press, more]",
    ),
    "need-made 3:31",
  ],
  ["a feed close to the need", inChain("240/min", "240.1/min"), "near-need 5:33"],
  ["a feed without item", inChain("item: pouch, ", ""), "feed-items 5:3"],
  ["a feed with both", inChain("240/min", "240/min, profile: [{ from: 0 s, rate: 1/min }]"), "feed-form 5:3"],
  ["a profile that starts late", inCustom("from: 0 min", "from: 1 min"), "profile-start 8:17"],
  ["a profile out of order", inCustom("from: 90 min", "from: 60 min"), "profile-order 10:17"],
  ["a profile of nothing", inCustom("120/min", "0/min").replace("45/4 /min", "0/h"), "profile-zero 7:5"],
  ["a feed on two belts", inCustom("from: filler-1, to: join", "from: silo, to: join"), "feed-twice 30:18"],
  ["a feed on none", inChain("feeds:\n", "feeds:\n  spare: { item: pouch, rate: 1/min }\n"), "unused-feed 5:3"],
  ["a kind without room", inCustom("{ can: 30 }", "{}"), "buffer-missing 17:5"],
  ["room for no kind", inCustom("{ can: 30 }", "{ can: 30, cans: 3 }"), "buffer-item 17:24"],
  ["less room than a cycle", inCustom("infeed: 24", "infeed: 5"), "buffer-small 20:75"],
  ["speeds for others", inCustom("[100 %, 75 %]", "[100 %]"), "speed-count 19:5"],

  ["a belt of both forms", inChain(BELT, "{ length: 3 m, capacity: 3 }"), "belt-form 20:5"],
  ["a belt of half a form", inChain(BELT, "{ rate: 3/min }"), "belt-form 20:5"],
  ["a belt of nothing", inCustom("to: packer, belt: none", "to: packer"), "belt-form 32:7"],
  ["none and a rate", inCustom("to: packer, belt: none", "to: packer, belt: none, rate: 1/s"), "belt-form 32:7"],
  [
    "a rate above speed / pitch",
    inChain("{ rate: 270/min, length: 3", "{ rate: 301/min, length: 3"),
    "belt-too-fast 20:21",
  ],
  ["too little room for the rate", inCustom("capacity: 37", "capacity: 33"), "belt-slow 27:7"],
  ["a divider without inlet", inCustom("to: split", "to: filler-1"), "divider-inlets 24:17"],
  [
    "a divider with one outlet",
    inCustom("from: split, to: filler-1", "from: filler-2, to: filler-1"),
    "divider-outlets 24:17",
  ],
  ["a merge with one inlet", inCustom("from: filler-1, to: join", "from: filler-1, to: packer"), "merge-inlets 25:15"],
  ["a merge without outlet", inCustom("from: join", "from: filler-1"), "merge-outlets 25:15"],

  ["a feed of two forms", inPlant("item: jar,", "item: jar, items: { jar: 1 },"), "feed-items 4:3"],
  ["a mix of nothing", inPlant("{ red: 3, blue: 2 }", "{}"), "empty 3:12"],
  ["a mix as a list", inPlant("{ red: 3, blue: 2 }", "[red, blue]"), "wrong-type 3:12"],
  ["no share of a mix", inPlant("red: 3", "red: 0"), "zero 3:26"],
  ["half a share of a mix", inPlant("red: 3", "red: 1.5"), "wrong-type 3:26"],
  ["an order of one kind", inPlant("item: jar,", "item: jar, order: spread,"), "needs-key 4:22"],
  ["an unknown order", inPlant("order: blocks", "order: block"), "unknown-word 3:47"],
  [
    "a mix that hardly repeats",
    inPlant("items: { red: 3, blue: 2 }, order: blocks", "items: { red: 5000, blue: 5001 }"),
    "too-many 3:12",
  ],
  ["blocks too long", inPlant("red: 3, blue: 2", "red: 60000, blue: 60000"), "too-many 3:12"],
  ["a kind of a mix that nobody takes", inPlant("red: 3", "red: 3, green: 1"), "item-not-taken 3:29"],
  ["a mix at no rate", inPlant(", rate: 50/min", ""), "feed-form 3:3"],
  ["a rate beside vehicles", inPlant("surge: 300", "surge: 300, rate: 3/min"), "feed-form 4:3"],
  [
    "vehicles as a time",
    inPlant("{ every: 20 min, items: 900, rate: 60/min, first: 5 min }", "20 min"),
    "wrong-type 4:29",
  ],
  ["vehicles that never come", inPlant("every: 20 min, ", ""), "missing-key 4:22"],
  ["a key of vehicles mistyped", inPlant("every: 20", "evry: 20"), "unknown-key 4:31"],
  ["vehicles at once", inPlant("every: 20 min", "every: 0 min"), "zero 4:38"],
  ["vehicles with nothing", inPlant("items: 900", "items: 0"), "zero 4:53"],
  ["a vehicle before the start", inPlant("first: 5 min", "first: -5 min"), "negative 4:79"],
  ["a first vehicle without unit", inPlant("first: 5 min", "first: 5"), "missing-unit 4:79"],
  ["vehicles faster than they are unloaded", inPlant("rate: 60/min, first", "rate: 30/min, first"), "batch-slow 4:22"],
  ["a surge buffer of nothing", inPlant("surge: 300", "surge: 0"), "zero 4:95"],
  ["a surge buffer too large", inPlant("surge: 300", "surge: 1000001"), "too-large 4:95"],
  ["a surge buffer of a word", inPlant("surge: 300", "surge: none"), "wrong-type 4:95"],

  ["no costs", `${EXAMPLE}costs: {}\n`, "empty 26:1"],
  ["a cost of an unknown thing", costs("belts: 4 EUR/m"), "unknown-key 26:10"],
  ["an amount without currency", costs("product: 0.45"), "missing-currency 26:19"],
  ["an amount an hour without currency", costs("hands: 32/h"), "missing-currency 26:17"],
  ["an amount per nothing", costs("hands: 32 EUR"), "missing-unit 26:17"],
  ["an amount per something else", costs("belt: 32 EUR/h"), "unknown-unit 26:16"],
  ["a currency mistyped", costs("product: 3 EURO"), "unknown-currency 26:19"],
  ["a currency that is none", costs("product: 3 EUX"), "unknown-currency 26:19"],
  ["two currencies", costs("product: 3 EUR, hands: 9 USD/h"), "mixed-currencies 26:33"],
  ["a product worth nothing", costs("product: 0 EUR"), "zero 26:19"],
  ["a negative price", costs("divider: -3 EUR"), "negative 26:19"],
  ["an amount with a decimal comma", `${EXAMPLE}costs:\n  product: 0,45 EUR\n`, "decimal-comma 27:12"],
  ["a price beyond all", costs("belt: 9000000000000 EUR/m"), "too-large 26:16"],
  ["a word for an amount", costs("product: cheap"), "no-number 26:19"],
  ["how often without unit", costs("product: 1 EUR, starts: 5"), "missing-unit 26:34"],
  ["how often in another unit", costs("product: 1 EUR, starts: 5/min"), "unknown-unit 26:34"],

  ["an unknown source", inPlant("[filler, press]", "[filer, press]"), "unknown-reference 13:12"],
  [
    "an outlet as a source, which makes nothing",
    inPlant("[filler, press]", "[filler, press, shelf]"),
    "wrong-reference 13:27",
  ],
  ["a source and its group", inPlant("[filler, press]", "[filler-2, filler, press]"), "listed-twice 13:22"],
  ["a source of what nobody takes", inPlant("from: capper", "from: filler"), "nothing-collected 20:35"],
  [
    "one source of several of what nobody takes",
    inPlant("from: [boxer]", "from: [boxer, capper]"),
    "nothing-collected 21:41",
  ],
  ["a collecting belt for one feed", inPlant("from: dock, to", "collect: none, from: dock, to"), "nothing-joins 10:26"],
  ["merges for one feed", inPlant("from: dock, to", "merges: even, from: dock, to"), "nothing-joins 10:26"],
  [
    "merges that go back to one feed",
    inPlant("from: [filler, press]", "from: press"),
    "nothing-joins 16:5",
    "nothing-joins 17:5",
  ],
  ["an unknown rule of merges", inPlant("belt-first", "belt-frist"), "unknown-word 17:13"],
  [
    "a collecting belt of half a form",
    inPlant("collect: { rate: 90/min, capacity: 9 }", "collect: { rate: 90/min }"),
    "belt-form 16:5",
  ],
  ["a return without a belt", inPlant("{ rate: 60/min, capacity: 30 }", "none"), "wrong-type 19:13"],
  ["a return belt of half a form", inPlant("{ rate: 60/min, capacity: 30 }", "{ rate: 60/min }"), "belt-form 19:5"],
  ["a return belt where nothing returns", inPlant("    end: return\n", ""), "needs-key 18:5"],
  ["an unknown end", inPlant("end: return", "end: retrun"), "unknown-end 18:10"],
  ["an end that is no name", inPlant("end: yard", "end: a yard"), "bad-name 21:97"],
  ["several ends", inPlant("end: yard", "end: [yard]"), "wrong-type 21:92"],
  ["a machine at the end", inPlant("end: yard", "end: capper"), "wrong-reference 21:97"],
  ["an end that is passed before", inPlant("end: yard", "end: shelf"), "end-listed 21:97"],
  [
    "an outlet called as another end",
    inPlant("{ shelf: {", "{ return: { item: box }, shelf: {"),
    "end-ambiguous 18:10",
  ],

  [
    "no limits",
    inPlant(
      "  hold-up: { jar: 1500 }\n  at: { caps: { red: 90, blue: 60 }, filler-2: { jar: 15 }, dock: { jar: 250 } }\n  dwell: { jar: 30 min, red: 90 s }\n",
      "  {}\n",
    ),
    "empty 23:1",
  ],
  ["an unknown limit", inPlant("hold-up:", "holdup:"), "unknown-key 24:3"],
  ["a limit of all kinds together", inPlant("hold-up: { jar: 1500 }", "hold-up: 1500"), "wrong-type 24:12"],
  ["a limit of no kind", inPlant("hold-up: { jar: 1500 }", "hold-up: {}"), "empty 24:3"],
  ["a limit of nothing", inPlant("jar: 1500", "jar: 0"), "zero 24:19"],
  ["a limit beyond all room", inPlant("jar: 1500", "jar: 30000001"), "too-large 24:19"],
  ["a limit of an unknown kind", inPlant("hold-up: { jar: 1500 }", "hold-up: { jra: 1500 }"), "unknown-item 24:14"],
  ["a limit in an unknown place", inPlant("caps: { red", "cpas: { red"), "unknown-reference 25:9"],
  [
    "a limit at no place",
    inPlant("{ caps: { red: 90, blue: 60 }, filler-2: { jar: 15 }, dock: { jar: 250 } }", "{}"),
    "empty 25:3",
  ],
  ["a limit of no kind at a place", inPlant("{ red: 90, blue: 60 }", "{}"), "empty 25:9"],
  ["a limit of an unknown kind at a place", inPlant("red: 90,", "rad: 90,"), "unknown-item 25:17"],
  ["a limit at an outlet", inPlant("caps: { red", "shelf: { red"), "wrong-reference 25:9"],
  ["a limit at a feed without room", inPlant("dock: { jar: 250 }", "press: { red: 250 }"), "no-surge 25:61"],
  ["a limit at one of two of a name", inPlant("  jars: {", "  filler-2: {"), "place-ambiguous 25:38"],
  ["a limit at a machine of a faulty group", inPlant("count: 2", "count: 2.5"), "wrong-type 6:20"],
  ["a dwell without unit", inPlant("dwell: { jar: 30 min, red: 90 s }", "dwell: 10"), "missing-unit 26:10"],
  ["no dwell", inPlant("dwell: { jar: 30 min, red: 90 s }", "dwell: 0 s"), "zero 26:10"],
  ["a dwell of words", inPlant("dwell: { jar: 30 min, red: 90 s }", "dwell: long"), "no-number 26:10"],
  ["a list of dwells", inPlant("dwell: { jar: 30 min, red: 90 s }", "dwell: [1 s]"), "wrong-type 26:3"],
  ["a dwell of no kind", inPlant("dwell: { jar: 30 min, red: 90 s }", "dwell: {}"), "empty 26:3"],
  ["a dwell of an unknown kind", inPlant("red: 90 s", "rde: 90 s"), "unknown-item 26:25"],
  ["a kind's dwell without unit", inPlant("red: 90 s", "red: 90"), "missing-unit 26:30"],
  ["a return like a belt of none", returnWithoutBelt(), "return-missing 16:10"],
  ["a return of lanes where nothing returns", changed(LANES_EXAMPLE, ", chute", ""), "lanes-return 15:5"],
  ["too many elements of chains", everyMachineInEveryLine(10), "too-many 9:1"],
  ["too much room in surge buffers", surges(11), "too-many 26:1"],

  ["the baseline's name", inTactics("  low:", "  none:"), "reserved-name 35:3"],
  ["too many tactics", `${EXAMPLE}tactics:\n${tactics(51)}`, "too-many 26:1"],
  ["a tactic of no parts", tactic("{}"), "empty 27:3"],
  ["a list for a tactic", tactic("[prefill]"), "wrong-type 27:3"],
  ["an unknown part", inTactics("{ prefill: full }", "{ prefil: full }"), "unknown-key 28:19"],
  ["a part's key missing", inTactics("first: tail, ", ""), "missing-key 33:19"],
  ["a word for an amount", tactic("{ prefill: ful }"), "wrong-type 27:17"],
  ["no amount", tactic("{ prefill: 0 }"), "zero 27:17"],
  ["no amount at a machine", tactic("{ prefill: { cartoner: 0 } }"), "zero 27:29"],
  ["no machines", tactic("{ prefill: {} }"), "empty 27:8"],
  ["an unknown machine in a prefill", tactic("{ prefill: { cartner: 9 } }"), "unknown-reference 27:19"],
  ["a feed in a prefill", tactic("{ prefill: { blender: 9 } }"), "wrong-reference 27:19"],
  ["a machine and its group", tactic("{ prefill: { cartoner-3: 9, cartoner: 9 } }"), "listed-twice 27:34"],
  ["more than there is room for", tactic("{ prefill: 101 }"), "amount-too-large 27:17"],
  ["more than a machine has room for", tactic("{ prefill: { cartoner-2: 101 } }"), "amount-too-large 27:31"],
  ["more than the last machines have room for", prefillBesidePacker(), "amount-too-large 28:17"],
  ["a word for some machines", tactic("{ prefill: full, prefill-of: last }"), "wrong-type 27:35"],
  ["more machines than plants have", tactic("{ prefill: full, prefill-of: last 20001 }"), "too-large 27:35"],
  [
    "machines beside amounts of their own",
    tactic("{ prefill: { cartoner: 9 }, prefill-of: last 3 }"),
    "prefill-form 27:34",
  ],
  [
    "what needs a prefill, without",
    tactic("{ prefill-of: all, prefill-belts: full, by-hand: 1/s, while: running }"),
    "needs-key 27:8",
    "needs-key 27:25",
    "needs-key 27:46",
    "needs-key 27:60",
  ],
  ["hands beside the running line, without hands", tactic("{ prefill: 9, while: running }"), "needs-key 27:27"],
  [
    "loaded belts beside the running line",
    tactic("{ prefill: 9, prefill-belts: full, by-hand: 1/s, while: running }"),
    "belts-while-running 27:35",
  ],
  ["an interval without an order", tactic("{ hold: { until: 1 min, every: 9 s } }"), "needs-key 27:30"],
  [
    "an interval for all together",
    tactic("{ hold: { until: 1 min, release: together, every: 9 s } }"),
    "needs-key 27:49",
  ],
  [
    "machines held and started in turn",
    tactic("{ hold: { until: 1 min }, stagger: { first: head, every: 9 s } }"),
    "two-starts 27:32",
  ],
  ["nothing but the prefill's own fault", tactic("{ prefill: ful, by-hand: 1/s }"), "wrong-type 27:17"],
  ["an unknown event", inTactics("all-full", "al-full"), "wrong-type 31:34"],
  ["a hold without unit", inTactics("until: 5 min", "until: 5"), "missing-unit 32:34"],
  ["a hold for no time", inTactics("until: 5 min", "until: 0 s"), "zero 32:34"],
  ["a release one by one without interval", inTactics(", every: 10 s", ""), "missing-key 32:19"],
  ["a boost to less than full rate", inTactics("120 %", "100 %"), "out-of-range 34:32"],
  ["branches metered below the need", inTactics("105 %", "99.5 %"), "out-of-range 36:34"],
  ["no share of the feed", inTactics("30 %", "0 %"), "out-of-range 38:41"],
  ["the whole feed as a share", inTactics("30 %", "100 %"), "out-of-range 38:41"],
  ["a level of nothing", inTactics("at: 20", "at: 0"), "zero 35:36"],
  ["a level for ever", inTactics("of: all, for: 10 min", "for: ever"), "wrong-type 35:45"],
  ["an unknown machine for the second feed", inTactics("at: cartoner-8", "at: cartoner-9"), "unknown-reference 38:51"],
  ["chance for the dice", inRandom("random:\n", "random:\n  dice: {}\n"), "unknown-key 11:3"],
  ["a word for chance", `${RANDOM_EXAMPLE.split("random:")[0]}random: much\n`, "wrong-type 10:9"],
  ["chance at an unknown machine", inRandom("    cartoner:", "    cartner:"), "unknown-reference 12:5"],
  ["chance at a machine beyond its group", inRandom("cartoner-3:", "cartoner-4:"), "unknown-reference 16:5"],
  ["chance at a feed among machines", inRandom("    cartoner:", "    blender:"), "wrong-reference 12:5"],
  ["chance at an unknown feed", inRandom("    dock:", "    dok:"), "unknown-reference 23:5"],
  ["chance at a machine among feeds", inRandom("    dock:", "    cartoner-2:"), "wrong-reference 23:5"],
  [
    "chance at a machine of a faulty group",
    inRandom("count: 3", "count: 3.5").replace(/, speed: .*]/, ""),
    "wrong-type 7:22",
  ],
  ["an unknown part of chance", inRandom("micro-stops:", "microstops:"), "unknown-key 14:7"],
  ["an unknown family", inRandom("{ exponential: 45 min }", "{ exponental: 45 min }"), "unknown-key 13:32"],
  ["two families", inRandom("exponential: 45", "fixed: 1 h, exponential: 45"), "distribution-form 13:21"],
  ["no family", inRandom("{ exponential: 45 min }", "{}"), "distribution-form 13:21"],
  ["no family but what goes with one", inRandom("{ exponential: 45 min }", "{ step: 2 s }"), "distribution-form 13:21"],
  ["a word for a distribution", inRandom("{ exponential: 45 min }", "exponential"), "wrong-type 13:30"],
  ["a list for a distribution", inRandom("{ exponential: 45 min }", "[45 min]"), "wrong-type 13:21"],
  ["a time without unit", inRandom("lasting: 90 s", "lasting: 90"), "missing-unit 22:55"],
  ["a mean without unit", inRandom("exponential: 45 min", "exponential: 45"), "missing-unit 13:45"],
  ["a mean in another measure", inRandom("exponential: 45 min", "exponential: 45 %"), "unknown-unit 13:45"],
  ["a negative mean", inRandom("exponential: 45 min", "exponential: -45 min"), "negative 13:45"],
  ["no mean", inRandom("exponential: 45 min", "exponential: 0 min"), "zero 13:45"],
  ["a mean of years", inRandom("exponential: 45 min", "exponential: 900 d"), "too-large 13:45"],
  [
    "a share in minutes",
    inRandom("lognormal: 100 %, spread: 10 %", "lognormal: 2 s, spread: 10 %"),
    "unknown-unit 15:27",
  ],
  ["a share without unit", inRandom("exponential: 100 %", "exponential: 1"), "missing-unit 21:32"],
  ["a cycle as a time", inRandom("cycle: { lognormal: 100 %, spread: 10 % }", "cycle: 3 s"), "unknown-unit 15:14"],
  ["a spread without unit", inRandom("spread: 2 min", "spread: 2"), "missing-unit 13:91"],
  ["no spread", inRandom(", spread: 2 min", ""), "missing-key 13:55"],
  ["a spread of nothing", inRandom("spread: 2 min", "spread: 0 min"), "zero 13:91"],
  ["a spread for another family", inRandom("45 min }", "45 min, spread: 2 min }"), "needs-key 13:53"],
  ["a step longer than the mean", inRandom("step: 2 s", "step: 21 s"), "geometric-step 18:71"],
  ["no step", inRandom(", step: 2 s", ""), "missing-key 18:37"],
  ["a shape of nothing", inRandom("shape: 1.5", "shape: 0"), "wrong-type 17:53"],
  ["a shape with a unit", inRandom("shape: 1.5", "shape: 1.5 s"), "wrong-type 17:53"],
  ["a shape too great", inRandom("shape: 1.5", "shape: 101"), "too-large 17:53"],
  ["half a stage", inRandom("stages: 3", "stages: 2.5"), "wrong-type 17:109"],
  ["too many stages", inRandom("stages: 3", "stages: 101"), "too-large 17:109"],
  ["two values of three", inRandom("[5 s, 10 s, 30 s]", "[5 s, 30 s]"), "distribution-values 14:46"],
  ["values out of order", inRandom("[5 s, 10 s, 30 s]", "[5 s, 40 s, 30 s]"), "distribution-values 14:46"],
  ["values all alike", inRandom("[0 s, 1 s]", "[1 s, 1 s]"), "distribution-values 24:17"],
  ["a value without unit", inRandom("[5 s, 10 s, 30 s]", "[5 s, 10, 30 s]"), "missing-unit 14:64"],
  ["a chance above all", inRandom("chance: 2 %", "chance: 120 %"), "too-large 14:30"],
  ["no chance", inRandom("chance: 2 %", "chance: 0 %"), "zero 14:30"],
  ["a chance without unit", inRandom("chance: 2 %", "chance: 0.02"), "missing-unit 14:30"],
  ["breakdowns that never end", inRandom(", repair: { lognormal: 4 min, spread: 2 min }", ""), "missing-key 13:7"],
  ["an unknown clock", inRandom("counted: clock", "counted: clok"), "unknown-word 17:69"],
  ["cycles longer in the mean", inRandom("lognormal: 100 %", "lognormal: 110 %"), "share-mean 15:7"],
  ["vehicles fuller in the mean", inRandom("[80 %, 120 %]", "[80 %, 130 %]"), "share-mean 25:63"],
  ["an interval and jitter", inRandom("      outages:", "      jitter: 1 s\n      outages:"), "two-timings 22:7"],
  [
    "vehicles by interval and by jitter",
    inRandom("batch: { jitter", "batch: { every: 100 %, jitter"),
    "two-timings 25:30",
  ],
  ["vehicles of a feed without", inRandom("      outages:", "      batch: {}\n      outages:"), "no-batch 22:7"],
  ["a group for the second feed", inTactics("at: cartoner-8", "at: cartoner"), "several-machines 38:51"],
];

function tactics(count: number): string {
  return Array.from({ length: count }, (_, i) => `  t${i}: { prefill: full }\n`).join("");
}

/** The plant's second line with the default return, which is no belt. */
function returnWithoutBelt(): string {
  const kept = PLANT_EXAMPLE.split("\n").filter((line) => !/^ {4}(collect|merges|return)/.test(line));
  return changed(kept.join("\n"), "belt: { rate: 120/min, capacity: 12 }", "belt: none");
}

function everyMachineInEveryLine(lines: number): string {
  const line = (n: number) => `  more-${n}: { layout: chain, from: filler, to: capper, belt: none }\n`;
  const more = Array.from({ length: lines }, (_, n) => line(n)).join("");
  return changed(inPlant("count: 2", "count: 19000"), "outlets:", `${more}outlets:`);
}

function surges(count: number): string {
  const names = Array.from({ length: count }, (_, n) => `dock-${n}`);
  const feeds = names.map((name) => `  ${name}: { item: pouch, rate: 1/min, surge: 1000000 }\n`).join("");
  return inChain("feeds:\n", `feeds:\n${feeds}`).replace("[blender]", `[blender, ${names.join(", ")}]`);
}

/** The chain ends at a machine with less room than the others. */
function prefillBesidePacker(): string {
  const packer = "machines:\n  packer: { cycle: 2 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 9 }\n";
  return tactic("{ prefill: 10, prefill-of: last 1 }")
    .replace("machines:\n", packer)
    .replace("[cartoner]", "[cartoner, packer]");
}

function aliasBomb(): string {
  const lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"];
  for (let i = 1; i < 20; i++) lines.push(`a${i}: &a${i} [${Array.from({ length: 10 }, () => `*a${i - 1}`)}]`);
  return lines.join("\n");
}

function chainOfAliases(length: number): string {
  return Array.from({ length }, (_, i) => `a${i}: &a${i} [${i === 0 ? "x" : `*a${i - 1}`}]`).join("\n");
}

function machines(groups: number): string {
  const one = "{ count: 10000, cycle: 1 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 1 }";
  return Array.from({ length: groups }, (_, i) => `  m${i}: ${one}\n`).join("");
}

function kinds(count: number): string {
  return Array.from({ length: count }, (_, i) => `k${i}: 1`).join(", ");
}

/** After a tab the lines that belong to the same map are lost too. */
function brokenLines(): string[] {
  return ["bad-yaml 9:1", "bad-yaml 11:1", "bad-yaml 12:1", "bad-yaml 13:1", "bad-yaml 14:1"];
}

function noFeeds(): string[] {
  return ["empty 4:1", "unknown-item 10:14", "unknown-reference 18:12"];
}

/** What is set in an example, and all that is then found, at places of the file as it is written. */
const SET_CASES: [path: string, value: string, text: string, ...found: string[]][] = [
  ["feeds.blendr.rate", "60/min", EXAMPLE, "no-such-place 4:1"],
  ["lines.main.belt.rate.x", "1", EXAMPLE, "no-keys-here 20:21"],
  ["machines.filler.speed.2", "50 %", CUSTOM_EXAMPLE, "no-such-index 19:5"],
  ["machines.filler.speed.first", "50 %", CUSTOM_EXAMPLE, "no-such-index 19:5"],
  ["machines.filler.speed.01", "50 %", CUSTOM_EXAMPLE, "no-such-index 19:5"],
  ["feeds.silo.profile.3.rate", "1/min", CUSTOM_EXAMPLE, "no-such-index 7:5"],
  ["feeds.silo.profile.2.rate", "45", CUSTOM_EXAMPLE, "missing-unit 10:31"],
  ["feeds.silo.profile.1.from", "2 h", CUSTOM_EXAMPLE, "profile-order 10:17"],
  ["feeds.blender.rate", "0/min", EXAMPLE, "zero 5:33"],
  ["feeds.blender.rat", "1/min", EXAMPLE, "unknown-key 5:3"],
  ["machines.cartoner.count", "1.5", EXAMPLE, "wrong-type 8:12"],
  ["machines.cartoner.count", "-5", EXAMPLE, "negative 8:12"],
  ["lines.main.branch", "non", EXAMPLE, "wrong-type 21:5"],
  ["feds.blender.rate", "1/min", EXAMPLE, "unknown-key 1:1"],
];

test.each(SET_CASES)("%s=%s", (path, value, text, ...found) => {
  const outcome = scenarioReader(text)([{ path: path.split("."), value }]);
  const findings = outcome.ok ? outcome.warnings : outcome.findings;
  expect(findings.map((finding) => `${finding.code} ${finding.line}:${finding.column}`)).toEqual(found);
});

test.each(CASES)("%s", (_what, text, ...found) => expect(summary(text)).toEqual(found));

test("every finding that reading can make is made above", () => {
  const folder = new URL("../../src/scenario/", import.meta.url);
  const sources = readdirSync(folder)
    .filter((file) => !file.endsWith("messages.ts"))
    .map((file) => readFileSync(new URL(file, folder), "utf8"));
  const used = Object.keys(catalogue).filter((code) => sources.some((source) => source.includes(`"${code}"`)));
  const all = [...CASES.map(([, , ...found]) => found), ...SET_CASES.map(([, , , ...found]) => found)];
  const made = new Set(all.flatMap((found) => found.map((entry) => entry.split(" ")[0])));
  // What is wrong with a table is told by its cell, and made in table.test.ts.
  const isMade = (code: string): boolean => made.has(code) || code.startsWith("table-");
  expect(used.filter((code) => !isMade(code) && code !== "more-findings")).toEqual([]);
});

describe("all errors of a file are shown at once", () => {
  test("whatever their kind", () => {
    const text = EXAMPLE.replace("240/min", "240")
      .replace("infeed", "infede")
      .replace("[blender]", "[blendr]")
      .replace("dividers: even", "dividers: evn")
      .replace("item: carton", "item: karton");
    expect(summary(text)).toEqual([
      "missing-unit 5:33",
      "unknown-key 12:5",
      "unknown-reference 18:12",
      "unknown-word 22:15",
      "unknown-item 25:21",
    ]);
  });

  test("up to a hundred, and the number of the others", () => {
    const many = Array.from({ length: 250 }, (_, i) => `  -f${i}: { item: pouch, rate: 1/min }\n`).join("");
    const findings = findingsOf(inChain("feeds:\n", `feeds:\n${many}`));
    expect(findings).toHaveLength(101);
    expect(findings.at(-1)).toMatchObject({ code: "more-findings", args: { count: "150" } });
  });

  test("a warning alone doesn't refuse the file", () => {
    const outcome = readScenario(inCustom("capacity: 37", "capacity: 33"));
    expect(outcome).toMatchObject({ ok: true, warnings: [{ code: "belt-slow", severity: "warning" }] });
  });
});

describe("in words", () => {
  const said = (text: string) => findingsOf(text).map((finding) => formatFinding(finding, "line.yaml"));

  test("what was found, and what would be right", () => {
    expect(said(inChain("infeed", "infede"))).toEqual(['line.yaml:12:5: unknown key "infede", did you mean "infeed"?']);
    expect(said(inChain("240/min", "240"))).toEqual([
      'line.yaml:5:33: "240" has no unit; one of: 240/min, 240/s, 240/h',
    ]);
    expect(said("")).toEqual(["line.yaml: the file holds no scenario; it begins with feeds, machines and lines"]);
    expect(said(inPlant("end: return", "end: retrun"))).toEqual([
      'line.yaml:18:10: "retrun" is no end of a chain, did you mean "return"?',
    ]);
    expect(said(inPlant("end: yard", "end: capper"))).toEqual([
      'line.yaml:21:97: "capper" is a machine; expected stop, return or an outlet',
    ]);
    expect(said(inPlant("rate: 60/min, first", "rate: 30/min, first"))).toEqual([
      "line.yaml:4:22: warning: unloading a vehicle takes 30 min, so that vehicles cannot keep their interval of 20 min: of 45/min at most 30/min are unloaded; one that waits a whole interval puts off the ones after it",
    ]);
    expect(said(inPlant("from: capper", "from: filler"))).toEqual([
      'line.yaml:20:35: nobody on this line takes what "filler" makes, filled; taken here: capped, blue; name a taker in "to", or another source',
    ]);
    expect(said(inCustom("capacity: 37", "capacity: 33"))).toEqual([
      "line.yaml:27:7: warning: with room for 33 items the belt carries at most 264/min; its rate needs room for 34",
    ]);
  });

  test("nothing that a file holds reaches the terminal unescaped", () => {
    const [sentence] = said(inChain("dividers: even", 'dividers: "\\e[2J\\u202e\\n"'));
    expect(sentence).toContain('unknown word "\\u001b[2J\\u202e\\u000a"');
  });
});

describe("the nearest name", () => {
  test("a slip of the fingers is one step", () => {
    expect(["infede", "ifneed", "infeeed", "infed", "inpeed"].map((word) => editDistance(word, "infeed"))).toEqual([
      1, 1, 1, 1, 1,
    ]);
    expect(editDistance("", "abc")).toBe(3);
  });
  test("is none where none is near", () => {
    expect(nearest("infede", ["outfeed", "infeed", "speed"])).toBe("infeed");
    expect(nearest("colour", ["count", "cycle", "takes"])).toBe("");
    expect(nearest("x".repeat(100_000), ["x"])).toBe("");
  });
});
