/** What the core and the host know of the core's memory, as sources made from its tables: ../core-arrays.ts, ../core-records.ts. */
import { readFileSync } from "node:fs";

/** Of the tables: what the core calls each kind. */
export const TYPES = {
  int: "i32",
  address: "usize",
  ints: "Ints",
  bytes: "Bytes",
  sums: "Sums",
  "bytes by kind or none": "Bytes | null",
};

/** @param {string} kind @returns the record to which it is an address, and the type of what is there; null where it is none */
export function refOf(kind) {
  const [, record, orNone] = /^to (\w+)( or none)?$/.exec(kind) ?? [];
  return record ? { record, type: orNone ? `${record} | null` : record } : null;
}

/** @returns the record of which an array has one after the other, or undefined */
export function recordsIn(kind) {
  return / records$/.test(kind) ? kind.split(" ")[0] : undefined;
}

/** @returns {Promise<typeof import("../core-arrays.ts") & typeof import("../core-records.ts")>} */
export async function readTables() {
  const { default: ts } = await import("typescript");
  const tables = ["../core-arrays.ts", "../core-records.ts"].map((name) => {
    const text = readFileSync(new URL(name, import.meta.url), "utf8");
    const { outputText } = ts.transpileModule(text, { compilerOptions: { module: ts.ModuleKind.ESNext } });
    return import(`data:text/javascript,${encodeURIComponent(outputText)}`);
  });
  return Object.assign({}, ...(await Promise.all(tables)));
}

/** By path from here. */
export function sourcesFrom({ ARRAYS, NUMBERS, RECORDS }) {
  const linesOf = (table, lineOf) => Object.values(table).flatMap((group) => Object.entries(group).map(lineOf));
  const declared = (name, type) => `export declare const ${name}: ${type};`;
  const addresses = linesOf(ARRAYS, ([name]) => declared(name, "usize"));
  const numbers = linesOf(NUMBERS, ([name, kind]) => declared(name, TYPES[kind]));
  const arrays = linesOf(ARRAYS, ([name, kind]) => {
    const record = recordsIn(kind);
    if (record) return lookUps(record, `at.${name}`);
    return `export const ${name} = changetype<${TYPES[kind] ?? `Refs<${refOf(kind).type}>`}>(at.${name});`;
  });
  const fields = (record) =>
    Object.entries(RECORDS[record]).map(([name, kind]) => `  ${name}: ${TYPES[kind] ?? refOf(kind).type};`);
  const classes = Object.keys(RECORDS).map(
    (name) => `@unmanaged\nexport class ${name} {\n${fields(name).join("\n")}\n}`,
  );
  return {
    "at.ts": module("core-arrays", addresses),
    "memory.ts": module("core-arrays", [
      'import * as at from "./at";',
      'import { Bytes, Ints, Refs, Sums } from "./arrays";',
      `import { ${Object.keys(RECORDS).join(", ")} } from "./records";`,
      ...numbers,
      ...arrays,
    ]),
    "records.ts": module("core-records", ['import { Bytes } from "./arrays";', ...classes]),
    "../record-offsets.ts": module("core-records", Object.entries(RECORDS).map(offsets)),
  };
}

function module(table, lines) {
  return `/** Made from engine/${table}.ts by engine/core/build.mjs. */\n${lines.join("\n")}\n`;
}

/** A record by its number, and by its address. */
function lookUps(record, at) {
  const name = record.toLowerCase();
  return [
    `export function ${name}Number(i: i32): ${record} { return changetype<${record}>(${at} + <usize>i * offsetof<${record}>()); }`,
    `export function ${name}At(address: i32): ${record} { return changetype<${record}>(address); }`,
  ].join("\n");
}

/** A word each. */
function offsets([record, fields]) {
  const name = record.toUpperCase();
  const all = Object.keys(fields).map((field, i) => `${field}: ${i}`);
  return `export const ${name} = { ${all.join(", ")} } as const;\nexport const ${name}_INTS = ${all.length};`;
}
