/** What `new` asks: each question with the option that answers it, what is a good answer, and what it comes to. */
import { NAME_PATTERN, parseQuantity, type QuantityKind, type Rational } from "../index.ts";
import { RefusedError } from "./exit.ts";

/** Of one kind of machine. */
export interface Kind {
  readonly name: string;
  readonly takes: readonly Taken[];
  readonly makes: readonly Taken[];
  readonly cycle: string;
  readonly count: number;
  readonly room: number | null;
}

export interface Taken {
  readonly item: string;
  readonly count: number;
}

/** @returns why an answer will not do; `undefined` if it will */
export type Check = (text: string) => string | undefined;

export const isName: Check = (text) =>
  NAME_PATTERN.test(text.trim()) ? undefined : "one word of letters, digits, - and _, such as cartoner";

export const areItems: Check = (text) => {
  if (itemsIn(text) !== null) return undefined;
  // The commonest slip: "labelled can".
  const joined = text.trim().replace(/(?<=\p{L})\s+(?=\p{L})/gu, "-");
  if (itemsIn(joined) !== null) return `names of items without spaces, such as ${joined}`;
  return "items and how many a cycle has, such as pouch, or 2 pouch + 1 lid";
};

export const isCycle: Check = (text) => quantityCheck("duration", text, "a time with its unit, such as 2.5 s");

export const isCount: Check = (text) => {
  if (/^[1-9][0-9]{0,3}$/.test(text.trim())) return undefined;
  return quantityCheck("rate", text, "how many there are, such as 8, or what they are to make, such as 120/min");
};

export const isRoom: Check = (text) =>
  /^[1-9][0-9]{0,5}$/.test(text.trim()) ? undefined : "a whole number of items, such as 60";

export const isFeed: Check = (text) => {
  const stated = text.trim();
  if (stated === "as needed" || /^[0-9.]+ ?% of need$/.test(stated)) return undefined;
  return quantityCheck("rate", stated, "as needed, or a rate such as 200/min");
};

const BELT = "length, speed and pitch, such as 3 m, 24 m/min, 100 mm, or 10 ft, 80 ft/min, 4 in";

export const isBelt: Check = (text) => {
  const parts = text.split(",").map((part) => part.trim());
  const kinds: QuantityKind[] = ["length", "speed", "length"];
  const isGood = parts.length === 3 && parts.every((part, i) => isAboveZero(kinds[i] ?? "length", part));
  return isGood || text.trim() === "" ? undefined : BELT;
};

function quantityCheck(kind: QuantityKind, text: string, expected: string): string | undefined {
  const parsed = parseQuantity(kind, text.trim());
  if (parsed.ok) return parsed.value.n > 0n ? undefined : expected;
  return parsed.problem === "decimal-comma" ? `decimals take a point: ${parsed.right}` : expected;
}

function isAboveZero(kind: QuantityKind, text: string): boolean {
  const parsed = parseQuantity(kind, text);
  return parsed.ok && parsed.value.n > 0n;
}

/** "2 pouch + 1 lid"; `null` where it is something else. */
export function itemsIn(text: string): Taken[] | null {
  const items = text.split(/[+,;]/).map((part): Taken | null => {
    const [, count = "1", item = ""] = /^\s*(?:([1-9][0-9]{0,5})\s*[x×]?\s+)?(\S+)\s*$/.exec(part) ?? [];
    return NAME_PATTERN.test(item) ? { item, count: Number(count) } : null;
  });
  const good = items.filter((one) => one !== null);
  return good.length === items.length && new Set(good.map(({ item }) => item)).size === good.length ? good : null;
}

/** As many as a number says, or as many as a rate takes of the first product. */
export function countIn(text: string, makes: readonly Taken[], cycle: string): number {
  const stated = text.trim();
  if (/^[0-9]+$/.test(stated)) return Number(stated);
  const [rate, time] = [quantity("rate", stated), quantity("duration", cycle)];
  return Number(
    rate
      .mul(time)
      .div(BigInt(makes[0]?.count ?? 1))
      .ceil().n,
  );
}

function quantity(kind: QuantityKind, text: string): Rational {
  const parsed = parseQuantity(kind, text.trim());
  if (!parsed.ok) throw new RefusedError(`${JSON.stringify(text)} is no ${kind}`);
  return parsed.value;
}

/** @throws RefusedError naming the option */
export function checked(option: string, text: string, check: Check): string {
  const wrong = check(text);
  if (wrong !== undefined) throw new RefusedError(`--${option} ${JSON.stringify(text)}: expected ${wrong}`);
  return text.trim();
}
