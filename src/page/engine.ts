/** Workers made from the engine that the page holds: asked by messages, answered one after the other. */
import type { Ask, Posted, Replied, Replies, Request, Source } from "./worker-messages.ts";

export interface Engine {
  readonly ask: <A extends Ask>(request: Extract<Request, { ask: A }>) => Promise<Replies[A]>;
}

/** The engine's script, which the page holds packed (gzip, in base64). */
export async function unpacked(packed: string): Promise<string> {
  const bytes = Uint8Array.from(atob(packed), (character) => character.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).text();
}

interface Waiting {
  /** With what the worker has posted, which has no type: it is of the same build and answers what it is asked. */
  readonly done: (message: MessageEvent) => void;
  readonly failed: (why: Error) => void;
}

export function startEngine(script: string, source: Source): Engine {
  const worker = new Worker(URL.createObjectURL(new Blob([script], { type: "text/javascript" })));
  const waiting = new Map<number, Waiting>();
  let next = 0;
  worker.addEventListener("message", (message: MessageEvent<Replied>) => {
    const { id, failure } = message.data;
    const asked = waiting.get(id);
    waiting.delete(id);
    if (failure === undefined) asked?.done(message);
    else asked?.failed(new Error(failure));
  });
  worker.addEventListener("error", ({ message }) => {
    for (const { failed } of waiting.values()) failed(new Error(message));
    waiting.clear();
  });
  const ask: Engine["ask"] = (request) =>
    new Promise((done, failed) => {
      const posted: Posted = { id: next++, request };
      waiting.set(posted.id, { done: ({ data }) => done(data.reply), failed });
      worker.postMessage(posted);
    });
  void ask({ ask: "source", source });
  return { ask };
}
