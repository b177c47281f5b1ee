/** A first file is read by someone who has never seen one: what its lines mean stands beside them, and the plant in a sketch. */
/** The first line that each pattern finds gets the comment. */
const COMMENTS: readonly (readonly [pattern: RegExp, comment: string])[] = [
  [/^horizon: auto$/m, "until the line has settled; or a time such as 4 h"],
  [/^tick: auto$/m, "steps short enough for the fastest element"],
  [/^feeds:$/m, "where items enter"],
  [/^ {2}.*rate: as needed.*$/m, "just what the machines take at full speed; or a rate such as 200/min"],
  [/^machines:$/m, "kinds of machine; those with a count are name-1, name-2, …"],
  [/^ {4}cycle: .*$/m, "of one cycle at 100 % speed"],
  [/^ {4}takes: .*$/m, "items per cycle"],
  [/^ {4}infeed: .*$/m, "room before each machine, items"],
  [/^ {4}outfeed: .*$/m, "room behind it"],
  [/^ {4}speed: .*$/m, "or one for each: [100 %, 75 %, …]"],
  [/^lines:$/m, "what connects them"],
  [/^ {4}layout: chain$/m, "a belt passes machine after machine; or tree, loop, lanes"],
  [/^ {4}belt: .*$/m, "from divider to divider; it carries speed / pitch"],
  [/^ {4}branch: .*$/m, "from a divider to its machine"],
  [/^ {4}collect: .*$/m, "where machines' products join"],
  [/^ {4}dividers: .*$/m, "or through-first, branch-first"],
  [/^ {4}end: stop$/m, "what passes the last machine piles up; or an outlet's name"],
];

const COLUMN = 40;

/** @param head first lines, without their marks */
export function commented(text: string, head: readonly string[]): string {
  const body = COMMENTS.reduce((all, [pattern, comment]) => {
    return all.replace(pattern, (line) => `${line.padEnd(COLUMN)} # ${comment}`);
  }, text);
  return `${head.map((line) => `# ${line}\n`).join("")}${body}`;
}

/** A plant in a few lines of text, machine group by machine group, as it grows. */
interface Sketched {
  readonly name: string;
  readonly count: number;
  readonly takes: readonly string[];
  readonly makes: readonly string[];
}

/** `pouch ═▶ cartoner ×8 ═▶ carton`; what one makes and the next alone takes is said once. */
export function sketch(groups: readonly Sketched[]): string {
  const lines: string[] = [];
  let before: readonly string[] = [];
  for (const { name, count, takes, makes } of groups) {
    const machine = `${name} ×${count} ═▶ ${makes.join(" + ")}`;
    const goesOn = lines.length > 0 && takes.join() === before.join();
    if (goesOn) lines.push(`${lines.pop()} ═▶ ${machine}`);
    else lines.push(`${takes.join(" + ")} ═▶ ${machine}`);
    before = makes;
  }
  return lines.join("\n");
}
