/** A sentence of a study of layouts, with its code. */
import type { LuckFinding } from "../luck/luck-findings.ts";

export type LayoutFindingCode =
  | "recommended"
  | "without-reserve"
  | "choice"
  | "beaten"
  | "infeasible"
  | "if"
  | "lengths"
  | "limits"
  | "over-limits"
  | "primed"
  | "output"
  | "stopped"
  | "unsettled"
  | "unproved"
  | LuckFinding["code"];

export interface LayoutFinding {
  readonly code: LayoutFindingCode;
  readonly text: string;
}
