/** The changed scenario in the address, so that a link holds it. */
import type { Asked } from "./worker-messages.ts";

const HEAD = "#try=";

export async function addressOf(asked: Asked): Promise<string> {
  const stream = new Blob([JSON.stringify(asked)]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return `${HEAD}${btoa(text).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "")}`;
}

/** @returns `null` where the address holds none, or what is none */
export async function askedBy(hash: string): Promise<Asked | null> {
  if (!hash.startsWith(HEAD)) return null;
  try {
    const text = atob(hash.slice(HEAD.length).replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = Uint8Array.from(text, (character) => character.charCodeAt(0));
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
    return checked(JSON.parse(await new Response(stream).text()));
  } catch {
    return null;
  }
}

function checked(value: unknown): Asked | null {
  if (typeof value !== "object" || value === null || !("text" in value) || !("start" in value)) return null;
  const { text, start } = value;
  if (typeof text !== "string") return null;
  if (typeof start !== "object" || start === null || !("id" in start) || !("dose" in start))
    return { text, start: null };
  const { id, dose } = start;
  return typeof id === "string" ? { text, start: { id, dose: typeof dose === "number" ? dose : null } } : null;
}
