/** What `size` and `new` are asked to make, and why it can't be. */
import { exact, parseQuantity, type SizeOutcome } from "../index.ts";
import { RefusedError } from "./exit.ts";

const EXAMPLE = 'such as --output "tin: 120/min"';

/** @throws RefusedError */
export function wantedFrom(texts: readonly string[]): ReadonlyMap<string, string> {
  const wanted = new Map<string, string>();
  for (const text of texts.flatMap((one) => one.split(","))) {
    const [, item = "", rate = ""] = /^\s*([^:=\s]+)\s*[:=]\s*(.*?)\s*$/.exec(text) ?? [];
    const parsed = parseQuantity("rate", rate);
    if (item === "" || !parsed.ok || parsed.value.n === 0n) {
      throw new RefusedError(`--output ${JSON.stringify(text)}: expected a kind and a rate above zero, ${EXAMPLE}`);
    }
    if (wanted.has(item)) throw new RefusedError(`--output ${JSON.stringify(text)}: ${item} is stated already`);
    wanted.set(item, rate);
  }
  return wanted;
}

export function refusalOf({ why, items }: Extract<SizeOutcome, { ok: false }>): string {
  const rates = items.map(({ item, perMin }) => `${exact(perMin.abs())}/min of ${item}`).join(" and ");
  const [first] = items;
  switch (why) {
    case "nothing-wanted":
      return `it is not said what the plant is to make; state it, ${EXAMPLE}, or in the file: wanted: { tin: 120/min }`;
    case "left-over":
      return `${rates} would be left over whatever the counts, and have nowhere to go; give what is left an outlet, outlets: { spare: { item: ${first?.item ?? ""} } }, or a machine that takes it`;
    case "short":
      return `${rates} would be missing whatever the counts: the machines that lead to it use up more than they make; state a feed of it, or look at takes and makes`;
  }
}
