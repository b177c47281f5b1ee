/** The page's worker: the whole engine, asked by messages. Nothing here knows of what is shown. */
import {
  dosedTactics,
  finalMachineIds,
  formatFinding,
  knobsOf,
  knownTactics,
  NO_TACTIC,
  type Player,
  playerFor,
  prepare,
  readScenario,
  type Scenario,
  type Staged,
  shown,
  staged,
  stagedWith,
  type Tactic,
  UnplayableError,
  withFurtherRuns,
  withHorizon,
  withValue,
} from "../core.ts";
import { unitText } from "../report/prime/dose-words.ts";
import { tacticText } from "../report/text/tactic-words.ts";
import { unplayableText } from "../report/text/unplayable-text.ts";
import { planOf } from "./drawn-line.ts";
import type { Answer, Outcome, Posted, Replies, Request, Source, Start, TacticChoice } from "./worker-messages.ts";

let source: Source = { file: "scenario.yaml" };
const players = new Map<number, Player>();

interface Read {
  readonly scenario: Scenario;
  readonly staged: Staged;
  readonly warnings: readonly string[];
}

/** As the command line reads it. */
function read(text: string, start: Start | null): Outcome<Read> {
  const { file } = source;
  const told = (findings: Parameters<typeof formatFinding>[0][]): string[] =>
    findings.map((finding) => formatFinding(finding, file));
  const outcome = readScenario(text, { name: file.replace(/\.[^.]*$/, "") });
  if (!outcome.ok) return { ok: false, messages: told([...outcome.findings]) };
  const first = prepare(outcome.scenario, outcome.locate);
  if (!first.ok) return { ok: false, messages: told([...first.findings]) };
  const scenario = withHorizon(outcome.scenario);
  const prepared = scenario === outcome.scenario ? first : prepare(scenario, outcome.locate);
  if (!prepared.ok) return { ok: false, messages: told([...prepared.findings]) };
  const warnings = told([...outcome.warnings, ...prepared.warnings]);
  try {
    const tactic = start === null ? null : tacticOf(scenario, start);
    const line = tactic === null ? staged(scenario, prepared) : stagedWith(scenario, tactic);
    return { ok: true, value: { scenario, staged: line, warnings } };
  } catch (error) {
    if (!(error instanceof UnplayableError)) throw error;
    return { ok: false, messages: [`${file}: ${unplayableText(error.played)}`, ...told([...error.findings])] };
  }
}

function tacticOf(scenario: Scenario, { id, dose }: Start): Tactic | null {
  if (id === NO_TACTIC.id) return null;
  if (dose !== null)
    return (
      dosedTactics(scenario)
        .find((one) => one.id === id)
        ?.tacticOf(dose) ?? null
    );
  return knownTactics(scenario).find((one) => one.id === id) ?? null;
}

function choices(scenario: Scenario): TacticChoice[] {
  const stated = scenario.tactics.map(({ id }) => id);
  const dosed = dosedTactics(scenario);
  const known = knownTactics(scenario).filter(({ id }) => stated.includes(id) || !dosed.some((one) => one.id === id));
  return [
    ...known.map((tactic) => ({ id: tactic.id, does: tacticText(tactic), unit: "", doses: [] })),
    ...dosed
      .filter(({ id }) => !stated.includes(id))
      .map(({ id, unit, doses }) => ({ id, does: unitText(unit), unit: unitText(unit), doses: [...doses] })),
  ];
}

function answer(text: string, start: Start | null): Outcome<Answer> {
  const outcome = read(text, start);
  if (!outcome.ok) return outcome;
  const { scenario, staged: line, warnings } = outcome.value;
  const { result, series } = shown(line, scenario, warnings);
  const plan = planOf(line, finalMachineIds(line.network));
  return { ok: true, value: { result, series, knobs: knobsOf(text, scenario), plan, tactics: choices(scenario) } };
}

const ANSWERS: { readonly [A in keyof Replies]: (request: Extract<Request, { ask: A }>) => Replies[A] } = {
  source: (request) => {
    source = request.source;
    return null;
  },
  answer: ({ text, start }) => answer(text, start),
  whole: ({ text }) => {
    const outcome = read(text, null);
    if (!outcome.ok) return outcome;
    const { scenario, staged: line, warnings } = outcome.value;
    const { run, result } = shown(line, scenario, warnings);
    return { ok: true, value: withFurtherRuns(result, scenario, run) };
  },
  stage: ({ slot, text, start }) => {
    players.get(slot)?.release();
    players.delete(slot);
    const outcome = read(text, start);
    if (!outcome.ok) return outcome;
    const { staged: line } = outcome.value;
    players.set(slot, playerFor(line));
    return { ok: true, value: planOf(line, finalMachineIds(line.network)) };
  },
  frame: ({ slot, tick }) => players.get(slot)?.frameAt(tick) ?? null,
  edit: ({ text, path, value }) => withValue(text, path, value),
};

function reply<A extends keyof Replies>(ask: A, request: Extract<Request, { ask: A }>): Replies[A] {
  return ANSWERS[ask](request);
}

function replyTo(request: Request): unknown {
  switch (request.ask) {
    case "source":
      return reply("source", request);
    case "answer":
      return reply("answer", request);
    case "whole":
      return reply("whole", request);
    case "stage":
      return reply("stage", request);
    case "frame":
      return reply("frame", request);
    case "edit":
      return reply("edit", request);
  }
}

globalThis.addEventListener("message", ({ data }: MessageEvent<Posted>) => {
  try {
    globalThis.postMessage({ id: data.id, reply: replyTo(data.request) });
  } catch (error) {
    globalThis.postMessage({
      id: data.id,
      reply: null,
      failure: error instanceof Error ? error.message : String(error),
    });
  }
});
