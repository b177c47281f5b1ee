/** All pictures of a report. Load this lazily: painting needs a large library. */
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { renderPng } from "../canvas.ts";
import { buffersPicture } from "./buffers.ts";
import type { Picture } from "./frame.ts";
import { holdUpPicture } from "./hold-up.ts";
import { outputPicture } from "./output.ts";
import { statesPicture } from "./states.ts";

export function pictures(result: Result, series: Series): Picture[] {
  return [
    outputPicture(result, series),
    buffersPicture(result, series),
    statesPicture(result, series),
    holdUpPicture(result, series),
  ];
}

/** @returns a PNG */
export function paint(picture: Picture): Uint8Array {
  return renderPng(picture.config, picture.width, picture.height);
}
