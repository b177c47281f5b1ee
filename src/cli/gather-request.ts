/** What gather is asked for, and how it names what is missing. */
export interface GatherOptions {
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
}

const MOST_NAMED = 8;

/** As far as a few. */
export function named(list: readonly (number | string)[]): string {
  return list.length > MOST_NAMED ? `${list.slice(0, MOST_NAMED).join(", ")}, …` : list.join(", ");
}
