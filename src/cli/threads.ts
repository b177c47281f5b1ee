/** Worker threads. The package for them is an ES module, which not every Node lets others require. */
import type Tinypool from "tinypool";

/** @param file of the bundle; what `run` of the pool names are its functions */
export async function threads(file: string, given: unknown, jobs: number): Promise<Tinypool> {
  const { default: Pool } = await import("tinypool");
  const filename = new URL(file, import.meta.url).href;
  return new Pool({ filename, workerData: given, minThreads: jobs, maxThreads: jobs });
}

/** In a worker thread: what all of them are given. */
export async function givenToThread<Given>(): Promise<Given> {
  const { default: Pool } = await import("tinypool");
  const given: Given = Pool.workerData;
  return given;
}
