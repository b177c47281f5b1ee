/** Names of all files that a report can have. */
export const PICTURE_FILES = ["output.png", "buffers.png", "states.png", "hold-up.png"] as const;
export const TEXT_FILES = ["report.md", "result.json", "machines.csv", "series.csv"] as const;
export type PictureFile = (typeof PICTURE_FILES)[number];
