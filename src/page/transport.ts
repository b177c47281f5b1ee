/** Play, pause, speeds, the slider over time, and moments to go to. */
import { shortNumber } from "./axis.ts";
import type { Clock } from "./clock.ts";
import { element, h, the } from "./dom.ts";
import type { Moment } from "./moments.ts";

export interface Transport {
  readonly offer: (moments: readonly Moment[]) => void;
}

export function transport(clock: Clock): Transport {
  const play = the("play", HTMLButtonElement);
  const slider = the("time", HTMLInputElement);
  const speed = the("speed", HTMLSelectElement);
  const shown = the("minute", HTMLOutputElement);
  const buttons = the("moments", HTMLDivElement);
  const list = the("moment", HTMLSelectElement);
  const calm = matchMedia("(prefers-reduced-motion: reduce)");
  let playing: { at: number; ticks: number } | null = null;

  function label(): void {
    play.textContent = playing === null ? "Play" : "Pause";
    play.setAttribute("aria-pressed", String(playing !== null));
  }

  function stop(): void {
    playing = null;
    label();
  }

  function step(now: number): void {
    if (playing === null) return;
    const seconds = (now - playing.at) / 1000;
    // For who wants little motion: a still picture a second.
    if (!calm.matches || seconds >= 1) {
      const ticks = playing.ticks + (Math.min(seconds, 1) * Number(speed.value) * clock.ticksPerMin()) / 60;
      playing = { at: now, ticks };
      clock.set(Math.floor(ticks));
      if (ticks >= clock.endTick()) stop();
    }
    requestAnimationFrame(step);
  }

  function toggle(): void {
    if (playing !== null) {
      stop();
      return;
    }
    const from = clock.tick() >= clock.endTick() ? 0 : clock.tick();
    playing = { at: 0, ticks: from };
    label();
    requestAnimationFrame((now) => {
      playing = { at: now, ticks: from };
      step(now);
    });
  }

  play.addEventListener("click", toggle);
  slider.addEventListener("input", () => {
    stop();
    clock.set(Number(slider.value));
  });
  list.addEventListener("change", () => {
    if (list.value !== "") clock.set(Number(list.value) * clock.ticksPerMin());
  });
  document.addEventListener("keydown", (event) => {
    const { target } = event;
    const isTyping = target instanceof HTMLElement && /^(?:INPUT|TEXTAREA|SELECT|BUTTON|SUMMARY)$/.test(target.tagName);
    if (event.key !== " " || isTyping || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    toggle();
  });
  clock.onChange(() => {
    slider.max = String(clock.endTick());
    slider.value = String(clock.tick());
    const minute = `${clock.minute().toFixed(clock.minute() < 100 ? 1 : 0)} min`;
    if (shown.textContent !== minute) shown.textContent = minute;
    slider.setAttribute("aria-valuetext", minute);
  });

  return {
    offer: (moments) => {
      const main = moments.filter(({ isOneOfMany }) => !isOneOfMany);
      buttons.replaceChildren(
        ...main.map(({ name, minute }) => {
          const button = element(h("button", { type: "button" }, `${name}, ${shortNumber(minute)} min`));
          button.addEventListener("click", () => {
            stop();
            clock.set(minute * clock.ticksPerMin());
          });
          return button;
        }),
      );
      const many = moments.filter(({ isOneOfMany }) => isOneOfMany);
      list.replaceChildren(
        element(h("option", { value: "" }, "a buffer is full …")),
        ...many.map(({ name, minute }) =>
          element(h("option", { value: String(minute) }, `${name}, ${shortNumber(minute)} min`)),
        ),
      );
      list.hidden = many.length === 0;
    },
  };
}
