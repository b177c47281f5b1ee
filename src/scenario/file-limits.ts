/**
 * What a scenario file may ask for. Far beyond any real plant, and small enough that no file, however made, exhausts
 * memory or time. Quantities have a limit on their digits besides (quantity/units.ts).
 */
import { type Rational, rational, whole } from "../quantity/rational.ts";

/** A custom network of 10,000 belts is about 1 MB of text; reading that much takes a second or two. */
export const MAX_FILE_BYTES = 1024 * 1024;

/** Maps and lists within one another. The format itself needs six; the YAML reader recurses. */
export const MAX_DEPTH = 50;

/** Scalars, maps and lists of a file once aliases stand for what they repeat: a 1 MiB file written out holds fewer. */
export const MAX_VALUES = 600_000;

/** More than anyone corrects at a sitting. */
export const MAX_FINDINGS = 100;

/** Machines in all groups together; each has buffers, counters and recorded curves of its own. */
export const MAX_MACHINES = 20_000;

/** Dividers, merges and belts of all custom lines together. */
export const MAX_CUSTOM_ELEMENTS = 100_000;

/** Dividers, merges and belts that all chains together expand into. */
export const MAX_CHAIN_ELEMENTS = 500_000;

/** Items until the order of a mixed feed's kinds repeats: spread evenly, and in blocks. */
export const MAX_SPREAD_SEQUENCE = 10_000;
export const MAX_BLOCKS_SEQUENCE = 100_000;

/** Items on one belt: at 80 mm a piece, 8 km of it. */
export const MAX_BELT_ITEMS = 100_000;

/** Items on all belts and in all surge buffers together; the engine keeps a cell for each. */
export const MAX_BELT_ITEMS_IN_ALL = 10_000_000;

/** Items in one buffer; also what one cycle may take or make, what one vehicle may bring, and room for it. */
export const MAX_BUFFER_ITEMS = 1_000_000;

/** Item kinds in a file; every buffer, belt and total is kept kind by kind. */
export const MAX_ITEM_KINDS = 64;

/** Of what is needed, that a feed may give. */
export const MAX_SHARE_OF_NEED: Rational = whole(1000);

/** A month: ramp-ups take hours. Also bounds every other duration. */
export const MAX_HORIZON_MIN: Rational = whole(31 * 24 * 60);

/** Beyond a minute, ticks would be longer than most cycles. */
export const MAX_TICK_MIN: Rational = whole(1);

/** Some 17,000 items a second: no belt or feed of countable pieces comes near. */
export const MAX_RATE_PER_MIN: Rational = whole(1_000_000);

export const MAX_LENGTH_M: Rational = whole(10_000);

/** 100 m/s. */
export const MAX_SPEED_M_PER_MIN: Rational = whole(6_000);

/** 1,000 %. */
export const MAX_SPEED_SHARE: Rational = whole(10);

/** Steps of one feed's profile. */
export const MAX_PROFILE_STEPS = 10_000;

/** Each is a run of its own; a comparison of more is no longer read. */
export const MAX_TACTICS = 50;

/** Characters; longer ones don't fit on a picture. */
export const MAX_TITLE_LENGTH = 200;
export const MAX_SEED_LENGTH = 100;

/**
 * Ids and item kinds become column heads, labels and parts of file names: letters, digits, "-" and "_" only. Marks belong to the
 * letters that have no composed form, as the vowels of many scripts.
 */
export const NAME_PATTERN = /^[\p{L}\p{N}][\p{L}\p{N}\p{M}_-]{0,39}$/u;

/** One letter may be written as one sign or as several, as a Mac's file names are; to a reader it is the same (UAX #15, form C). */
export function composed(text: string): string {
  return text.normalize("NFC");
}

/** Shapes of Weibull distributions, between a few extremes and a value that hardly varies; and stages of Erlang ones. */
export const LEAST_SHAPE = 0.1;
export const LARGEST_SHAPE = 100;
export const MAX_STAGES = 100;

/** Items in all buffers together; the engine keeps a cell for each. */
export const MAX_BUFFER_ITEMS_IN_ALL = 20_000_000;

/** What may be allowed to lie anywhere: all that belts and buffers could hold. */
export const MAX_HOLD_UP_ITEMS = MAX_BELT_ITEMS_IN_ALL + MAX_BUFFER_ITEMS_IN_ALL;

/** Dividers that hand over to one another without a belt between: the engine's calls nest as deep. */
export const MAX_DIRECT_DEPTH = 1000;

/** Ticks of one run; the engine counts them in 32 bits. */
export const MAX_TICKS = 1_000_000_000;

/** Ticks times elements, if none can be leapt over: some hours of work. */
export const MAX_RUN_STEPS = 1e12;

/** Of a divider; common practice, no source. */
export const MOST_WAYS = 12;

/** A weighted divider takes so many turns before they repeat at most. */
export const MOST_TURNS = 10_000;

/** Amounts in any currency, of one of anything. */
export const MAX_MONEY: Rational = rational("1000000000000");

/** Starts in a year: one a minute. */
export const MAX_STARTS_PER_YEAR: Rational = whole(365 * 24 * 60);

/** Over which a layout may be weighed. */
export const MAX_YEARS = 100;
