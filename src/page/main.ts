/** The page: puts its parts together. */

import { figures, keyFigures } from "../report/page/key-figures.ts";
import type { Variant } from "../report/page/skeleton.ts";
import { resultJson } from "../report/text/json.ts";
import { addressOf, askedBy } from "./address.ts";
import { type Chart, chart } from "./chart.ts";
import { startClock } from "./clock.ts";
import { holdUpDrawing, outputDrawing } from "./curves.ts";
import { element, h, the } from "./dom.ts";
import { type Engine, startEngine, unpacked } from "./engine.ts";
import { knobFields, startField } from "./fields.ts";
import { type Film, film } from "./film.ts";
import { momentsOf, rampUpMin } from "./moments.ts";
import { buffersDrawing, fillsBuffers, statesDrawing } from "./rows.ts";
import { transport } from "./transport.ts";
import { trial } from "./what-if.ts";
import type { Answer, Asked, Source, Start } from "./worker-messages.ts";

/** What the report's maker has put into the page. */
interface Given {
  readonly text: string;
  readonly source: Source;
  readonly isStudy: boolean;
  /** Of a study: what each of its variants is shown beside, the file as it is; and the one that is shown first. */
  readonly beside: string;
  readonly variants: readonly Variant[];
  readonly chosen: string | null;
}

const clock = startClock();
const shown: { base: Answer | null; now: Answer | null; marked: string | null; isWhole: boolean } = {
  base: null,
  now: null,
  marked: null,
  isWhole: false,
};

async function open(): Promise<void> {
  const given: Given = JSON.parse(the("given", HTMLScriptElement).textContent ?? "");
  const script = await unpacked(the("engine", HTMLScriptElement).textContent ?? "");
  // One answers what is tried, the other plays, so that a long answer doesn't stop the picture.
  const [thinker, player] = [startEngine(script, given.source), startEngine(script, given.source)];
  const first: Asked = { text: given.text, start: null };
  const linked = await askedBy(location.hash);
  const variant = given.variants.find(({ name }) => name === given.chosen);
  const chosen = variant === undefined ? first : askedFor(variant, given.text);
  await begin({ given, thinker, player, first, wanted: linked ?? chosen });
}

/** @param own the page's text, changed or not */
function askedFor({ text, start }: Variant, own: string): Asked {
  return { text: text ?? own, start: start === null ? null : { id: start, dose: null } };
}

interface Opening {
  readonly given: Given;
  readonly thinker: Engine;
  readonly player: Engine;
  readonly first: Asked;
  readonly wanted: Asked;
}

