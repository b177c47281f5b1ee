/** One thing that a result says. Programs go by the code; the text is for people. */
export type FindingCode =
  | "settled"
  | "stopped"
  | "tolerance"
  | "flow"
  | "loss"
  | "stretch"
  | "sensitivity"
  | "fragile"
  | "last"
  | "short"
  | "bottleneck"
  | "cure"
  | "wait"
  | "jam"
  | "mix"
  | "feed-held"
  | "changing"
  | "line"
  | "headroom"
  | "hold-up"
  | "dwell"
  | "cut"
  | "outlet"
  | "batch"
  | "limit"
  | "warning"
  // Under chance.
  | "sure"
  | "more"
  | "gate"
  // Of replications.
  | "made"
  | "until"
  | "tick"
  | "without-rare"
  | "unfinished"
  | "time"
  | "uptime"
  | "median";

export interface Finding {
  readonly code: FindingCode;
  readonly text: string;
}
