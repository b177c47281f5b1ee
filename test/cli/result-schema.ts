/** Holds what `--json` prints against the contracts, each written down by itself as a JSON Schema. */
import { readFileSync } from "node:fs";
import { Ajv2020, type ValidateFunction } from "ajv/dist/2020.js";

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

const RESULT = contract("result.schema.json");
const LAYOUTS = contract("layouts.schema.json");
const BEST = contract("best.schema.json");
const SIZE = contract("size.schema.json");

function contract(name: string): ValidateFunction {
  const schema: unknown = JSON.parse(readFileSync(new URL(`../../src/cli/${name}`, import.meta.url), "utf8"));
  return new Ajv2020({ allErrors: true, strict: true, strictTypes: false, strictRequired: false }).compile(
    typeof schema === "object" && schema !== null ? schema : false,
  );
}

function faults(validate: ValidateFunction, value: unknown): string[] {
  validate(value);
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath || "/"} ${message ?? ""}`);
}
