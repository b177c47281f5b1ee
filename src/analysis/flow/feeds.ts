/** What the feeds offer: where their profiles stand, and which vehicles have come. */
import type { Network } from "../../network/network.ts";
import { larger, type Rational } from "../../quantity/rational.ts";
import type { Batch } from "../../scenario/scenario.ts";
import { type Amount, amountOf, NONE, rationalOf } from "./number.ts";
import type { FlowEvent } from "./phase.ts";

/** When the next vehicle comes, from now; one that has waited a whole interval may as well have waited for longer. */
function lateness({ batch, dueMin }: Vehicles, nowMin: Rational): string {
  return larger(dueMin.sub(nowMin), batch.everyMin.neg()).toFraction();
}

interface Profile {
  at: number;
}

interface Vehicles {
  readonly batch: Batch;
  unloading: boolean;
  /** When the next one comes, or came if it waits. */
  dueMin: Rational;
}

export class Supply {
  /** Items/min on offer now. */
  rates: readonly Amount[] = [];
  /** Steps of all profiles together. */
  readonly steps: number;
  readonly #network: Network;
  readonly #feeds: readonly (Profile | Vehicles)[];

  constructor(network: Network) {
    this.#network = network;
    this.#feeds = network.feeds.map(({ batch }) =>
      batch === null ? { at: 0 } : { batch, unloading: false, dueMin: batch.firstMin },
    );
    this.steps = network.feeds.reduce((sum, { profile }) => sum + profile.length, 1);
    this.#setRates();
  }

  /** When something on offer changes by the clock; `null`: never again. */
  get nextMin(): Rational | null {
    let next: Rational | null = null;
    for (const index of this.#feeds.keys()) {
      const due = this.#dueMin(index);
      if (due !== null && (next === null || due.compare(next) < 0)) next = due;
    }
    return next;
  }

  /** Whether every profile is at its last step, so that only vehicles change what is on offer. */
  get isSteady(): boolean {
    return this.#feeds.every((feed, index) => {
      return "batch" in feed || feed.at >= (this.#network.feeds[index]?.profile.length ?? 0) - 1;
    });
  }

  /**
   * Takes every step that is due, and lets vehicles go that are empty and come that are due.
   *
   * @param emptied feeds whose vehicle has just been emptied
   * @returns what has changed, and the feeds at which a full vehicle stands now
   */
  advance(nowMin: Rational, emptied: ReadonlySet<number>): { readonly events: FlowEvent[]; readonly full: number[] } {
    const changed: number[] = [];
    const full: number[] = [];
    for (const [index, feed] of this.#feeds.entries()) {
      if (!("batch" in feed)) {
        if (!this.#dueMin(index)?.equals(nowMin)) continue;
        feed.at++;
        changed.push(index);
        continue;
      }
      if (emptied.has(index)) {
        feed.unloading = false;
        changed.push(index);
      }
      if (feed.unloading || feed.dueMin.compare(nowMin) > 0) continue;
      if (!emptied.has(index)) changed.push(index);
      feed.unloading = true;
      // One that has waited a whole interval puts off those after it.
      const { everyMin } = feed.batch;
      const waited = nowMin.sub(feed.dueMin);
      feed.dueMin = (waited.compare(everyMin) >= 0 ? nowMin : feed.dueMin).add(everyMin);
      full.push(index);
    }
    this.#setRates();
    const events = changed.map((index): FlowEvent => {
      const ratePerMin = rationalOf(this.rates[index] ?? NONE);
      return { what: "feed", feed: this.#network.feeds[index]?.id ?? "", ratePerMin };
    });
    return { events, full };
  }

  /** What decides how what is on offer goes on from here, once it is steady. */
  key(nowMin: Rational): string {
    return this.#feeds.map((feed) => ("batch" in feed ? lateness(feed, nowMin) : "")).join(";");
  }

  #dueMin(index: number): Rational | null {
    const feed = this.#feeds[index];
    if (feed === undefined) return null;
    if ("batch" in feed) return feed.unloading ? null : feed.dueMin;
    return this.#network.feeds[index]?.profile[feed.at + 1]?.fromMin ?? null;
  }

  #isOn(index: number): boolean {
    const feed = this.#feeds[index];
    return feed !== undefined && (!("batch" in feed) || feed.unloading);
  }

  #stepOf(index: number) {
    const feed = this.#feeds[index];
    return this.#network.feeds[index]?.profile[feed !== undefined && !("batch" in feed) ? feed.at : 0];
  }

  #setRates(): void {
    this.rates = this.#feeds.map((_, index) => {
      const step = this.#isOn(index) ? this.#stepOf(index) : undefined;
      return step === undefined ? NONE : amountOf(step.ratePerMin);
    });
  }
}
