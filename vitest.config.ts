import { defineConfig } from "vitest/config";

/** Tests that run the built command line; the others take the sources as they are. */
const BUILT = ["test/cli/**/*.test.ts", "test/docs/**/*.test.ts"];

export default defineConfig({
  test: {
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // One fewer than there are cores, unless told otherwise: half of a machine with two.
    maxWorkers: "100%",
    projects: [
      {
        extends: true,
        test: {
          name: "floors",
          // All files of a worker share its modules, which took a second of each file's time; none keeps but what can be made again.
          isolate: false,
          include: ["test/**/*.test.ts"],
          exclude: [...BUILT, "test/pack/**"],
          globalSetup: ["src/engine/core/build.mjs", "src/report/chart-renderer/build.mjs", "src/page/build.mjs"],
        },
      },
      {
        extends: true,
        test: { name: "commands", include: BUILT, globalSetup: "test/global-setup.ts" },
      },
    ],
  },
});
