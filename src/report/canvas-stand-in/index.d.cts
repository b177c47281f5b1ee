export type { SKRSContext2D } from "@napi-rs/canvas";
export * from "@napi-rs/canvas/node-canvas";
