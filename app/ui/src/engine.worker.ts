// The engine, away from the page so that a long plan never stops a finger.
// Texts in, texts out, one question at a time and in order.
import "go-glue";

declare const ENGINE: string; // address of the engine, set by the build
declare const Go: new () => { importObject: WebAssembly.Imports; run(i: WebAssembly.Instance): Promise<void> };
declare function stallwright(name: string, asked: string): string;

const scope = self as unknown as DedicatedWorkerGlobalScope;

const ready = (async () => {
  const go = new Go();
  const { instance } = await WebAssembly.instantiateStreaming(fetch(ENGINE), go.importObject);
  void go.run(instance);
})();

scope.onmessage = async (e: MessageEvent<{ id: number; name: string; asked: string }>) => {
  const { id, name, asked } = e.data;
  try {
    await ready;
    scope.postMessage({ id, reply: stallwright(name, asked) });
  } catch (err) {
    scope.postMessage({ id, reply: JSON.stringify({ error: `The engine did not start: ${String(err)}` }) });
  }
};
