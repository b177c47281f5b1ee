/** From an empty folder to a first file: by options, on a terminal, from tables, and from what is wanted. */
import { spawn } from "node:child_process";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { writeXlsx } from "hucre/xlsx";
import { expect, test } from "vitest";
import { readScenario } from "../../src/scenario/read.ts";
import { emptyFolder, fillfront, MAIN } from "./command.ts";
import { sizeFaultsOf } from "./result-schema.ts";

const ANSWERS = ["--machine", "cartoner", "--takes", "pouch", "--makes", "carton", "--cycle", "2.5 s"];

test("new by options alone; the file runs as it is, and a file that is there is left alone", async () => {
  const cwd = await emptyFolder();
  const next = ["--next", "packer; 24 carton; case; 30 s; 4", "--belt", "10 ft, 80 ft/min, 4 in"];
  const made = await fillfront(["new", ...ANSWERS, "--count", "190/min", ...next, "--run"], { cwd });
  expect(made).toMatchObject({ status: 0 });
  expect(made.stdout).toContain("8 cartoner, 4 packer");
  expect(made.stdout).toMatch(/Makes +8\/min.*\(proved\)/);
  const text = await readFile(join(cwd, "plant.yaml"), "utf8");
  expect(text).toMatch(/count: 8\n.*cycle: 2\.5 s +# of one cycle at 100 % speed/);
  expect(text).toMatch(/rate: as needed.*# just what/);
  expect(text).toContain("length: 10 ft, speed: 80 ft/min, pitch: 4 in");
  await writeFile(join(cwd, "plant.yaml"), "title: mine\n");
  expect(await fillfront(["new", ...ANSWERS, "--count", "8"], { cwd })).toMatchObject({ status: 2 });
  expect(await readFile(join(cwd, "plant.yaml"), "utf8")).toBe("title: mine\n");
});

test("what nobody can be asked is said with its option, as is an answer that will not do", async () => {
  const missing = await fillfront(["new", "--machine", "cartoner"]);
  expect(missing).toMatchObject({ status: 2, stdout: "", stderr: expect.stringContaining("state --takes") });
  const comma = await fillfront(["new", ...ANSWERS.with(7, "2,5 s"), "--count", "8"]);
  const spaced = await fillfront(["new", ...ANSWERS.with(5, "full carton"), "--count", "8"]);
  expect(spaced.stderr).toContain('--makes "full carton": expected names of items without spaces, such as full-carton');
  expect(comma.stderr).toContain('--cycle "2,5 s": expected decimals take a point: 2.5 s');
  const loop = await fillfront(["new", ...ANSWERS, "--count", "8", "--next", "breaker; carton; pouch; 2 s; 8"]);
  expect(loop).toMatchObject({ status: 0 });
});

interface Turn {
  readonly see: string;
  readonly type: string;
}

/** Types each answer when its question is seen. */
async function onTerminal(
  command: string,
  cwd: string,
  turns: readonly Turn[],
): Promise<{ shown: string; status: number }> {
  const child = spawn("script", ["-qec", command, "/dev/null"], {
    cwd,
    env: { ...process.env, TERM: "xterm", NO_COLOR: "1" },
  });
  let shown = "";
  let next = 0;
  let seen = 0;
  child.stdout.on("data", (chunk: Buffer) => {
    shown += chunk;
    for (let turn = turns[next]; turn !== undefined; turn = turns[next]) {
      const at = shown.indexOf(turn.see, seen);
      if (at < 0) return;
      seen = at + turn.see.length;
      next++;
      if (turn.type !== "") child.stdin.write(turn.type);
    }
  });
  const status = await new Promise<number>((resolve) => child.on("close", (code) => resolve(code ?? -1)));
  return { shown, status };
}

/** A terminal of no width would have one letter a line. */
const NEW = `stty cols 100 rows 40; exec ${process.execPath} ${MAIN} new`;

test.skipIf(process.platform !== "linux")(
  "new on a terminal: questions, a wrong answer, the plant as it grows, a run",
  async () => {
    const cwd = await emptyFolder();
    const { shown, status } = await onTerminal(NEW, cwd, [
      { see: "machines on the line called", type: "cartoner\r" },
      { see: "cycle of a machine take", type: "pouch\r" },
      { see: "what does it make", type: "carton\r" },
      { see: "How long is one cycle", type: "2.5\r" },
      { see: "a time with its unit", type: " s\r" },
      { see: "How many machines are there", type: "120/min\r" },
      { see: "room before each machine", type: "\r" },
      { see: "═▶ carton", type: "" },
      { see: "How much is fed", type: "\r" },
      { see: "length, speed, pitch", type: "\r" },
      { see: "another kind of machine", type: "y" },
      { see: "What are these called", type: "packer\r" },
      { see: "one cycle take?", type: "12 carton\r" },
      { see: "What does it make", type: "case\r" },
      { see: "How long is one cycle", type: "20 s\r" },
      { see: "how much are they to make", type: "3\r" },
      { see: "have room before each", type: "\r" },
      { see: "another kind of machine", type: "n" },
      { see: "Run it now", type: "y" },
    ]);
    expect(status, shown).toBe(0);
    expect(shown).toContain("pouch ═▶ cartoner ×5 ═▶ carton ═▶ packer ×3 ═▶ case");
    expect(shown).toMatch(/Makes +9\/min/);
    const read = readScenario(await readFile(join(cwd, "plant.yaml"), "utf8"));
    expect(read).toMatchObject({ ok: true, warnings: [] });
  },
);

test.skipIf(process.platform !== "linux")("new is stopped by Ctrl-C, and nothing is written", async () => {
  const cwd = await emptyFolder();
  const { shown, status } = await onTerminal(NEW, cwd, [{ see: "machines on the line called", type: "\u0003" }]);
  expect(shown).toContain("nothing was written");
  expect(status).toBe(2);
});

const HEAD = ["name", "count", "cycle [s]", "takes", "makes", "room", "speed [%]"];

async function workbook(percent: number | null = 0.875): Promise<Uint8Array> {
  return writeXlsx({
    sheets: [
      {
        name: "Hall 3",
        rows: [
          ["Machines of hall 3", null, null, null, null, null, null],
          HEAD,
          ["press", 4, null, "blank", "body", 60, 100],
          [],
          ["folder", 2, 1.2, "2 body", "box", 40, percent],
          ["packer", 1, 1.2, "12 box", null, null, 100],
        ],
        cells: new Map([
          ["2,2", { value: 2.5, type: "formula", formula: "60/24", formulaResult: 2.5 }],
          ["4,6", { value: percent, type: "number", style: { numFmt: "0.0 %" } }],
          ["5,4", { value: "case", type: "string", hyperlink: { target: "https://example.invalid/" } }],
        ]),
        merges: [
          { startRow: 0, startCol: 0, endRow: 0, endCol: 6 },
          { startRow: 4, startCol: 5, endRow: 5, endCol: 5 },
        ],
      },
    ],
  });
}

const PLANT = `machines: { from: hall.TYPE }
feeds: { dock: { item: blank, rate: as needed } }
lines:
  a: { layout: chain, from: dock, to: press, belt: { rate: 120/min, capacity: 20 } }
  b: { layout: chain, from: press, to: folder, belt: { rate: 120/min, capacity: 20 } }
  c: { layout: chain, from: folder, to: packer, belt: { rate: 120/min, capacity: 20 } }
`;
const CSV = `${HEAD.join(";")}\r\npress;4;2,5;blank;body;60;100\r\n;;;;;;\r\nfolder;2;1,2;2 body;box;40;87,5\r\npacker;1;1,2;12 box;case;40;100\r\n`;

test("a workbook and a CSV file say the same: merged cells, stored values, percentages, decimal commas", async () => {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "hall.xlsx"), await workbook());
  await writeFile(join(cwd, "hall.csv"), `\ufeff${CSV}`);
  for (const type of ["xlsx", "csv"])
    await writeFile(join(cwd, `${type}.yaml`), `title: Hall\n${PLANT.replace("TYPE", type)}`);
  const [book, text] = await Promise.all(
    ["xlsx", "csv"].map((type) => fillfront(["check", `${type}.yaml`, "--network"], { cwd })),
  );
  expect(book).toMatchObject({ status: 0, stderr: "" });
  expect(book?.stdout).toContain("speed: 87.5 %");
  expect(book?.stdout).toBe(text?.stdout);
  const made = await fillfront(["new", "--from", "hall.xlsx", "--title", "Hall"], { cwd });
  expect(made).toMatchObject({ status: 0 });
});

