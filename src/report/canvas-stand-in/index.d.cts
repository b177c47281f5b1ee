export * from "@napi-rs/canvas/node-canvas";
