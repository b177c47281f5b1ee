import type { Network } from "../../network/network.ts";
import type { Rational } from "../../quantity/rational.ts";
import { type Amount, amountOf, NONE } from "./number.ts";
import type { FlowEvent } from "./phase.ts";

/** Where the feeds' profiles stand. */
export class FeedSteps {
  /** Items/min on offer now. */
  rates: readonly Amount[];
  /** Steps of all profiles together. */
  readonly count: number;
  readonly #network: Network;
  readonly #at: number[];

  constructor(network: Network) {
    this.#network = network;
    this.#at = network.feeds.map(() => 0);
    this.count = network.feeds.reduce((sum, { profile }) => sum + profile.length, 1);
    this.rates = this.#ratesNow();
  }

  get nextMin(): Rational | null {
    let next: Rational | null = null;
    for (const [index, { profile }] of this.#network.feeds.entries()) {
      const from = profile[(this.#at[index] ?? 0) + 1]?.fromMin;
      if (from !== undefined && (next === null || from.compare(next) < 0)) next = from;
    }
    return next;
  }

  /** Takes every step that is due next. */
  advance(): FlowEvent[] {
    const now = this.nextMin;
    const events: FlowEvent[] = [];
    for (const [index, { id, profile }] of this.#network.feeds.entries()) {
      const step = profile[(this.#at[index] ?? 0) + 1];
      if (now === null || step === undefined || !step.fromMin.equals(now)) continue;
      this.#at[index] = (this.#at[index] ?? 0) + 1;
      events.push({ what: "feed", feed: id, ratePerMin: step.ratePerMin });
    }
    this.rates = this.#ratesNow();
    return events;
  }

  #ratesNow(): Amount[] {
    return this.#network.feeds.map(({ profile }, index) => {
      const step = profile[this.#at[index] ?? 0];
      return step === undefined ? NONE : amountOf(step.ratePerMin);
    });
  }
}
