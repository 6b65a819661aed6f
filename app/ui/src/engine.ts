// What the page asks of the engine in its worker.

import type { Rec } from "./keep";

declare const WORKER: string; // address of the worker, set by the build

export interface Asked {
  job: string;
  kit?: string;
  shop?: Record<string, string>;
  entries?: string[];
  records?: Rec[];
  language?: string;
  about?: string;
  whole?: boolean;
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

/** Engine is one worker with its questions. */
class Engine {
  private readonly worker = new Worker(WORKER);
  private readonly waiting = new Map<number, (reply: string) => void>();
  private last = 0;

  constructor(compiled: WebAssembly.Module | undefined, made: (program: WebAssembly.Module) => void, failed: (why: string) => void) {
    this.worker.onmessage = (e: MessageEvent<{ id: number; reply: string } | { program: WebAssembly.Module } | { failed: string }>) => {
      if ("program" in e.data) return made(e.data.program);
      if ("failed" in e.data) return failed(e.data.failed);
      this.waiting.get(e.data.id)?.(e.data.reply);
      this.waiting.delete(e.data.id);
    };
    this.worker.onerror = (e) => {
      const reply = JSON.stringify({ error: `The engine stopped: ${e.message}` });
      for (const told of this.waiting.values()) told(reply);
      this.waiting.clear();
    };
    this.worker.postMessage({ begin: compiled ?? null });
  }

  put(name: string, asked: string): Promise<string> {
    const id = ++this.last;
    return new Promise((done) => {
      this.waiting.set(id, done);
      this.worker.postMessage({ id, name, asked });
    });
  }
}

/** quick are questions that somebody waits for with a finger on the screen. They
 * have an engine of their own; what takes longer never stands before them. */
const quick = new Set(["sketch", "elevation", "parts", "kit", "choices", "starter", "walk", "answer"]);

interface Pair {
  front: Engine;
  back: Promise<Engine>;
}

let pair: Pair | undefined;

function engines(): Pair {
  if (pair) return pair;
  let front: Engine | undefined;
  const back = new Promise<Engine>((done, fail) => {
    front = new Engine(
      undefined,
      (program) => done(new Engine(program, () => undefined, () => undefined)),
      (why) => {
        pair = undefined; // the next question tries again
        fail(new Trouble(`The engine did not start: ${why}`));
      },
    );
  });
  back.catch(() => undefined); // whoever asks it is told
  pair = { front: front!, back };
  return pair;
}

/** warm fetches the engine before anything is asked of it. */
export function warm(): void {
  engines();
}

/** ask puts one question; the answer is of the type that the question gives. */
export async function ask<T>(name: string, asked: Asked): Promise<T> {
  const engine = quick.has(name) ? engines().front : await engines().back;
  const reply = JSON.parse(await engine.put(name, JSON.stringify(asked))) as Reply;
  if (reply.problems?.length) throw new Trouble(reply.problems[0]!.message, reply.problems);
  if (reply.error) throw new Trouble(reply.error);
  return reply.result as T;
}

/** latest puts questions of one kind; while one is being answered only the
 * newest of those that came since is kept, so that dragging never queues up. What
 * comes with a question comes back with its answer. */
export function latest<T, With>(name: string, done: (result: T, of: With) => void, failed: (t: Trouble, of: With) => void): (asked: Asked, of: With) => void {
  let busy = false;
  let next: [Asked, With] | undefined;
  const go = async (asked: Asked, of: With): Promise<void> => {
    busy = true;
    try {
      done(await ask<T>(name, asked), of);
    } catch (err) {
      failed(err instanceof Trouble ? err : new Trouble(String(err)), of);
    }
    busy = false;
    if (next) {
      const [a, w] = next;
      next = undefined;
      void go(a, w);
    }
  };
  return (asked, of) => {
    if (busy) next = [asked, of];
    else void go(asked, of);
  };
}
