// Devices that people hold: a browser of its own storage each, watched for what
// no page of ours may do.
import { createRequire } from "node:module";
import { mkdirSync } from "node:fs";

/** env is what the Go test hands over. */
export const env = {
  address: process.env.STORY_ADDRESS,
  modules: process.env.STORY_MODULES,
  chromium: process.env.STORY_CHROMIUM,
  screens: process.env.STALLWRIGHT_SCREENS ?? "",
};

const require = createRequire(env.modules);
const { chromium } = require("playwright-core");

/** The two sizes that the story is played on. */
export const sizes = {
  phone: { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 },
  desktop: { viewport: { width: 1440, height: 900 } },
};

export async function open() {
  return chromium.launch({
    executablePath: env.chromium,
    // As root there is no sandbox, and in a container little shared memory. The engine
    // runs for seconds in each page: compiling it a second time, better, costs more.
    args: [...(process.getuid?.() === 0 ? ["--no-sandbox"] : []), "--disable-dev-shm-usage", "--js-flags=--liftoff-only", "--ignore-certificate-errors", "--force-color-profile=srgb"],
  });
}

/** patience is how long something may take to come up, in milliseconds: far longer
 * than it does, for a machine that has other work. */
const patience = 60_000;

const held = [];

/** failed keeps what the devices show at the end of a story that went wrong. */
export async function failed() {
  for (const d of held) {
    await d.shot("failed").catch(() => undefined);
    if (d.wrong.length) console.error(`${d.name}:\n  ${[...new Set(d.wrong)].join("\n  ")}`);
  }
}

/** Device is one person's. */
export class Device {
  /** What went wrong on it, in words. */
  wrong = [];
  /** Answers of the server that are meant to be refusals: status by part of the address. */
  refusals = [];

  static async take(browser, size, name, more = {}) {
    const d = new Device();
    d.name = name;
    held.push(d);
    d.touch = size === "phone";
    d.base = more.address ?? env.address;
    d.context = await browser.newContext({ reducedMotion: "reduce", ...sizes[size], locale: "en-US", timezoneId: "America/Chicago", ignoreHTTPSErrors: true, ...more.context });
    d.context.setDefaultTimeout(patience);
    // An init script is no part of the page: its policy does not count for it.
    await d.context.addInitScript({ content: require("axe-core").source });
    await d.context.addInitScript(() => {
      addEventListener("securitypolicyviolation", (e) => console.error(`policy: ${e.violatedDirective} ${e.blockedURI} ${e.sourceFile}`));
    });
    d.page = await d.context.newPage();
    d.context.on("request", (r) => d.asked(r));
    d.context.on("response", (r) => d.answered(r));
    d.context.on("dialog", (x) => {
      d.wrong.push(`a dialog: ${x.message()}`);
      void x.dismiss();
    });
    d.context.on("console", (m) => {
      // Refused and unreached requests are judged where they are asked.
      if (m.type() === "error" && !m.text().startsWith("Failed to load resource")) d.wrong.push(`the console: ${m.text()}`);
    });
    d.context.on("weberror", (e) => d.wrong.push(`a script failed: ${e.error().stack ?? e.error()}`));
    return d;
  }

  asked(r) {
    const url = new URL(r.url());
    if (["blob:", "data:"].includes(url.protocol)) return;
    if (url.origin !== new URL(this.base).origin) this.wrong.push(`a request left the origin: ${r.url()}`);
  }

  answered(r) {
    if (r.status() < 400) return;
    const path = new URL(r.url()).pathname;
    const meant = this.refusals.some(([part, status]) => path.includes(part) && status === r.status());
    if (!meant) this.wrong.push(`${r.request().method()} ${path} was answered with ${r.status()}`);
  }

  /** go opens a place of the app; the page is not loaded anew where it is open. */
  async go(hash) {
    const at = this.base + "/" + hash;
    if (this.page.url().startsWith(this.base + "/")) await this.page.evaluate((h) => (location.hash = h), hash || "#/");
    else await this.page.goto(at);
  }

  /** say is a sentence that must be in sight. */
  async see(text, options = {}) {
    await this.page.getByText(text, options).first().waitFor();
  }

  button(name, exact = false) {
    return this.page.getByRole("button", { name, exact });
  }

  async press(name, exact = false) {
    await this.button(name, exact).first().click();
  }

  /** api asks the server as this device. */
  async api(path, init = {}) {
    return this.page.evaluate(
      async ([p, i]) => {
        const r = await fetch(p, i);
        const text = await r.text();
        return { status: r.status, tag: r.headers.get("ETag"), body: text && r.headers.get("Content-Type")?.includes("json") ? JSON.parse(text) : text };
      },
      [path, init],
    );
  }

  /** shot keeps a picture for people to look at, where a folder was named. */
  async shot(name) {
    if (!env.screens) return;
    mkdirSync(env.screens, { recursive: true });
    await this.page.screenshot({ path: `${env.screens}/${this.name}-${name}.png` });
  }

  /** end says what went wrong. */
  async end() {
    await this.context.close();
    if (this.wrong.length) throw new Error(`${this.name}: ${[...new Set(this.wrong)].join("\n  ")}`);
  }
}

/** must throws where something does not hold. */
export function must(holds, told) {
  if (!holds) throw new Error(told);
}

/** until waits for something to hold: what travels between devices takes a moment. */
export async function until(told, check, within = patience) {
  const end = Date.now() + within;
  for (;;) {
    const got = await check();
    if (got) return got;
    if (Date.now() > end) throw new Error(`in vain waited for: ${told}`);
    await new Promise((done) => setTimeout(done, 100));
  }
}
