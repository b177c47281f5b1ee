/** Names of all files that reports can have. */
export const PICTURE_FILES = ["output.png", "buffers.png", "states.png", "hold-up.png", "surges.png"] as const;
const TEXT_FILES = ["report.md", "report.html", "result.json", "machines.csv", "series.csv"] as const;
/** Only of several runs under chance. */
const REPLICATION_FILES = ["replications.csv", "replications-series.csv"] as const;

/** A kind of report folder. */
export interface ReportKind {
  readonly files: readonly string[];
  /** Whole names of further files, of which there may be any number. */
  readonly more?: RegExp;
  /** The file by which a folder is known as ours, and keys that the object in it has. */
  readonly marker: string;
  readonly keys: readonly string[];
}

const KINDS = [
  {
    files: [...PICTURE_FILES, ...TEXT_FILES, ...REPLICATION_FILES],
    marker: "result.json",
    keys: ["settling", "tick_s"],
  },
  {
    files: [
      "choice.png",
      "choice-loss.png",
      "output.png",
      "made.png",
      "missing.png",
      "report.md",
      "report.html",
      "comparison.csv",
      "comparison.json",
      // Only where something is left to chance.
      "differences.png",
      "differences.csv",
    ],
    marker: "comparison.json",
    keys: ["tactics", "winner"],
  },
  {
    files: [
      "choice.png",
      "choice-loss.png",
      "output.png",
      "made.png",
      "missing.png",
      "placements.png",
      "report.md",
      "report.html",
      "starts.yaml",
      "starts.csv",
      "placements.csv",
      "best.json",
      // Only where something is left to chance.
      "differences.png",
    ],
    marker: "best.json",
    keys: ["starts", "recommended"],
  },
  {
    files: ["growth.png", "growth-items.png", "report.md", "growth.csv", "growth.json"],
    marker: "growth.json",
    keys: ["sizes", "group"],
  },
  {
    files: ["shortage.png", "evenness.png", "report.md", "report.html", "shortage.csv", "shortage.json"],
    marker: "shortage.json",
    keys: ["levels", "feeds"],
  },
  { files: ["dip.png", "report.md", "dip.csv", "dip.json"], marker: "dip.json", keys: ["dip", "feeds"] },
  {
    files: [
      "choice.png",
      "output.png",
      "report.md",
      "report.html",
      "layouts.csv",
      "layouts.json",
      // Only where something is left to chance.
      "differences.png",
      "differences.csv",
    ],
    // Of each layout its scenario and its drawing.
    more: /^(?:today|(?:chain|tree|loop|tree-of-[1-9]\d{0,3}-chains|chain-of-trees-of-[1-9]\d{0,3})(?:-if)?)\.(?:yaml|svg|png)$/,
    marker: "layouts.json",
    keys: ["layouts", "recommended"],
  },
  {
    files: ["settling.png", "loss.png", "output.png", "report.md", "sweep.csv", "sweep.json"],
    marker: "sweep.json",
    keys: ["quantities", "points"],
  },
  // Of replications or a comparison, for others to be joined with.
  { files: ["part.json"], marker: "part.json", keys: ["study", "shard"] },
  {
    files: ["made.png", "levels.png", "residuals.png", "report.md", "fit.csv", "fit.json", "fitted.yaml"],
    // One for each unknown.
    more: /^profile-[1-9]\.png$/,
    marker: "fit.json",
    keys: ["unknowns", "chi_square"],
  },
  {
    files: ["drawing.svg", "drawing.png", "drawing.json", "to-scale.json"],
    // Of each line its floor.
    more: /^to-scale(?:-[1-9]\d{0,3})?\.(?:svg|png)$/,
    marker: "drawing.json",
    keys: ["elements", "belts"],
  },
] as const satisfies readonly ReportKind[];
export const REPORT_KINDS: readonly ReportKind[] = KINDS;

/** Names that a picture may have: one that no kind of report knows does not compile. */
export type PictureFile = Extract<(typeof KINDS)[number]["files"][number], `${string}.png`> | `profile-${number}.png`;

export function isFileOf({ files, more }: ReportKind, name: string): boolean {
  return files.includes(name) || (more?.test(name) ?? false);
}
