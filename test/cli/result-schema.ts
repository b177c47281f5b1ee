/** Holds what `--json` prints against the contracts, each written down by itself as a JSON Schema. */
import { Ajv2020, type ValidateFunction } from "ajv/dist/2020.js";
import { BEST as BEST_SCHEMA } from "../../src/cli/schemas/best.ts";
import { LAYOUTS as LAYOUTS_SCHEMA } from "../../src/cli/schemas/layouts.ts";
import { RUN as RUN_SCHEMA } from "../../src/cli/schemas/run.ts";
import { SIZE as SIZE_SCHEMA } from "../../src/cli/schemas/size.ts";

/** @returns what is wrong, nothing if all is well */
export function faultsOf(result: unknown): string[] {
  return faults(RESULT, result);
}

/** Of `layouts --json`. */
export function layoutsFaultsOf(study: unknown): string[] {
  return faults(LAYOUTS, study);
}

/** Of `best --json`. */
export function bestFaultsOf(study: unknown): string[] {
  return faults(BEST, study);
}

/** Of `size --json`. */
export function sizeFaultsOf(size: unknown): string[] {
  return faults(SIZE, size);
}

const RESULT = contract(RUN_SCHEMA);
const LAYOUTS = contract(LAYOUTS_SCHEMA);
const BEST = contract(BEST_SCHEMA);
const SIZE = contract(SIZE_SCHEMA);

function contract(schema: object): ValidateFunction {
  return new Ajv2020({ allErrors: true, strict: true, strictTypes: false, strictRequired: false }).compile(schema);
}

function faults(validate: ValidateFunction, value: unknown): string[] {
  validate(value);
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath || "/"} ${message ?? ""}`);
}
