/** What is left to chance as the engine reads it: -1 where there is no stream. */
import type { Distribution } from "../scenario/distribution.ts";

/** In the name of a stream; changing one changes every draw of its streams. */
export type StreamPurpose =
  | "up-time"
  | "repair"
  | "cycles-to-stop"
  | "stop"
  | "cycle"
  | "interval"
  | "jitter"
  | "supply"
  | "outage"
  | "vehicle-interval"
  | "vehicle-jitter"
  | "vehicle-items";

/** `intervals` are shares of what the feed's rate at the time makes the interval; all others are counted in whole numbers. */
export type StreamUnit = "ticks" | "cycles" | "items" | "intervals";

export interface RandomStream {
  /** Its element's id, which with the purpose and the seed names the stream. */
  readonly element: string;
  readonly purpose: StreamPurpose;
  readonly unit: StreamUnit;
  readonly distribution: Distribution<number>;
}

/** What stops by chance: machines by breakdowns and short stops, feeds by outages. */
export type StopWhat = "breakdowns" | "micro-stops" | "outages";

/** One kind of stop that the file states, for a machine, a group of them or a feed. */
export interface StopKind {
  readonly what: StopWhat;
  /** Id of the machine, group or feed. */
  readonly of: string;
  /** Places of the machines or feeds. */
  readonly members: readonly number[];
  /** About how many there are a minute of all members together, at most, by what the file states. */
  readonly perMin: number;
}

/** Streams by index, and which of them each machine and feed draws from. */
export interface RandomProgram {
  readonly streams: readonly RandomStream[];
  readonly stops: readonly StopKind[];
  readonly machine: {
    /** From a repair's end, or the start, to the next breakdown; present exactly where `repair` is. */
    readonly upTime: Int32Array;
    readonly repair: Int32Array;
    /** 1 where up-time passes whether the machine runs or not. */
    readonly countsClock: Uint8Array;
    /** Cycles up to the one at whose start the machine stops, that one included; present exactly where `stop` is. */
    readonly cyclesToStop: Int32Array;
    readonly stop: Int32Array;
    readonly cycle: Int32Array;
  };
  readonly feed: {
    readonly interval: Int32Array;
    readonly jitter: Int32Array;
    /** From an outage's end, or the start, to the next outage; present exactly where `outage` is. */
    readonly supply: Int32Array;
    readonly outage: Int32Array;
    readonly vehicleInterval: Int32Array;
    readonly vehicleJitter: Int32Array;
    readonly vehicleItems: Int32Array;
  };
}
