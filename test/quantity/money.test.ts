/** Amounts are exact until they are shown, and rounded to what ISO 4217 has as the currency's minor unit. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { CURRENCIES } from "../../src/quantity/currencies.ts";
import { formatMoney, inMinorUnits, parseMoney } from "../../src/quantity/money.ts";
import { ratio, rational } from "../../src/quantity/rational.ts";

// ISO 4217, list one of 25 June 2024 (as in the npm package currency-codes 2.2.0): minor units of a few that Node's ICU has otherwise.
test.each([
  ["EUR", 2],
  ["JPY", 0],
  ["KWD", 3],
  ["HUF", 2],
  ["IQD", 3],
  ["CLP", 0],
])("%s has %i decimals", (code, digits) => expect(CURRENCIES.get(code)).toBe(digits));

test.each(["DEM", "XAU", "XXX", "CHW", "EURO", "eur"])("%s is no currency to pay in", (code) => {
  expect(CURRENCIES.has(code)).toBe(false);
});

test("all of Node's that ISO 4217 gives three decimals, or none, have them", () => {
  const known = Intl.supportedValuesOf("currency").filter((code) => CURRENCIES.has(code));
  expect(known.length).toBeGreaterThan(140);
  const digits = (currency: string) =>
    new Intl.NumberFormat("en", { style: "currency", currency }).resolvedOptions().maximumFractionDigits;
  for (const code of known) {
    if (CURRENCIES.get(code) === 0) expect([code, digits(code)]).toEqual([code, 0]);
    if (digits(code) === 3) expect([code, CURRENCIES.get(code)]).toEqual([code, 3]);
  }
});

test.each([
  ["1/200", "EUR", "0.01"],
  ["-1/200", "EUR", "-0.01"],
  ["-1/300", "EUR", "0.00"],
  ["1999/200", "EUR", "10.00"],
  ["3/2", "JPY", "2"],
  ["1/3", "KWD", "0.333"],
])("%s %s is %s", (amount, currency, shown) => expect(inMinorUnits(rational(amount), currency)).toBe(shown));

test("what is written is read as the same, per foot too", () => {
  const amount = fc.tuple(fc.bigInt({ min: 0n, max: 10n ** 12n }), fc.bigInt({ min: 1n, max: 10n ** 6n }));
  fc.assert(
    fc.property(amount, ([n, d]) => {
      for (const per of ["money", "money-per-hour", "money-per-length", "money-per-area"] as const) {
        const written = formatMoney(per, { amount: ratio(n, d), currency: "USD" });
        expect(parseMoney(per, written)).toEqual({ ok: true, amount: ratio(n, d), currency: "USD" });
      }
    }),
  );
  const perFoot = parseMoney("money-per-area", "0.09290304 USD/ft2");
  expect(perFoot.ok && perFoot.amount.toFraction()).toBe("1");
});
