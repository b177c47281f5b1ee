/** What all charts share: a time axis, the cursor of the clock, readings by pointer and keyboard, a table behind. */
import { marksUpTo, shortNumber } from "./axis.ts";
import type { Clock } from "./clock.ts";
import { element, h, svg } from "./dom.ts";

const HEIGHT = 190;
export const LEFT = 52;
const RIGHT = 12;
const TOP = 10;
const BOTTOM = 24;

export interface Frame2d {
  readonly width: number;
  readonly height: number;
  readonly endMin: number;
  readonly x: (minute: number) => number;
  /** From 0 at the foot to `most`. */
  readonly y: (value: number) => number;
}

export interface Drawing {
  readonly title: string;
  readonly unit: string;
  readonly most: number;
  readonly height?: number;
  /** Without figures up the side. */
  readonly hasRows?: boolean;
  readonly paint: (frame: Frame2d) => readonly SVGElement[];
  /** What the chart says of a moment. */
  readonly read: (minute: number) => string;
  readonly heads: readonly string[];
  readonly row: (minute: number) => readonly string[];
}

export interface Chart {
  readonly draw: (drawing: Drawing, endMin: number) => void;
}

const TABLE_ROWS = 24;

export function chart(host: HTMLElement, clock: Clock): Chart {
  let now: { readonly drawing: Drawing; readonly frame: Frame2d } | null = null;
  let isSeen = true;
  let shownWidth = 0;
  const picture = svg("svg", { class: "picture", tabindex: 0, role: "slider", "aria-valuemin": 0 });
  // Over the picture, not in it: moving it paints nothing anew.
  const cursor = element(h("div", { class: "cursor", "aria-hidden": "true" }));
  const stand = element(h("div", { class: "stand" }));
  const reading = element(h("p", { class: "reading" }));
  const table = document.createElement("details");
  stand.append(picture, cursor);
  host.append(stand, reading, table);
  table.append(element(h("summary", {}, "As a table")));
  table.addEventListener("toggle", fillTable);

  function tell(minute: number): void {
    if (now === null) return;
    reading.textContent = `${shortNumber(minute)} min: ${now.drawing.read(minute)}`;
  }

  function follow(): void {
    if (now === null) return;
    if (!isSeen) return;
    const minute = clock.minute();
    const { endMin, width, x } = now.frame;
    const share = x(Math.min(minute, endMin)) / width;
    cursor.style.transform = `translateX(${(share * shownWidth).toFixed(1)}px)`;
    picture.setAttribute("aria-valuenow", shortNumber(minute));
    tell(minute);
    picture.setAttribute("aria-valuetext", reading.textContent ?? "");
  }

  function minuteAt(event: PointerEvent | MouseEvent): number {
    if (now === null) return 0;
    const { left, width } = picture.getBoundingClientRect();
    const x = ((event.clientX - left) / width) * now.frame.width;
    const share = (x - LEFT) / (now.frame.width - LEFT - RIGHT);
    return Math.max(0, Math.min(1, share)) * now.frame.endMin;
  }

  function fillTable(): void {
    if (now === null || !table.open) return;
    const { drawing, frame } = now;
    table.querySelector(".scroll")?.remove();
    const minutes = Array.from({ length: TABLE_ROWS + 1 }, (_, i) => (frame.endMin * i) / TABLE_ROWS);
    const rows = minutes.map((minute) =>
      h(
        "tr",
        {},
        h("th", { scope: "row" }, shortNumber(minute)),
        ...drawing.row(minute).map((cell) => h("td", {}, cell)),
      ),
    );
    const heads = ["min", ...drawing.heads].map((head) => h("th", { scope: "col" }, head));
    const caption = h("caption", {}, `${drawing.title}, ${drawing.unit}`);
    const whole = h("table", {}, caption, h("thead", {}, h("tr", {}, ...heads)), h("tbody", {}, ...rows));
    const label = { class: "scroll", tabindex: "0", role: "region", "aria-label": `${drawing.title}, table` };
    table.append(element(h("div", label, whole)));
  }

  picture.addEventListener("pointermove", (event) => tell(minuteAt(event)));
  picture.addEventListener("pointerleave", follow);
  picture.addEventListener("click", (event) => clock.set(minuteAt(event) * clock.ticksPerMin()));
  picture.addEventListener("keydown", (event) => {
    const steps: Readonly<Record<string, number>> = { ArrowLeft: -1, ArrowRight: 1, PageDown: -10, PageUp: 10 };
    const step = steps[event.key];
    if (now === null || (step === undefined && event.key !== "Home" && event.key !== "End")) return;
    event.preventDefault();
    const share = (now.frame.endMin * clock.ticksPerMin()) / 100;
    clock.set(event.key === "Home" ? 0 : event.key === "End" ? clock.endTick() : clock.tick() + (step ?? 0) * share);
  });
  clock.onChange(follow);
  new IntersectionObserver((entries) => {
    isSeen = entries.at(-1)?.isIntersecting ?? true;
    follow();
  }).observe(host);

  return {
    draw: (drawing, endMin) => {
      const width = Math.max(260, Math.round(host.clientWidth));
      const height = drawing.height ?? HEIGHT;
      const frame: Frame2d = {
        width,
        height,
        endMin,
        x: (minute) => LEFT + ((width - LEFT - RIGHT) * minute) / endMin,
        y: (value) => height - BOTTOM - ((height - TOP - BOTTOM) * value) / (drawing.most || 1),
      };
      now = { drawing, frame };
      picture.setAttribute("viewBox", `0 0 ${width} ${height}`);
      picture.setAttribute("aria-label", `${drawing.title}, ${drawing.unit}: time`);
      picture.setAttribute("aria-valuemax", shortNumber(endMin));
      picture.replaceChildren(...axes(frame, drawing), ...drawing.paint(frame));
      shownWidth = picture.clientWidth;
      follow();
      fillTable();
    },
  };
}

function axes({ width, height, endMin, x, y }: Frame2d, { most, hasRows = false }: Drawing): SVGElement[] {
  const times = marksUpTo(endMin, Math.floor(width / 90), true).flatMap((minute) => [
    svg("line", { class: "grid", x1: x(minute), x2: x(minute), y1: TOP, y2: height - BOTTOM }),
    svg("text", { class: "tick", x: x(minute), y: height - 8, "text-anchor": "middle" }, shortNumber(minute)),
  ]);
  const values = hasRows
    ? []
    : marksUpTo(most, 4).flatMap((value) => [
        svg("line", { class: "grid", x1: LEFT, x2: width - RIGHT, y1: y(value), y2: y(value) }),
        svg("text", { class: "tick", x: LEFT - 6, y: y(value) + 4, "text-anchor": "end" }, shortNumber(value)),
      ]);
  return [...times, ...values];
}
