/** One start in motion: a diagram, its numbers, and the table of its machines, fed with frames by the engine. */
import type { Frame } from "../core.ts";
import type { Clock } from "./clock.ts";
import { type Diagram, diagram } from "./diagram.ts";
import { element, h } from "./dom.ts";
import type { Engine } from "./engine.ts";
import { STATE_LOOKS } from "./paint-state.ts";
import type { Asked, Plan } from "./worker-messages.ts";

export interface Film {
  readonly stage: (asked: Asked, title: string) => Promise<void>;
  readonly mark: (machine: string | null) => void;
  readonly refit: () => void;
}

export function film(
  host: HTMLElement,
  slot: number,
  { engine, clock, onPick }: { readonly engine: Engine; readonly clock: Clock; readonly onPick: (id: string) => void },
): Film {
  const heading = element(h("h3", {}, ""));
  const numbers = element(h("p", { class: "numbers" }));
  const canvas = document.createElement("canvas");
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", "Diagram of the line; the table below it says the same");
  const stand = element(h("div", { class: "scroll diagram", tabindex: "0", role: "region", "aria-label": "Diagram" }));
  stand.append(canvas);
  const table = document.createElement("details");
  table.append(element(h("summary", {}, "Machines at this moment, as a table")));
  host.replaceChildren(heading, numbers, stand, table);

  let plan: Plan | null = null;
  let drawn: Diagram | null = null;
  let last: Frame | null = null;
  let isAsking = false;
  let isLate = false;
  let cells: readonly (readonly HTMLElement[])[] = [];

  async function follow(): Promise<void> {
    if (plan === null) return;
    if (isAsking) {
      isLate = true;
      return;
    }
    isAsking = true;
    do {
      isLate = false;
      const tick = Math.min(
        plan.horizonTicks,
        Math.max(0, Math.round((clock.minute() - plan.startsAfterMin) * plan.ticksPerMin)),
      );
      const frame = await engine.ask({ ask: "frame", slot, tick });
      if (frame !== null) show(frame);
    } while (isLate);
    isAsking = false;
  }

  function show(frame: Frame): void {
    last = frame;
    drawn?.show(frame);
    tell(frame);
    if (table.open) fill(frame);
  }

  function tell(frame: Frame): void {
    if (plan === null) return;
    const made = plan.machines.reduce(
      (sum, { perCycle, isFinal }, m) => sum + (isFinal ? perCycle * (frame.cycles[m] ?? 0) : 0),
      0,
    );
    const counts = [...STATE_LOOKS].flatMap(([state, { word }]) => {
      const count = frame.states.reduce((sum, one) => sum + (one === state ? 1 : 0), 0);
      return count === 0 ? [] : [`${count} ${word}`];
    });
    numbers.dataset.made = String(made);
    numbers.dataset.held = String(frame.holdUp);
    numbers.dataset.tick = String(frame.tick);
    numbers.textContent = `${made} products made, ${frame.holdUp} items on the line; machines: ${counts.join(", ")}`;
  }

  function build(): void {
    if (plan === null) return;
    table.querySelector(".scroll")?.remove();
    const heads = ["machine", "state", "infeed", "outfeed", "cycles"].map((head) => h("th", { scope: "col" }, head));
    const body = document.createElement("tbody");
    cells = plan.machines.map(({ id }) => {
      const row = document.createElement("tr");
      const pick = element(h("button", { type: "button", class: "plain" }, h("bdi", {}, id)));
      pick.addEventListener("click", () => onPick(id));
      const name = element(h("th", { scope: "row" }));
      name.append(pick);
      const own = Array.from({ length: 4 }, () => element(h("td")));
      row.append(name, ...own);
      body.append(row);
      return own;
    });
    const whole = element(
      h("table", {}, h("caption", {}, "Machines at this moment"), h("thead", {}, h("tr", {}, ...heads))),
    );
    whole.append(body);
    const scroll = element(
      h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": "Machines, table" }),
    );
    scroll.append(whole);
    table.append(scroll);
  }

  function fill(frame: Frame): void {
    for (const [m, machine] of plan?.machines.entries() ?? []) {
      const levels = (buffers: typeof machine.infeed): string =>
        buffers.map(({ at, room }) => `${frame.levels[at] ?? 0} of ${room}`).join(", ");
      const state = STATE_LOOKS.get(frame.states[m] ?? 0)?.word ?? "";
      const texts = [state, levels(machine.infeed), levels(machine.outfeed), String(frame.cycles[m] ?? 0)];
      for (const [i, text] of texts.entries()) {
        const cell = cells[m]?.[i];
        if (cell !== undefined && cell.textContent !== text) cell.textContent = text;
      }
    }
  }

  canvas.addEventListener("click", (event) => {
    const { left, top } = canvas.getBoundingClientRect();
    const id = drawn?.machineAt(event.clientX - left, event.clientY - top) ?? null;
    if (id !== null) onPick(id);
  });
  table.addEventListener("toggle", () => {
    if (last !== null) fill(last);
  });
  clock.onChange(() => void follow());

  return {
    stage: async (asked, title) => {
      const outcome = await engine.ask({ ask: "stage", slot, ...asked });
      if (!outcome.ok) return;
      heading.replaceChildren(element(h("bdi", {}, title)));
      plan = outcome.value;
      drawn = diagram(canvas, plan);
      build();
      await follow();
    },
    mark: (machine) => drawn?.mark(machine),
    refit: () => drawn?.refit(),
  };
}
