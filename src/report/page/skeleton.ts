/** The parts of a page that its script fills. */
import { STATES } from "../chart/palette.ts";
import { type Element, h, named } from "./markup.ts";

const SPEEDS = [1, 10, 60, 300, 1000] as const;

/** @param starts to choose from, of a comparison; `null` for a single run */
export function filmParts(starts: readonly string[] | null, chosen: string | null): Element[] {
  const speeds = SPEEDS.map((speed) =>
    h(
      "option",
      { value: String(speed), ...(speed === 60 ? { selected: "" } : {}) },
      speed === 1 ? "as it is" : `${speed} times as fast`,
    ),
  );
  const films = starts === null ? 1 : 2;
  return [
    h("h2", { id: "replay" }, "The line in motion"),
    ...(starts === null ? [] : [choiceOf(starts, chosen)]),
    h(
      "div",
      { class: "bar" },
      h("button", { id: "play", type: "button", "aria-pressed": "false" }, "Play"),
      h("label", { for: "speed" }, "Speed"),
      h("select", { id: "speed" }, ...speeds),
      h("output", { id: "minute", for: "time" }, "0 min"),
      h("input", { id: "time", type: "range", min: "0", max: "1", step: "1", value: "0", "aria-label": "Time" }),
    ),
    h(
      "div",
      { class: "bar" },
      h("div", { id: "moments", class: "bar" }),
      h("select", { id: "moment", "aria-label": "Go to when a buffer is full" }),
    ),
    h("div", { class: "films" }, ...Array.from({ length: films }, () => h("div", { "data-film": "" }))),
    legend(),
    h("p", { id: "marked", role: "status" }),
  ];
}

function choiceOf(starts: readonly string[], chosen: string | null): Element {
  const options = starts.map((id) =>
    h(
      "label",
      {},
      h("input", { type: "radio", name: "start", value: id, ...(id === (chosen ?? "none") ? { checked: "" } : {}) }),
      " ",
      named(id === "none" ? "nothing done" : id),
    ),
  );
  return h("fieldset", { class: "bar" }, h("legend", {}, "Start, shown beside doing nothing"), ...options);
}

function legend(): Element {
  const box = (state: string): Element =>
    h(
      "svg",
      { width: "18", height: "14", "aria-hidden": "true" },
      h("rect", { width: "18", height: "14", class: `state-${state} key-box` }),
    );
  return h(
    "ul",
    { class: "legend", "aria-label": "Signs" },
    h("li", {}, "left half of a machine: its infeed buffer, empty to full"),
    ...STATES.map((state) => h("li", {}, box(state), state)),
    h("li", {}, "small squares: items; triangles: dividers and merges; the line below: how much of a cycle is done"),
  );
}

const lines = (id: string, path: string): Element =>
  h(
    "pattern",
    { id: `lines-${id}`, width: "6", height: "6", patternUnits: "userSpaceOnUse" },
    h("rect", { width: "6", height: "6", class: `tile-${id}` }),
    h("path", { d: path, class: `tile-line-${id}` }),
  );

const chartHost = (id: string, title: string): Element =>
  h("div", {}, h("h3", {}, title), h("div", { id: `chart-${id}` }));

export const ABOUT_PARTS: readonly Element[] = [
  h(
    "svg",
    { class: "defs", "aria-hidden": "true" },
    h(
      "defs",
      {},
      lines("starved", "M-1 7L7 -1"),
      lines("blocked", "M-1 -1L7 7"),
      lines("down", "M-1 -1L7 7M-1 7L7 -1"),
      lines("held", "M0 3H6"),
    ),
  ),
  h("h2", {}, "Over time"),
  h(
    "p",
    {},
    h("label", {}, h("input", { type: "checkbox", id: "whole" }), " the whole horizon, not the ramp-up alone"),
  ),
  h(
    "div",
    { class: "charts" },
    chartHost("output", "Output, products per minute"),
    chartHost("held", "Items on belts and in buffers"),
    chartHost("buffers", "Infeed buffers, empty to full; a machine of several by its emptiest"),
    chartHost("states", "What machines do"),
  ),
  h("h2", {}, "What if"),
  h(
    "p",
    { class: "about" },
    "The program itself is in this page: what is changed here is simulated anew. What was reported stays behind in grey.",
  ),
  h("p", { class: "busy", role: "status" }, "Stale: the new answer is being worked out."),
  h("div", { id: "answer", "aria-live": "polite" }),
  h("p", { id: "changed", hidden: "" }, h("button", { id: "original", type: "button" }, "Back to what was reported")),
  h("div", { id: "knobs" }),
  h("h2", {}, "The scenario"),
  h(
    "p",
    {},
    h("label", { for: "text" }, "The whole file, checked as it is typed; the address of this page holds it, too."),
  ),
  h("textarea", { id: "text", spellcheck: "false", autocomplete: "off" }),
  h("ul", { id: "messages", "aria-live": "polite", "aria-label": "Messages" }),
  h(
    "p",
    { class: "bar" },
    h("button", { id: "copy", type: "button" }, "Copy"),
    h("button", { id: "save", type: "button" }, "Save as a file"),
    h("button", { id: "result", type: "button" }, "Save its result as JSON"),
  ),
];
