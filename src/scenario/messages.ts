/**
 * The prose of every finding, and nowhere else: here and in the files of messages that this one joins. An entry names its
 * severity, the arguments it needs (checked where findings are made) and the sentence. Other floors add their codes there.
 */
import { FILE_MESSAGES } from "./file-messages.ts";
import type { Entry, Severity } from "./message-parts.ts";
import { OBSERVED_MESSAGES } from "./observed-messages.ts";
import { PLANT_MESSAGES } from "./plant-messages.ts";
import { RANDOM_MESSAGES } from "./random-messages.ts";
import { TABLE_MESSAGES } from "./table-messages.ts";

export { FOUND, type Severity } from "./message-parts.ts";

export const catalogue = {
  ...FILE_MESSAGES,
  ...PLANT_MESSAGES,
  ...RANDOM_MESSAGES,
  ...OBSERVED_MESSAGES,
  ...TABLE_MESSAGES,
};

type Catalogue = typeof catalogue;
export type Code = keyof Catalogue;
/** The arguments that a code's sentence needs. */
export type ArgsOf<C extends Code> = Catalogue[C] extends Entry<infer K> ? Readonly<Record<K, string>> : never;

export function severityOf(code: Code): Severity {
  return catalogue[code].severity;
}

export function sentence(code: Code, args: Readonly<Record<string, string>>): string {
  return catalogue[code].write((name: string) => args[name] ?? "");
}
