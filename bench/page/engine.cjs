// Measures what one question takes of the engine's processor time, in node with the
// engine as the pages load it. In the top folder, after the pages are built:
//   node --stack-size=4096 bench/page/engine.cjs app/ui/dist/assets/engine-*.wasm sketch 40
// A bay of twenty stalls has another fill each time.
const { execFileSync } = require("node:child_process");
const { readFileSync } = require("node:fs");
const { join } = require("node:path");

const [file, question, count] = [process.argv[2], process.argv[3] ?? "sketch", Number(process.argv[4] ?? 40)];
require(join(execFileSync("go", ["env", "GOROOT"], { encoding: "utf8" }).trim(), "lib/wasm/wasm_exec.js"));

const stalls = readFileSync(join(__dirname, "twenty.yaml"), "utf8");
const twenty = (fill) => `${stalls}bays: {A2-A3: {fill: ${fill}}}\n`;

const fills = ["boards", "grille", "window"]; // more than the engine keeps worked out

function ask(i) {
  const reply = JSON.parse(stallwright(question, JSON.stringify({ job: twenty(fills[i % fills.length]), about: "A2-A3" })));
  if (reply.error || reply.problems) throw new Error(JSON.stringify(reply).slice(0, 300));
}

(async () => {
  const go = new Go();
  const { instance } = await WebAssembly.instantiate(readFileSync(file), go.importObject);
  void go.run(instance);
  for (let i = 0; i < count; i++) ask(i); // the compiler of the browser warms to it
  const before = process.cpuUsage();
  const times = [];
  for (let i = 0; i < count; i++) {
    const begun = performance.now();
    ask(i);
    times.push(performance.now() - begun);
  }
  const took = process.cpuUsage(before);
  times.sort((a, b) => a - b);
  console.log(`${question}: ${((took.user + took.system) / 1000 / count).toFixed(1)} ms of processor time each; on the clock median ${times[count >> 1].toFixed(1)} ms (${count})`);
  process.exit(0);
})();
