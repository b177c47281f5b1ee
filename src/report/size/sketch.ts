/** A plant in a few lines of text, machine group by machine group, as it grows. */
export interface Sketched {
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
