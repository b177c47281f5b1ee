/** What is used of the WebAssembly JavaScript interface (W3C), which TypeScript declares only for browsers. */
declare namespace WebAssembly {
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Memory {
    constructor(descriptor: { readonly initial: number });
    readonly buffer: ArrayBuffer;
    grow(pages: number): number;
  }
  class Global {
    value: number;
  }
  class Instance {
    constructor(
      module: Module,
      imports: Record<string, Record<string, number | Memory | ((...args: number[]) => unknown)>>,
    );
    readonly exports: Readonly<Record<string, unknown>>;
  }
}
