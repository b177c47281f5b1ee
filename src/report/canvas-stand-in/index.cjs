module.exports = require("@napi-rs/canvas/node-canvas");
