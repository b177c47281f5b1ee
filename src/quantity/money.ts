/** Amounts of money as people write them, "0.45 EUR" or "32 EUR/h", and exact rationals; rounded only where they are shown. */
import { CURRENCIES } from "./currencies.ts";
import { ONE, type Rational, ratio, rational, whole } from "./rational.ts";
import { FOOT, formatNumber, LONGEST_TEXT, NUMBER, problemOf, type QuantityProblem } from "./units.ts";

/** What an amount is for: once, an hour, a metre or a square metre. */
export type Per = "money" | "money-per-hour" | "money-per-length" | "money-per-area";

/** The customary unit first; how much of the canonical amount one of each is. */
const UNITS: Readonly<Record<Per, ReadonlyMap<string, Rational>>> = {
  money: new Map([["", ONE]]),
  "money-per-hour": new Map([
    ["/h", ONE],
    ["/min", whole(60)],
  ]),
  "money-per-length": new Map([
    ["/m", ONE],
    ["/ft", ONE.div(FOOT)],
  ]),
  "money-per-area": new Map([
    ["/m2", ONE],
    ["/m²", ONE],
    ["/ft2", ONE.div(FOOT.mul(FOOT))],
    ["/ft²", ONE.div(FOOT.mul(FOOT))],
  ]),
};

export interface Money {
  readonly amount: Rational;
  /** As ISO 4217 has it. */
  readonly currency: string;
}

export type MoneyProblem =
  | QuantityProblem
  | { readonly problem: "missing-currency" }
  | { readonly problem: "unknown-currency"; readonly currency: string };

export function isPer(kind: string): kind is Per {
  return Object.hasOwn(UNITS, kind);
}

/** "EUR/h", "EUR/min". */
export function moneyUnits(per: Per, currency = "EUR"): string[] {
  return [...UNITS[per].keys()].map((unit) => `${currency}${unit}`);
}

/** Matches what `parseMoney` reads, whatever the three letters. */
export function moneyPattern(per: Per): RegExp {
  return new RegExp(String.raw`^(${NUMBER})\s*([A-Z]{3})(${[...UNITS[per].keys()].join("|")})$`);
}

export function parseMoney(
  per: Per,
  text: string,
): ({ readonly ok: true } & Money) | ({ readonly ok: false } & MoneyProblem) {
  if (text.length > LONGEST_TEXT) return { ok: false, problem: "too-many-digits" };
  const [, number, currency = "", unit = ""] = moneyPattern(per).exec(text) ?? [];
  const size = UNITS[per].get(unit);
  if (number === undefined || size === undefined || !CURRENCIES.has(currency)) return { ok: false, ...problemIn(text) };
  return { ok: true, amount: rational(number).mul(size), currency };
}

function problemIn(text: string): MoneyProblem {
  const found = problemOf(text);
  if (found.problem === "missing-unit") return { problem: "missing-currency" };
  if (found.problem !== "unknown-unit") return found;
  const [, currency = "", unit = ""] = /^([^\s/]*)\s*(.*)$/s.exec(found.unit) ?? [];
  if (currency === "") return { problem: "missing-currency" };
  if (!CURRENCIES.has(currency)) return { problem: "unknown-currency", currency };
  return unit === "" ? { problem: "missing-unit" } : { problem: "unknown-unit", unit };
}

/** Exact, in the customary unit: what `parseMoney` reads as the same. */
export function formatMoney(per: Per, { amount, currency }: Money): string {
  const [unit = ""] = UNITS[per].keys();
  return `${formatNumber(amount)} ${currency}${unit}`;
}

/** To the currency's minor unit, half of one away from zero: "1234.50". */
export function inMinorUnits(amount: Rational, currency: string): string {
  const digits = CURRENCIES.get(currency) ?? 2;
  const scale = 10n ** BigInt(digits);
  const size = amount.abs().mul(scale);
  const rounded = (2n * size.n + size.d) / (2n * size.d);
  const shown = digits === 0 ? String(rounded) : `${rounded / scale}.${String(rounded % scale).padStart(digits, "0")}`;
  return amount.s < 0n && rounded > 0n ? `-${shown}` : shown;
}

/** A figure that is measured, to the millionth that it is known by. */
export function measured(figure: number): Rational {
  const millionths = BigInt(Math.round(figure * 1e6));
  return ratio(millionths, 1_000_000n);
}
