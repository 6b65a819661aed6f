// The engine, away from the page so that a long plan never stops a finger.
// Texts in, texts out, one question at a time and in order. The first engine reads
// and compiles the program; it hands what it compiled on, so that a second one
// starts at once.
import "go-glue";

declare const ENGINE: string; // address of the engine, set by the build
declare const Go: new () => { importObject: WebAssembly.Imports; run(i: WebAssembly.Instance): Promise<void> };
declare function stallwright(name: string, asked: string): string;

export interface Put {
  id: number;
  name: string;
  asked: string;
}

const scope = self as unknown as DedicatedWorkerGlobalScope;

let begin: (compiled: WebAssembly.Module | undefined) => void;
const ready = new Promise<WebAssembly.Module | undefined>((done) => (begin = done)).then(async (compiled) => {
  const program = compiled ?? (await WebAssembly.compileStreaming(fetch(ENGINE)));
  if (!compiled) scope.postMessage({ program });
  const go = new Go();
  void go.run(await WebAssembly.instantiate(program, go.importObject));
});
ready.catch((err: unknown) => scope.postMessage({ failed: String(err) }));

scope.onmessage = async (e: MessageEvent<Put | { begin: WebAssembly.Module | null }>) => {
  if ("begin" in e.data) {
    begin(e.data.begin ?? undefined);
    return;
  }
  const { id, name, asked } = e.data;
  try {
    await ready;
    scope.postMessage({ id, reply: stallwright(name, asked) });
  } catch (err) {
    scope.postMessage({ id, reply: JSON.stringify({ error: `The engine did not start: ${String(err)}` }) });
  }
};
