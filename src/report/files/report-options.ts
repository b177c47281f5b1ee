/** What every report is asked. */
import type { PageSource } from "../answer/printed.ts";

export interface ReportOptions {
  /** Whether to paint pictures; without them a report takes no time. */
  readonly charts: boolean;
  /** What the page reads again; without it there is none. */
  readonly source?: PageSource;
}
