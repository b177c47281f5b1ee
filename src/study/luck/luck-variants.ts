/** The layouts of a line that can be built, as variants to be played on the same luck. */
import { prepare } from "../../network/prepare.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { type Candidate, candidatesFor, type Given, givenFor } from "../layouts/candidates.ts";
import { onOneHorizon } from "../layouts/common-horizon.ts";
import { evenness, feedsCut } from "../layouts/layout-runs.ts";
import { type LayoutsOptions, standingIn } from "../layouts/layouts.ts";
import { type LayoutsRefusal, lineToLayOut } from "../layouts/line.ts";
import { notRun } from "../layouts/reasons.ts";
import { NO_TACTIC, tryTactic, UnplayableError } from "../play.ts";
import { type ReplicationGrid, replicationSeed } from "../replications/replication.ts";
import type { VariantRun } from "../variant-outcome.ts";
import { luckGrid, playVariant } from "./variant-run.ts";

export interface LayoutVariants {
  readonly ok: true;
  readonly given: Given;
  /** Those that are weighed, with the reasons why some cannot be built: what assumes something else is not played. */
  readonly candidates: readonly Candidate[];
  readonly grid: ReplicationGrid;
  /** Which of them the line as it stands is; `null` where it is drawn up in another way. */
  readonly today: string | null;
  /** Those that can, in the same order. */
  readonly variants: readonly LayoutVariant[];
}

export interface LayoutVariant {
  readonly id: string;
  /** As it is and on half the feed, both on the luck of a replication, from 1. */
  readonly play: (replication: number) => VariantRun;
}

export function layoutVariants(
  scenario: Scenario,
  { line, ways, lengths }: Pick<LayoutsOptions, "line" | "ways" | "lengths">,
): LayoutVariants | LayoutsRefusal {
  const chosen = lineToLayOut(scenario, line);
  if (!chosen.ok) return chosen;
  const drawn = givenFor(scenario, chosen.line, ways ?? null, lengths);
  const all = candidatesFor(drawn);
  const standing = standingIn(drawn, all);
  const weighed = all.filter(({ id, assuming }) => assuming === null || id === standing);
  const { candidates: lasting, scenario: long } = onOneHorizon(scenario, weighed);
  const given = { ...drawn, scenario: long };
  const prepared = prepare(long);
  if (!prepared.ok) throw new UnplayableError({ as: "it-is" }, prepared.findings);
  const grid = luckGrid(long, prepared);
  const feeds = feedsCut(scenario, chosen.line);
  const candidates = lasting.map(tried);
  const variants = candidates.flatMap(({ id, drawn, reason }): LayoutVariant[] => {
    if (drawn === null || reason !== null) return [];
    const { scenario: own, network } = drawn;
    const play = (replication: number): VariantRun => {
      const lucky = { ...own, seed: replicationSeed(own.seed, replication) };
      return {
        ...playVariant(own, NO_TACTIC, replication, grid),
        evenness: evenness(lucky, network, given.chain.id, feeds, () => undefined),
      };
    };
    return [{ id, play }];
  });
  return { ok: true, given, candidates, grid, variants, today: standing };
}

/** With the reason where it cannot be simulated. */
function tried(candidate: Candidate): Candidate {
  const { drawn, reason } = candidate;
  if (drawn === null || reason !== null) return candidate;
  try {
    tryTactic(drawn.scenario, NO_TACTIC);
    return candidate;
  } catch (error) {
    if (!(error instanceof UnplayableError)) throw error;
    return { ...candidate, reason: notRun(error) };
  }
}
