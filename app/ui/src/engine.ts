// What the page asks of the engine in its worker.

import type { Rec } from "./keep";

declare const WORKER: string; // address of the worker, set by the build

export interface Asked {
  job: string;
  kit?: string;
  entries?: string[];
  records?: Rec[];
  language?: string;
  about?: string;
  question?: string;
  typed?: string;
  sure?: boolean;
  id?: string;
  when?: string;
  by?: string;
}

export interface Problem {
  file: string;
  line?: number;
  column?: number;
  path?: string;
  text?: string;
  message: string;
  hint?: string;
}

/** Trouble is what the engine says instead of an answer. */
export class Trouble extends Error {
  constructor(message: string, readonly problems: Problem[] = []) {
    super(message);
  }
}

interface Reply {
  problems?: Problem[];
  error?: string;
  result?: unknown;
}

let worker: Worker | undefined;
let last = 0;
const waiting = new Map<number, (reply: string) => void>();

function start(): Worker {
  const w = new Worker(WORKER);
  w.onmessage = (e: MessageEvent<{ id: number; reply: string }>) => {
    waiting.get(e.data.id)?.(e.data.reply);
    waiting.delete(e.data.id);
  };
  return w;
}

/** ask puts one question; the answer is of the type that the question gives. */
export async function ask<T>(name: string, asked: Asked): Promise<T> {
  worker ??= start();
  const id = ++last;
  const text = await new Promise<string>((done) => {
    waiting.set(id, done);
    worker!.postMessage({ id, name, asked: JSON.stringify(asked) });
  });
  const reply = JSON.parse(text) as Reply;
  if (reply.problems?.length) throw new Trouble(reply.problems[0]!.message, reply.problems);
  if (reply.error) throw new Trouble(reply.error);
  return reply.result as T;
}

/** latest puts questions of one kind; while one is being answered only the
 * newest of those that came since is kept, so that dragging never queues up. */
export function latest<T>(name: string, done: (result: T) => void, failed: (t: Trouble) => void): (asked: Asked) => void {
  let busy = false;
  let next: Asked | undefined;
  const go = async (asked: Asked): Promise<void> => {
    busy = true;
    try {
      done(await ask<T>(name, asked));
    } catch (err) {
      failed(err instanceof Trouble ? err : new Trouble(String(err)));
    }
    busy = false;
    if (next) {
      const n = next;
      next = undefined;
      void go(n);
    }
  };
  return (asked) => {
    if (busy) next = asked;
    else void go(asked);
  };
}
