import { render } from "preact";
import { App } from "./app";
import { openLanguage } from "./language";
import { address } from "./places";

// A label's code opens its piece: the address holds job and piece.
const code = new URLSearchParams(location.search);
if (code.get("job")) location.replace("/" + address(code.get("job")!, "desk", code.get("piece") ?? ""));

// What keeps the pages for later is fetched once the first of them stands. Without it
// there is no page without signal, and nothing else is lost.
if ("serviceWorker" in navigator) {
  const keepPages = (): void => void navigator.serviceWorker.register("/service-worker.js").catch(() => undefined);
  const idle = window.requestIdleCallback as typeof requestIdleCallback | undefined; // not every browser has it
  if (idle) idle(keepPages, { timeout: 2_000 });
  else setTimeout(keepPages, 1_000);
}
void openLanguage().finally(() => render(<App />, document.getElementById("page")!));
