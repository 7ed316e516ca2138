/** What the kernel needs of the engine, in place of a browser's library of types. */
declare namespace WebAssembly {
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Instance {
    constructor(module: Module);
    readonly exports: unknown;
  }
  interface Memory {
    readonly buffer: ArrayBuffer;
  }
  class CompileError extends Error {}
}
