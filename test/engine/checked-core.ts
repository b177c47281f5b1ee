/** The core in a build for tests: it looks at every index and at every address of a record, and keeps its assertions. */
import { vi } from "vitest";

type Kinds = Readonly<Record<string, string>>;
type Tables = Readonly<Record<"ARRAYS" | "NUMBERS" | "RECORDS", Readonly<Record<string, Kinds>>>>;

const CORE = new URL("../../src/engine/core/", import.meta.url);
const { compile }: { compile: (made: Kinds, options: readonly string[]) => Promise<Uint8Array> } = await import(
  new URL("build.mjs", CORE).href
);
const { readTables, refOf, recordsIn, TYPES }: FromTables = await import(new URL("from-tables.mjs", CORE).href);

interface FromTables {
  readonly readTables: () => Promise<Tables>;
  readonly refOf: (kind: string) => { readonly record: string; readonly type: string } | null;
  readonly recordsIn: (kind: string) => string | undefined;
  readonly TYPES: Kinds;
}

const CHECKS = `
@external("checks", "wrong") declare function wrong(array: i32, index: i32, length: i32): void;
export function look(index: i32, length: i32, array: i32): usize {
  if (<u32>index >= <u32>length) wrong(array, index, length);
  return <usize>index;
}
export function lookAt(address: usize, first: usize, words: i32, bytes: usize, array: i32): usize {
  const count = <i32>((<usize>words << 2) / bytes);
  const index = <i32>(address - first) / <i32>bytes;
  if (address < first || (address - first) % bytes !== 0) wrong(array, -1, count);
  look(index, count, array);
  return address;
}
`;

/** Of elements: how they are read and written, and how many bits of an index the bytes of one take. */
const ELEMENTS = { ints: ["i32", "i32", 2], bytes: ["i32", "u8", 0], sums: ["f64", "f64", 3] } as const;

function sourcesFrom({ ARRAYS, NUMBERS, RECORDS }: Tables): { made: Kinds; names: readonly string[] } {
  const arrays = Object.values(ARRAYS).flatMap((group) => Object.entries(group));
  const names = arrays.map(([name]) => name);
  const arrayOf = new Map(arrays.flatMap(([name, kind]) => [[recordsIn(kind) ?? "", name]]));
  const declared = (name: string): string => `@external("at", "${name}") declare const ${name}At: usize;
    @external("length", "${name}") declare const ${name}Length: i32;`;
  /** The record at an address, looked at. */
  const found = (kind: string, address: string): string => {
    const { record = "", type = "" } = refOf(kind) ?? {};
    const there = `${record.toLowerCase()}At(<i32>${address})`;
    return type === record ? `return ${there};` : `return ${address} === 0 ? null : ${there};`;
  };
  const arrayClass = (name: string, kind: string, length: string, which: number): string => {
    const ref = refOf(kind);
    const [type, stored, bits] = ELEMENTS[kind === "sums" || kind === "bytes" ? kind : "ints"];
    const element = `changetype<usize>(this) + (look(i, ${length}, ${which}) << ${bits})`;
    const read = `load<${ref ? "usize" : stored}>(${element})`;
    return `@unmanaged export class ${name} {
      @operator("[]") at(i: i32): ${ref?.type ?? type} {
        ${ref ? `const address = ${read}; ${found(kind, "address")}` : `return ${read};`}
      }
      @operator("[]=") put(i: i32, value: ${type}): void { store<${stored}>(${element}, value); }
    }`;
  };
  const recordClass = (record: string, kinds: Kinds): string => {
    const fields = Object.entries(kinds).map(([name, kind]) => {
      const type = kind.startsWith("bytes") ? "Allowed | null" : refOf(kind)?.type;
      if (type === undefined) return `${name}: ${TYPES[kind]};`;
      return `${name}Address: usize;
        get ${name}(): ${type} {
          ${type === "Allowed | null" ? `return changetype<${type}>(this.${name}Address);` : found(kind, `this.${name}Address`)}
        }
        set ${name}(to: ${type}) { this.${name}Address = changetype<usize>(to); }`;
    });
    const array = arrayOf.get(record) ?? "";
    const which = names.indexOf(array);
    return `@unmanaged export class ${record} { ${fields.join("\n")} }
      ${declared(array)}
      export function ${record.toLowerCase()}Number(i: i32): ${record} {
        return changetype<${record}>(${array}At + look(i, (${array}Length << 2) / <i32>offsetof<${record}>(), ${which}) * offsetof<${record}>());
      }
      export function ${record.toLowerCase()}At(address: i32): ${record} {
        return changetype<${record}>(lookAt(<usize>address, ${array}At, ${array}Length, offsetof<${record}>(), ${which}));
      }`;
  };
  const lookUps = Object.keys(RECORDS).flatMap((record) => [
    `${record.toLowerCase()}Number`,
    `${record.toLowerCase()}At`,
  ]);
  const memory = arrays.flatMap(([name, kind], which) =>
    recordsIn(kind) === undefined
      ? [
          declared(name),
          arrayClass(`Array${which}`, kind, `${name}Length`, which),
          `export const ${name} = changetype<Array${which}>(${name}At);`,
        ]
      : [],
  );
  const numbers = Object.values(NUMBERS).flatMap((group) =>
    Object.entries(group).map(([name, kind]) => `export declare const ${name}: ${TYPES[kind]};`),
  );
  const made = {
    "checks.ts": CHECKS,
    "memory.ts": [
      'import { look } from "./checks";',
      `import { ${[...Object.keys(RECORDS), ...lookUps].join(", ")} } from "./records";`,
      `export { ${lookUps.join(", ")} };`,
      ...numbers,
      ...memory,
    ].join("\n"),
    "records.ts": [
      'import { look, lookAt } from "./checks";',
      '@external("memory", "itemCount") declare const itemCount: i32;',
      arrayClass("Allowed", "bytes", "itemCount", names.indexOf("allows")),
      ...Object.entries(RECORDS).map(([record, kinds]) => recordClass(record, kinds)),
    ].join("\n"),
  };
  return { made, names };
}