async function begin({ given, thinker, player, first, wanted }: Opening): Promise<void> {
  const moments = transport(clock);
  const pick = (id: string): void => mark(shown.marked === id ? null : id);
  const films = [...document.querySelectorAll<HTMLElement>("[data-film]")].map((host, slot) =>
    film(host, slot, { engine: player, clock, onPick: pick }),
  );
  const charts = {
    sheet: chart(the("sheet-picture", HTMLElement), clock),
    output: chart(the("chart-output", HTMLElement), clock),
    buffers: chart(the("chart-buffers", HTMLElement), clock),
    states: chart(the("chart-states", HTMLElement), clock),
    held: chart(the("chart-held", HTMLElement), clock),
  };

  function mark(id: string | null): void {
    shown.marked = id;
    for (const one of films) one.mark(id);
    draw();
    the("marked", HTMLElement).textContent = id === null ? "" : `Marked: ${id}`;
  }

  function draw(): void {
    const { base, now, marked } = shown;
    if (base === null || now === null) return;
    const before = base === now ? null : base;
    const end = shown.isWhole ? now.result.horizon_min : Math.max(rampUpMin(now.result), rampUpMin(base.result));
    const to = (drawn: Chart, drawing: Parameters<Chart["draw"]>[0], upTo = end): void => drawn.draw(drawing, upTo);
    // Of buffers that stay next to empty a picture shows nothing.
    const isFilling = fillsBuffers(base);
    const heading = the("sheet-heading", HTMLElement);
    if (!isFilling) heading.textContent = heading.textContent.replace(/^[^:]*/, "Output over time");
    to(
      charts.sheet,
      isFilling ? buffersDrawing(base, null, marked) : outputDrawing(base, null),
      rampUpMin(base.result),
    );
    to(charts.output, outputDrawing(now, before));
    to(charts.buffers, buffersDrawing(now, before, marked));
    to(charts.states, statesDrawing(now, marked));
    to(charts.held, holdUpDrawing(now, before));
  }

  function answered(answer: Answer, asked: Asked): void {
    shown.now = answer;
    shown.base ??= answer;
    const { base } = shown;
    const { plan, result } = answer;
    const isChanged = asked.text !== first.text || asked.start !== null;
    clock.reach(plan.ticksPerMin, plan.horizonTicks + Math.round(plan.startsAfterMin * plan.ticksPerMin));
    moments.offer(momentsOf(result));
    the("answer", HTMLElement).replaceChildren(element(figures(keyFigures(result), keyFigures(base.result))));
    the("changed", HTMLElement).hidden = !isChanged;
    draw();
    void play(films, given, asked);
  }

  /** The address that was set here, which is nobody's wish. */
  let own = location.hash;
  const tried = trial(thinker, first, {
    stale: (isStale) => document.body.classList.toggle("stale", isStale),
    failed: (why) => tell([`The program failed: ${why}`]),
    answered: (outcome, asked) => {
      const { activeElement } = document;
      const area = the("text", HTMLTextAreaElement);
      if (activeElement !== area) area.value = asked.text;
      tell(outcome.ok ? outcome.value.result.warnings : outcome.messages);
      document.body.classList.toggle("refused", !outcome.ok);
      if (!outcome.ok) return;
      answered(outcome.value, asked);
      // Those that are being turned stay as they are.
      const fields = the("knobs", HTMLElement);
      if (!fields.contains(activeElement)) offerKnobs(outcome.value, asked.start);
      void addressOf(asked).then((address) => {
        const isFirst = asked.text === first.text && asked.start === null;
        own = isFirst ? "" : address;
        if (location.hash !== own) location.replace(isFirst ? "#" : address);
      });
    },
  });

  function offerKnobs({ knobs, tactics }: Answer, start: Start | null): void {
    the("knobs", HTMLElement).replaceChildren(
      ...knobFields(knobs, (change) => tried.change(change)),
      startField(tactics, start, (wish) => tried.ask({ text: tried.asked().text, start: wish })),
    );
  }

  listen();
  tried.ask(first);
  await tried.settled();
  if (wanted.text !== first.text || wanted.start !== null) {
    tried.ask(wanted);
    await tried.settled();
  }
  document.body.classList.add("ready");

  function listen(): void {
    const area = the("text", HTMLTextAreaElement);
    area.addEventListener("input", () => tried.ask({ ...tried.asked(), text: area.value }));
    the("original", HTMLButtonElement).addEventListener("click", () => tried.ask(first));
    the("copy", HTMLButtonElement).addEventListener("click", () => void navigator.clipboard.writeText(area.value));
    the("save", HTMLButtonElement).addEventListener("click", () =>
      save(area.value, given.source.file, "-changed.yaml"),
    );
    the("result", HTMLButtonElement).addEventListener("click", () => {
      void thinker.ask({ ask: "whole", text: area.value }).then((outcome) => {
        if (outcome.ok) save(resultJson(outcome.value), given.source.file, "-result.json");
        else tell(outcome.messages);
      });
    });
    const range = the("whole", HTMLInputElement);
    range.addEventListener("change", () => {
      shown.isWhole = range.checked;
      draw();
    });
    for (const choice of document.querySelectorAll<HTMLInputElement>("input[name=start]")) {
      choice.addEventListener("change", () => {
        const variant = given.variants.find(({ name }) => name === choice.value);
        if (variant !== undefined) tried.ask(askedFor(variant, tried.asked().text));
      });
    }
    document.addEventListener("click", ({ target }) => {
      const id = target instanceof Element ? target.getAttribute("data-machine") : null;
      if (id !== null) mark(shown.marked === id ? null : id);
    });
    const refit = (): void => {
      for (const one of films) one.refit();
      draw();
    };
    addEventListener("resize", refit);
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", refit);
    // A link that was changed by hand, or gone back to.
    addEventListener("hashchange", () => {
      if (location.hash === own) return;
      own = location.hash;
      void askedBy(location.hash).then((asked) => tried.ask(asked ?? first));
    });
  }
}

async function play(films: readonly Film[], given: Given, asked: Asked): Promise<void> {
  const { text, start } = asked;
  if (!given.isStudy) return films[0]?.stage(asked, start?.id ?? "");
  const variant = given.variants.find((one) =>
    one.text === null ? one.start === (start?.id ?? null) : start === null && one.text === text,
  );
  const changed = text === given.text ? given.beside : "Changed";
  // A start is shown beside the same line without it, all else beside the file as it is.
  const before = { text: start === null ? given.text : text, start: null };
  await Promise.all([
    films[0]?.stage(before, given.beside),
    films[1]?.stage(asked, variant?.name ?? start?.id ?? changed),
  ]);
}

function tell(messages: readonly string[]): void {
  const list = the("messages", HTMLElement);
  list.replaceChildren(...messages.map((message) => element(h("li", {}, message))));
}

function save(text: string, file: string, ending: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text]));
  link.download = `${file.replace(/\.[^.]*$/, "")}${ending}`;
  link.click();
}

open().catch((error: unknown) =>
  tell([`The page could not start its engine: ${error instanceof Error ? error.message : error}`]),
);
