/** What is said of money in an answer; nothing where the file states no costs. */
import type { LossMoney } from "../../analysis/money.ts";
import type { LayoutMoney } from "../../study/layouts/layout-results.ts";
import type { StartMoney } from "../../study/results.ts";
import { moneyFigure } from "../text/cells.ts";
import { number } from "../text/figures.ts";
import type { AnswerLine } from "./answer.ts";

const WHAT = "Money";

function moneyText(amount: string, currency: string): string {
  return `${moneyFigure(amount, currency)}\u00a0${currency}`;
}

/** What the ramp-up of the line as it is costs. */
export function lossMoneyAnswer(money: LossMoney | undefined): AnswerLine[] {
  return money === undefined || money.loss_per_start === null ? [] : [{ what: WHAT, text: lostText(money) }];
}

function lostText(money: LossMoney): string {
  const { value, beside } = lossMoneyFigure(money);
  return `${value} ${beside}`;
}

/** The same in two, for a sheet of figures. */
export function lossMoneyFigure({ currency, loss_per_start: lost, loss_per_year: perYear }: LossMoney) {
  const year = perYear === null ? "" : `, ${moneyText(withoutSign(perYear), currency)} a year`;
  const start = lost ?? "0";
  const beside = `${isNegative(start) ? "gained" : "lost"} a start${year}`;
  return { value: moneyText(withoutSign(start), currency), beside };
}

/** What a start saves beside nothing done, after its hands. */
export function startMoneyAnswer(money: StartMoney | undefined): AnswerLine[] {
  if (money === undefined || money.loss_per_start === null) return [];
  const { currency, saved_per_start: saved, saved_per_year: perYear, hands_per_start: hands } = money;
  if (saved === null) {
    const unpriced = hands === null ? "; what hands cost is not stated" : "";
    return [{ what: WHAT, text: `${lostText(money)}${unpriced}` }];
  }
  const year = perYear === null ? "" : `; ${moneyText(withoutSign(perYear), currency)} a year`;
  const after = hands === null || isNothing(hands) ? "" : ` after ${moneyText(hands, currency)} for hands`;
  const start = `${moneyText(withoutSign(saved), currency)} a start`;
  return [
    {
      what: WHAT,
      text: `${isNegative(saved) ? `costs ${start} more than it saves` : `saves ${start}`}${after}${year}`,
    },
  ];
}

/** What a layout costs, and when it has paid for itself. */
export function layoutMoneyAnswer(money: LayoutMoney | undefined): AnswerLine[] {
  if (money === undefined || money.build === null) return [];
  const { currency, build, change, saved_per_year: saved, paid_after_years: years } = money;
  const whole = moneyText(build, currency);
  if (change === "0") return [{ what: WHAT, text: `it stands; built new it would cost ${whole}` }];
  const less = change === null || change === build ? "" : ` (${moneyText(change, currency)} on today's floor)`;
  const pays = saved === null ? "" : years === null ? "; saves nothing" : `; paid for after ${yearsText(years)}`;
  return [{ what: WHAT, text: `${whole}${less}${pays}` }];
}

function yearsText(years: number): string {
  const shown = number(years, 1);
  return shown === "0" ? "less than a tenth of a year" : `${shown}\u00a0${shown === "1" ? "year" : "years"}`;
}

function isNegative(amount: string): boolean {
  return amount.startsWith("-");
}

function isNothing(amount: string): boolean {
  return amount === "0";
}

function withoutSign(amount: string): string {
  return amount.replace(/^-/, "");
}
