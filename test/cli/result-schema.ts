/** Holds a result against result.schema.json, the contract of `--json` written down by itself. */
import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";

const schema: unknown = JSON.parse(readFileSync(new URL("./result.schema.json", import.meta.url), "utf8"));
const validate = new Ajv2020({ allErrors: true, strict: true, strictTypes: false, strictRequired: false }).compile(
  typeof schema === "object" && schema !== null ? schema : false,
);

/** @returns what is wrong, nothing if all is well */
export function faultsOf(result: unknown): string[] {
  validate(result);
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath || "/"} ${message ?? ""}`);
}