/** Data, and how many pieces of it there are. */
const DATA_SECTIONS = [11, 12];

/** Without the texts of assertions, which would lie where arrays do. A module is 8 bytes, then sections: a number, a length, so many bytes. */
function withoutData(binary: Uint8Array): Buffer {
  const kept = [binary.subarray(0, 8)];
  let at = 8;
  while (at < binary.length) {
    const start = at++;
    let [length, shift] = [0, 0];
    for (let byte = 128; byte >= 128; shift += 7) {
      byte = binary[at++] ?? 0;
      length |= (byte & 127) << shift;
    }
    at += length;
    if (!DATA_SECTIONS.includes(binary[start] ?? 0)) kept.push(binary.subarray(start, at));
  }
  return Buffer.concat(kept);
}

/**
 * The engine's modules anew, on such a core.
 * @throws RangeError there, wherever an index or an address is wrong: `feedTurn[3]: there are 2`
 */
export async function checkedEngine() {
  const { made, names } = sourcesFrom(await readTables());
  const binary = withoutData(await compile(made, ["--use", "abort=", "--optimizeLevel", "2"]));
  const wrong = (array: number, index: number, length: number): never => {
    throw new RangeError(`${names[array]}[${index}]: there are ${length}`);
  };
  const { Instance } = WebAssembly;
  class CheckedInstance extends Instance {
    constructor(...[module, imports]: ConstructorParameters<typeof WebAssembly.Instance>) {
      super(module, { ...imports, checks: { wrong } });
    }
  }
  // The usual core asks for less, and runs in these too.
  Reflect.set(WebAssembly, "Instance", CheckedInstance);
  vi.resetModules();
  vi.doMock("../../src/engine/core-binary.ts", () => ({ CORE_BASE64: binary.toString("base64") }));
  const { simulate } = await import("../../src/engine/simulate.ts");
  vi.doUnmock("../../src/engine/core-binary.ts");
  vi.resetModules();
  return { simulate, release: () => Reflect.set(WebAssembly, "Instance", Instance) };
}
