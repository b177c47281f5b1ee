import { formatFinding, UnplayableError, unplayableText } from "../index.ts";
import { RefusedError } from "./exit.ts";

/** @throws RefusedError where a tactic asks for a line that cannot be simulated */
export function playable<T>(file: string, study: () => T): T {
  try {
    return study();
  } catch (error) {
    if (!(error instanceof UnplayableError)) throw error;
    const reasons = error.findings.map((finding) => formatFinding(finding, file));
    const message = [`${file}: ${unplayableText(error.played)}:`, ...reasons].join("\n");
    throw new RefusedError(message, { file, findings: error.findings });
  }
}
