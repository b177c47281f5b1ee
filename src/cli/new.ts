/** fillfront new: a first file from a few answers, or from a table of machines. */
import { basename } from "node:path";
import {
  commented,
  type DraftOutcome,
  formatFinding,
  readDraft,
  readScenario,
  sizePlant,
  sketch,
  type Tables,
  writtenAsStated,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { plainName } from "./input.ts";
import {
  areItems,
  type Check,
  checked,
  countIn,
  isBelt,
  isCount,
  isCycle,
  isFeed,
  isName,
  isRoom,
  itemsIn,
  type Kind,
  type Taken,
} from "./new-answers.ts";
import { type Ask, asker } from "./new-ask.ts";
import { checkFree, putText } from "./put-text.ts";
import { refusalOf, wantedFrom } from "./size-request.ts";
import type { Terminal } from "./terminal.ts";

export interface NewOptions {
  readonly from?: string;
  readonly output?: readonly string[];
  readonly machine?: string;
  readonly takes?: string;
  readonly makes?: string;
  readonly cycle?: string;
  readonly count?: string;
  readonly room?: string;
  readonly feed?: string;
  readonly belt?: string;
  readonly next?: readonly string[];
  readonly title?: string;
  readonly out?: string;
  /** Left out: it is offered where someone can be asked. */
  readonly run?: boolean;
}

export async function newFile(options: NewOptions, terminal: Terminal): Promise<void> {
  const target = options.out ?? (options.from === undefined ? "plant.yaml" : `${plainName(options.from)}.yaml`);
  await checkFree(target);
  const ask = await asker(options.run !== undefined && options.from !== undefined);
  const { plant, open } =
    options.from === undefined ? await fromAnswers(options, ask) : await fromTable(options.from, options);
  const text = commented(plant, [
    "Written by fillfront new. Where it is not so in your plant, change it, and run it again:",
    `fillfront run ${basename(target)}`,
  ]);
  refuseWrong(text, target);
  await putText(target, text);
  if (options.from !== undefined) for (const note of blanks(options.from, open, options)) terminal.tell(note);
  terminal.tell(`The scenario is in ${target}; run it with: fillfront run ${target}`);
  if (options.run ?? (await ask.confirm("Run it now?"))) {
    await (await import("./run.ts")).run([target], { charts: true }, terminal);
  }
}

/** What was answered is read as any file is, before it is written. */
function refuseWrong(text: string, target: string): void {
  const read = readScenario(text);
  if (read.ok) return;
  const found = read.findings.map((finding) => formatFinding(finding, target));
  throw new RefusedError(["what was answered makes no plant; nothing was written:", ...found].join("\n"));
}

/** What a table leaves blank is not taken for something without a word. */
function blanks(file: string, { counts, rooms }: Written["open"], { output }: NewOptions): string[] {
  const [many, room] = [counts, rooms].map((groups) => [...groups].join(", "));
  return [
    ...(many === "" || output !== undefined
      ? []
      : [
          `${file}: no count of ${many}: one of each is taken; state it, or with --output what is to be made, and it is worked out`,
        ]),
    ...(room === "" ? [] : [`${file}: no room before ${room}: as much is taken as two minutes at full speed need`]),
  ];
}

async function fromTable(file: string, options: NewOptions): Promise<Written> {
  const { readTable, isTable } = await import("./tables.ts");
  if (!isTable(file)) throw new RefusedError(`--from ${file}: expected a table of machines, .csv or .xlsx`);
  const name = `table${file.slice(file.lastIndexOf("."))}`;
  const tables: Tables = new Map([[name, await readTable(file)]]);
  const title = options.title ?? plainName(file);
  const draft = `title: ${JSON.stringify(title)}\nmachines: { from: ${name} }\n`;
  return written(draft, options, { tables, shown: new Map([[name, file]]) });
}

async function fromAnswers(options: NewOptions, ask: Ask): Promise<Written> {
  const answer = async (
    option: "machine" | "takes" | "makes" | "cycle" | "count" | "room" | "feed" | "belt",
    question: string,
    check: Check,
    otherwise?: string,
  ): Promise<string> => {
    const stated = options[option];
    if (stated !== undefined) return checked(option, stated, check);
    return ask.text({ option, question, check, ...(otherwise === undefined ? {} : { otherwise }) });
  };
  const name = await answer("machine", "What are the machines on the line called?", isName);
  const takes = await answer("takes", "What does one cycle of a machine take? (pouch, or 2 pouch + 1 lid)", areItems);
  const makes = await answer("makes", "And what does it make?", areItems);
  const cycle = await answer("cycle", "How long is one cycle?", isCycle);
  const many = await answer(
    "count",
    "How many machines are there, or how much are they to make? (8, or 120/min)",
    isCount,
  );
  const room = await answer("room", "How many items have room before each machine?", isRoom, "60");
  const kinds: Kind[] = [kindOf({ name, takes, makes, cycle, many, room })];
  ask.show(sketchOf(kinds));
  const feed = await answer("feed", "How much is fed? (as needed, or 200/min)", isFeed, "as needed");
  const belt = await answer(
    "belt",
    "A belt from machine to machine: length, speed, pitch (3 m, 24 m/min, 100 mm)? Empty: fast enough",
    isBelt,
    "",
  );
  for (const next of options.next ?? []) kinds.push(nextKind(next));
  const open = options.next === undefined && options.machine === undefined;
  while (open && (await ask.confirm("Is there another kind of machine further on?"))) {
    kinds.push(await furtherKind(kinds, ask));
    ask.show(sketchOf(kinds));
  }
  const title = options.title ?? `${kinds.map((kind) => `${kind.count} ${kind.name}`).join(", ")}`;
  return written(draftOf(title, kinds, feed), options, { belt });
}

async function furtherKind(kinds: readonly Kind[], ask: Ask): Promise<Kind> {
  const product = kinds.at(-1)?.makes[0]?.item ?? "";
  const text = (question: string, check: Check, otherwise?: string): Promise<string> =>
    ask.text({ option: "next", question, check, ...(otherwise === undefined ? {} : { otherwise }) });
  return kindOf({
    name: await text("What are these called?", isName),
    takes: await text(`What does one cycle take? (24 ${product})`, areItems, product),
    makes: await text("What does it make?", areItems),
    cycle: await text("How long is one cycle?", isCycle),
    many: await text("How many are there, or how much are they to make?", isCount),
    room: await text("How many items have room before each?", isRoom, "60"),
  });
}

/** "packer; 24 tin; case; 30 s; 3; 60", the room left out or not. */
function nextKind(text: string): Kind {
  const [name = "", takes = "", makes = "", cycle = "", many = "", room = "60", ...more] = text
    .split(";")
    .map((part) => part.trim());
  const shown = `next ${JSON.stringify(text)}, in it`;
  if (more.length > 0)
    throw new RefusedError(`--next ${JSON.stringify(text)}: expected name; takes; makes; cycle; count; room`);
  return kindOf({
    name: checked(shown, name, isName),
    takes: checked(shown, takes, areItems),
    makes: checked(shown, makes, areItems),
    cycle: checked(shown, cycle, isCycle),
    many: checked(shown, many, isCount),
    room: checked(shown, room, isRoom),
  });
}

function kindOf(given: Readonly<Record<"name" | "takes" | "makes" | "cycle" | "many" | "room", string>>): Kind {
  const [takes, makes] = [itemsIn(given.takes) ?? [], itemsIn(given.makes) ?? []];
  const { name, cycle, many, room } = given;
  // What is less than a cycle takes has no room for it.
  const least = Math.max(...takes.map(({ count }) => count));
  return {
    name: name.trim(),
    takes,
    makes,
    cycle,
    count: countIn(many, makes, cycle),
    room: Math.max(Number(room), least),
  };
}

function sketchOf(kinds: readonly Kind[]): string {
  const names = (list: readonly Taken[]): string[] => list.map(({ item }) => item);
  return sketch(
    kinds.map(({ name, count, takes, makes }) => ({ name, count, takes: names(takes), makes: names(makes) })),
  );
}

function draftOf(title: string, kinds: readonly Kind[], feed: string): string {
  const map = (items: readonly Taken[]): string =>
    `{ ${items.map(({ item, count }) => `${item}: ${count}`).join(", ")} }`;
  const machines = kinds.map(({ name, takes, makes, cycle, count, room }) => {
    const body = [`cycle: ${cycle}`, `takes: ${map(takes)}`, `makes: ${map(makes)}`, `infeed: ${room}`];
    return `  ${name}: { count: ${count}, ${body.join(", ")} }\n`;
  });
  const made = new Set(kinds.flatMap(({ makes }) => makes.map(({ item }) => item)));
  const raw = [...new Set(kinds.flatMap(({ takes }) => takes.map(({ item }) => item)))].filter(
    (item) => !made.has(item),
  );
  const feeds = raw.map((item) => `  ${item}-feed: { item: ${item}, rate: ${feed} }\n`);
  return `title: ${JSON.stringify(title)}\n${feeds.length > 0 ? `feeds:\n${feeds.join("")}` : ""}machines:\n${machines.join("")}`;
}

interface Given {
  readonly tables?: Tables;
  /** What tables are called where they are not the file that was stated. */
  readonly shown?: ReadonlyMap<string, string>;
  /** As answered; empty: fast enough. */
  readonly belt?: string;
}

interface Written {
  readonly plant: string;
  readonly open: Extract<DraftOutcome, { ok: true }>["open"];
}

function written(
  draft: string,
  { output }: NewOptions,
  { tables = new Map(), shown = new Map(), belt = "" }: Given,
): Written {
  const wanted = output === undefined ? {} : { wanted: wantedFrom(output) };
  const [length, speed, pitch] = belt.split(",").map((part) => part.trim());
  const stated = length && speed && pitch ? { belt: { length, speed, pitch } } : {};
  const read = readDraft(draft, { name: "plant", tables, ...wanted, ...stated });
  if (!read.ok) {
    const found = read.findings.map((finding) => {
      const { file, ...rest } = finding;
      return formatFinding(file === undefined ? finding : { ...rest, file: shown.get(file) ?? file }, "the answers");
    });
    throw new RefusedError(found.join("\n"));
  }
  const { open } = read;
  if (output === undefined) return { plant: writtenAsStated(read), open };
  const outcome = sizePlant(read);
  if (!outcome.ok) throw new RefusedError(refusalOf(outcome));
  return { plant: outcome.size.scenario, open };
}
