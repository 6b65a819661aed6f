// Measures the pages in headless Chromium on loopback: how long the first screen
// takes on a phone, and how long a change of one bay among twenty stalls takes from
// the click to the drawing. Run it in the top folder, after the pages are built:
//   node bench/page/bench.mjs [--server URL] [--changes 30] [--loads 5]
// It starts a server of its own on a free port, unless one is named.
import { spawn, execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";

const { chromium } = createRequire(new URL("../../checks/package.json", import.meta.url))("playwright-core");
const { values: args } = parseArgs({ options: { server: { type: "string" }, changes: { type: "string", default: "30" }, loads: { type: "string", default: "5" } } });

const twenty = readFileSync(new URL("twenty.yaml", import.meta.url), "utf8");

async function serve() {
  const folder = mkdtempSync(join(tmpdir(), "stallwright-bench-"));
  const program = join(folder, "stallwright");
  execFileSync("go", ["build", "-o", program, "./cmd/stallwright"], { stdio: "inherit" });
  const child = spawn(program, ["serve", "--data", join(folder, "data"), "--listen", "127.0.0.1:0", "--quiet"]);
  const address = await new Promise((done, fail) => {
    let said = "";
    const hear = (data) => {
      said += data;
      const found = /http:\/\/[\d.:]+/.exec(said);
      if (found) done(found[0]);
    };
    child.stdout.on("data", hear);
    child.stderr.on("data", hear);
    child.on("exit", () => fail(new Error("the server ended: " + said)));
  });
  return {
    address,
    end: () =>
      new Promise((done) => {
        child.removeAllListeners("exit");
        child.on("exit", () => {
          rmSync(folder, { recursive: true, force: true });
          done();
        });
        child.kill("SIGTERM");
      }),
  };
}

const round = (n) => Math.round(n);
function tell(what, times) {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (q) => sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))];
  console.log(`${what.padEnd(52)} median ${round(at(0.5))} ms, nine in ten ${round(at(0.9))} ms, worst ${round(sorted.at(-1))} ms (${times.length})`);
}

/** since is the time since navigation began at which something is painted. */
const since = (page, selector) =>
  page.evaluate(
    (s) =>
      new Promise((done, fail) => {
        setTimeout(() => fail(new Error(`nothing like ${s} in a minute`)), 60_000);
        const look = () => (document.querySelector(s) ? requestAnimationFrame(() => setTimeout(() => done(performance.now()), 0)) : requestAnimationFrame(look));
        look();
      }),
    selector,
  );

async function loads(browser, base, n) {
  const phone = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 3, isMobile: true, hasTouch: true };
  const list = "main li a[href*='/job/']";
  const first = [], again = [], desk = [], deskAgain = [];
  for (let i = 0; i < n; i++) {
    const context = await browser.newContext(phone);
    let page = await context.newPage();
    await page.goto(base + "/#/");
    first.push(await since(page, list));
    await page.goto("about:blank");
    await page.goto(base + "/#/");
    again.push(await since(page, list));
    await page.goto("about:blank");
    await page.goto(base + "/#/job/twenty/desk");
    desk.push(await since(page, "svg.plan .bay"));
    await page.waitForFunction(() => document.querySelectorAll("svg.plan .bay").length > 0 && !document.querySelector(".busy"), undefined, { timeout: 60_000 });
    await page.waitForTimeout(1500); // what is kept for the next time is written by then
    await page.goto("about:blank");
    await page.goto(base + "/#/job/twenty/desk");
    deskAgain.push(await since(page, "svg.plan .bay"));
    await context.close();
  }
  tell("phone, first visit: list of jobs", first);
  tell("phone, second visit: list of jobs", again);
  tell("phone, a job for the first time: its drawing", desk);
  tell("phone, the job again: its drawing", deskAgain);
}

/** processor is the time that the browser's pages have taken of processors, in seconds. */
async function processor(browser) {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send("SystemInfo.getProcessInfo");
  await session.detach();
  return processInfo.filter((p) => p.type === "renderer").reduce((sum, p) => sum + p.cpuTime, 0);
}

async function changes(browser, base, n) {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  const errors = [];
  page.on("pageerror", (e) => errors.push(e.message));
  await page.goto(base + "/#/job/twenty/desk/A2-A3");
  await page.waitForSelector("svg.plan .bay", { timeout: 60_000 });
  await page.waitForSelector("[role=group][aria-label=Fill] button");
  await page.waitForTimeout(4000);
  const cpu = await processor(browser);
  const times = [];
  const fills = ["boards", "grille", "window"];
  for (let i = 0; i < n; i++) {
    times.push(
      await page.evaluate(
        (fill) =>
          new Promise((done, fail) => {
            const bay = () => [...document.querySelectorAll("svg.plan .bay")].find((b) => b.getAttribute("aria-label").startsWith("Bay A2-A3,"));
            const button = [...document.querySelectorAll("[role=group][aria-label=Fill] button")].find((b) => b.textContent.trim().split(/\s/)[0].toLowerCase() === fill);
            const begun = performance.now();
            setTimeout(() => fail(new Error("no answer in ten seconds")), 10_000);
            const look = () => (bay()?.classList.contains(fill) ? setTimeout(() => done(performance.now() - begun), 0) : requestAnimationFrame(look));
            button.click();
            requestAnimationFrame(look);
          }),
        fills[i % fills.length],
      ),
    );
    await page.waitForTimeout(900); // what follows behind is done
  }
  const took = (await processor(browser)) - cpu;
  tell("desk, twenty stalls: click to drawing, first three", times.slice(0, 3));
  tell("desk, twenty stalls: click to drawing, then", times.slice(3));
  console.log(`processor time a change, proof, elevation and pieces that follow included: ${round((took * 1000) / n)} ms`);
  if (errors.length) console.log("errors in the page:", errors.join("; "));
  await context.close();
}

const server = args.server ? { address: args.server, end: async () => {} } : await serve();
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox"] });
try {
  await fetch(server.address + "/api/jobs/twenty", { method: "PUT", headers: { "Content-Type": "application/json", "If-None-Match": "*" }, body: JSON.stringify({ text: twenty }) });
  await loads(browser, server.address, Number(args.loads));
  await changes(browser, server.address, Number(args.changes));
} finally {
  await browser.close();
  await server.end();
}
