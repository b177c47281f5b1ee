/** Fields and sliders for what can be turned. */
import type { Knob } from "../core.ts";
import { element, h } from "./dom.ts";
import type { Change } from "./what-if.ts";
import type { Start, TacticChoice } from "./worker-messages.ts";

function writtenOf({ unit }: { readonly unit: string }, value: number): string {
  const bare = unit.trim();
  const number = String(Number(value.toPrecision(10)));
  return bare === "" || bare.startsWith("/") ? `${number}${bare}` : `${number} ${bare}`;
}

/** By whose they are, each group under its name. */
export function knobFields(knobs: readonly Knob[], onChange: (change: Change) => void): HTMLElement[] {
  const groups = new Map<string, HTMLElement[]>();
  for (const knob of knobs) groups.set(knob.of, [...(groups.get(knob.of) ?? []), fieldOf(knob, onChange)]);
  return [...groups].map(([of, fields]) => {
    const group = element(h("fieldset", {}, h("legend", {}, h("bdi", {}, of))));
    group.append(...fields);
    return group;
  });
}

let named = 0;

function fieldOf(knob: Knob, onChange: (change: Change) => void): HTMLElement {
  const id = `knob-${++named}`;
  const { path, key, about } = knob;
  const label = element(
    h(
      "label",
      { for: id, title: about },
      knob.kind === "number" && knob.unit !== "" ? `${key}, ${knob.unit.trim()}` : key,
    ),
  );
  if (knob.kind === "word") {
    const list = document.createElement("select");
    list.id = id;
    for (const word of knob.words) list.append(new Option(word, word, word === knob.word, word === knob.word));
    list.addEventListener("change", () => onChange({ path, value: list.value }));
    return row(label, list);
  }
  const most = knob.unit.trim() === "%" ? 200 : Math.max(10 * knob.step, 2 * knob.number);
  const [slider, field] = [document.createElement("input"), document.createElement("input")];
  slider.type = "range";
  field.type = "number";
  field.id = id;
  slider.setAttribute("aria-label", `${knob.of}, ${key}, slider`);
  for (const input of [slider, field]) {
    [input.min, input.max, input.step] = [
      String(knob.least),
      input === slider ? String(most) : "",
      input === slider ? String(knob.step) : "any",
    ];
    input.value = String(Number(knob.number.toPrecision(8)));
    input.dataset.path = path.join(".");
  }
  const tell = (from: HTMLInputElement, to: HTMLInputElement): void => {
    const value = Number(from.value);
    if (from.value === "" || !Number.isFinite(value) || value <= 0) return;
    to.value = from.value;
    onChange({ path, value: writtenOf(knob, value) });
  };
  slider.addEventListener("input", () => tell(slider, field));
  field.addEventListener("input", () => tell(field, slider));
  return row(label, slider, field);
}

function row(...parts: readonly HTMLElement[]): HTMLElement {
  const made = element(h("div", { class: "knob" }));
  made.append(...parts);
  return made;
}

/** How the line is started, and the dose of what comes in doses. */
export function startField(
  tactics: readonly TacticChoice[],
  now: Start | null,
  onChange: (start: Start | null) => void,
): HTMLElement {
  const group = element(h("fieldset", {}, h("legend", {}, "start")));
  const list = document.createElement("select");
  list.id = "tactic";
  list.append(new Option("as the file has it", ""));
  for (const { id, does, unit } of tactics) {
    const isChosen = id === now?.id;
    list.append(new Option(unit === "" ? `${id}: ${does}` : `${id}, by ${unit}`, id, isChosen, isChosen));
  }
  const dose = element(h("div", { class: "knob" }));
  const offer = (chosen: TacticChoice | undefined, value: number | null): void => {
    dose.replaceChildren();
    if (chosen === undefined || chosen.doses.length === 0) return;
    const slider = document.createElement("input");
    const shown = document.createElement("output");
    slider.type = "range";
    slider.id = "dose";
    [slider.min, slider.max, slider.step] = ["0", String(chosen.doses.length - 1), "1"];
    slider.value = String(Math.max(0, chosen.doses.indexOf(value ?? chosen.doses[0] ?? 0)));
    const tell = (): number => {
      const found = chosen.doses[Number(slider.value)] ?? 0;
      shown.textContent = `${found} ${chosen.unit}`;
      slider.setAttribute("aria-valuetext", shown.textContent);
      return found;
    };
    tell();
    slider.addEventListener("input", () => onChange({ id: chosen.id, dose: tell() }));
    dose.append(element(h("label", { for: "dose" }, "dose")), slider, shown);
  };
  list.addEventListener("change", () => {
    const chosen = tactics.find(({ id }) => id === list.value);
    const middle = chosen === undefined ? undefined : chosen.doses[Math.floor(chosen.doses.length / 4)];
    offer(chosen, middle ?? null);
    onChange(chosen === undefined ? null : { id: chosen.id, dose: middle ?? null });
  });
  offer(
    tactics.find(({ id }) => id === now?.id),
    now?.dose ?? null,
  );
  group.append(row(element(h("label", { for: "tactic" }, "tactic")), list), dose);
  return group;
}