test.each([
  // A title over all, an empty row, formulas with their values, links that are not followed.
  [
    "other-writer.xlsx",
    "exceljs 4",
    [
      ["filler", 4, "2.5", "1", 40],
      ["capper", 2, "1.5", "0.95", 40],
      ["boxer", 2, "12", "1", 60],
    ],
    /^The scenario is in plant.yaml[^\n]*\n$/,
  ],
  // From a CSV file; its formula, 60/50, is worked out, and a row, a count and a room are blank.
  [
    "libreoffice.xlsx",
    "LibreOffice Calc 7.4.7",
    [
      ["washer", 4, "2.5", "1", 60],
      ["filler", 1, "1.2", "0.875", 40],
      ["packer", 1, "12", "1", 120],
    ],
    /no count of filler: one of each is taken; state it, or with --output .*no room before packer: as much .* two minutes/s,
  ],
])("a workbook of another writer's, %s by %s", async (name, _writer, machines, told) => {
  const cwd = await emptyFolder();
  const book = fileURLToPath(new URL(name, import.meta.url));
  const made = await fillfront(["new", "--from", book, "--out", "plant.yaml", "--no-run"], { cwd });
  expect(made).toMatchObject({ status: 0 });
  expect(made.stderr).toMatch(told);
  const read = readScenario(await readFile(join(cwd, "plant.yaml"), "utf8"));
  const found =
    read.ok &&
    read.scenario.machines.map(({ id, members, cycleMin, speeds, infeed }) => {
      return [id, members.length, cycleMin.mul(60n).toString(), speeds[0]?.toString(), infeed[0]?.count];
    });
  expect(found).toEqual(machines);
});

