import { render } from "preact";
import { App } from "./app";
import { address } from "./places";

// A label's code opens its piece: the address holds job and piece.
const code = new URLSearchParams(location.search);
if (code.get("job")) location.replace("/" + address(code.get("job")!, "desk", (code.get("piece") ?? "").split("/")[0]!));

if ("serviceWorker" in navigator) void navigator.serviceWorker.register("/service-worker.js");
render(<App />, document.getElementById("page")!);
