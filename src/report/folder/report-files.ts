/** Names of all files that reports can have. */
import { PICTURE_FILES } from "../pictures.ts";

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

export const REPORT_KINDS: readonly ReportKind[] = [
  {
    files: [...PICTURE_FILES.run, ...TEXT_FILES, ...REPLICATION_FILES],
    marker: "result.json",
    keys: ["settling", "tick_s"],
  },
  {
    files: [
      ...PICTURE_FILES.comparison,
      "choice-loss.png",
      "report.md",
      "report.html",
      "comparison.csv",
      "comparison.json",
      // Only where something is left to chance.
      "differences.csv",
    ],
    marker: "comparison.json",
    keys: ["tactics", "winner"],
  },
  {
    files: [
      ...PICTURE_FILES.best,
      "choice-loss.png",
      "report.md",
      "report.html",
      "starts.yaml",
      "starts.csv",
      "placements.csv",
      "best.json",
    ],
    marker: "best.json",
    keys: ["starts", "recommended"],
  },
  {
    files: [...PICTURE_FILES.growth, "report.md", "growth.csv", "growth.json"],
    marker: "growth.json",
    keys: ["sizes", "group"],
  },
  {
    files: [...PICTURE_FILES.shortage, "report.md", "report.html", "shortage.csv", "shortage.json"],
    marker: "shortage.json",
    keys: ["levels", "feeds"],
  },
  { files: [...PICTURE_FILES.dip, "report.md", "dip.csv", "dip.json"], marker: "dip.json", keys: ["dip", "feeds"] },
  {
    files: [
      ...PICTURE_FILES.layouts,
      "report.md",
      "report.html",
      "layouts.csv",
      "layouts.json",
      // Only where something is left to chance.
      "differences.csv",
    ],
    // Of each layout its scenario and its drawing.
    more: /^(?:today|(?:chain|tree|loop|tree-of-[1-9]\d{0,3}-chains|chain-of-trees-of-[1-9]\d{0,3})(?:-if)?)\.(?:yaml|svg|png)$/,
    marker: "layouts.json",
    keys: ["layouts", "recommended"],
  },
  {
    files: [...PICTURE_FILES.sweep, "report.md", "sweep.csv", "sweep.json"],
    marker: "sweep.json",
    keys: ["quantities", "points"],
  },
  // Of replications or a comparison, for others to be joined with.
  { files: ["part.json"], marker: "part.json", keys: ["study", "shard"] },
  {
    files: [...PICTURE_FILES.fit, "report.md", "fit.csv", "fit.json", "fitted.yaml"],
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
];

export function isFileOf({ files, more }: ReportKind, name: string): boolean {
  return files.includes(name) || (more?.test(name) ?? false);
}
