// Preloaded into a command: leaves its processor time, all threads together, in the file that FILLFRONT_CPU names.
const { isMainThread } = require("node:worker_threads");
if (isMainThread) {
  process.on("exit", () => {
    const { user, system } = process.cpuUsage();
    require("node:fs").writeFileSync(process.env.FILLFRONT_CPU, String((user + system) / 1e6));
  });
}