test("tables that are none, are not there or hold what is not worked out", async () => {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "p.yaml"), PLANT.replace("TYPE", "xlsx"));
  const check = async (): Promise<string> => {
    const { status, stderr } = await fillfront(["check", "p.yaml"], { cwd });
    expect(status).toBe(2);
    return stderr;
  };
  expect(await check()).toContain("hall.xlsx: no such file");
  await writeFile(join(cwd, "hall.xlsx"), "no workbook");
  expect(await check()).toContain("hall.xlsx: not a workbook");
  const formula = await writeXlsx({
    sheets: [
      {
        name: "a",
        rows: [HEAD, ["press", 4, null]],
        cells: new Map([["1,2", { value: null, type: "formula", formula: "A9" }]]),
      },
    ],
  });
  await writeFile(join(cwd, "hall.xlsx"), formula);
  expect(await check()).toContain("hall.xlsx, cell C2: a formula without a stored value");
});

test("size: JSON and the scenario's text, a file on request, which runs", async () => {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "hall.csv"), CSV.replace(";4;", ";;").replace(";2;", ";;").replace(";1;", ";;"));
  await writeFile(join(cwd, "kinds.yaml"), "machines: { from: hall.csv }\n");
  const json = await fillfront(["size", "kinds.yaml", "--output", "case: 5/min", "--json"], { cwd });
  expect(json).toMatchObject({ status: 0 });
  const size: unknown = JSON.parse(json.stdout);
  expect(size).toMatchObject({
    machines: [
      { group: "press", count: 5, busy: "1" },
      { group: "folder", count: 2, busy: "24/35", speed_to_fit: "3/5" },
      { group: "packer", count: 1, busy: "1/10" },
    ],
    feeds: [{ rate_per_min: "120" }],
    run: { reached: true, proved: true },
    scenario: expect.stringContaining("rate: as needed"),
  });
  expect(sizeFaultsOf(size)).toEqual([]);
  expect(sizeFaultsOf({ ...JSON.parse(json.stdout), machines: [] })).toHaveLength(1);
  expect(size).toHaveProperty("belts.0.needs_per_min", "120");
  const text = await fillfront(["size", "kinds.yaml", "--output", "case: 5/min"], { cwd });
  expect(text.stdout).toMatch(/needs 8 machines; press is the busiest, 100 %.*proved/s);
  expect(await fillfront(["check", "kinds-sized.yaml"], { cwd })).toMatchObject({ status: 0 });
  const wrong = await fillfront(["size", "kinds.yaml", "--output", "case 5"], { cwd });
  expect(wrong).toMatchObject({ status: 2, stderr: expect.stringContaining('such as --output "tin: 120/min"') });
});
