// What every page has to be, in whatever state it is: legible and usable for
// everybody, within the screen, large enough for fingers.
import { writeFileSync } from "node:fs";
import { env } from "./device.mjs";

/** WCAG 2.2 AA, and what axe-core knows as good practice beside it. */
const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"];

/** The rules whose outcome hangs on colours: all that light and dark differ in. */
const colours = ["color-contrast", "link-in-text-block"];

/** widths a page must fit: the smallest phone that counts to a screen on the wall. */
export const widths = [360, 390, 768, 1280, 1920, 2560];

/** WCAG 2.2, 2.5.8, asks for 24 CSS pixels at least; gloves ask for what 2.5.5
 * (AAA) names. */
const finger = 44;

async function axe(d, only) {
  return d.page.evaluate(async ([t, o]) => {
    const r = await window.axe.run(document, { runOnly: o ? { type: "rule", values: o } : { type: "tag", values: t }, resultTypes: ["violations"] });
    return r.violations.map((v) => `${v.id} (${v.impact}): ${v.nodes.slice(0, 3).map((n) => `${n.target.join(" ")} ${n.failureSummary?.split("\n").slice(1, 3).join(" ")}`).join(" | ")}${v.nodes.length > 3 ? ` and ${v.nodes.length - 3} more` : ""}`);
  }, [tags, only]);
}

/** look judges the page as it stands and writes down what is wrong with it. */
export async function look(d, name, { crew = false } = {}) {
  const wrong = [];
  for (const scheme of ["light", "dark"]) {
    await d.page.emulateMedia({ colorScheme: scheme });
    for (const v of await axe(d, scheme === "dark" ? colours : undefined)) wrong.push(`${scheme}: ${v}`);
    await d.shot(`${name}-${scheme}`);
  }
  await d.page.emulateMedia({ colorScheme: "light" });
  if (crew) wrong.push(...(await small(d)));
  wrong.push(...(await wide(d)));
  d.wrong.push(...wrong.map((v) => `${name}: ${v}`));
}

/** small are targets that a glove misses. */
async function small(d) {
  return d.page.evaluate((least) => {
    const out = [];
    for (const e of document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=button]")) {
      const hit = e.closest("label") ?? e;
      const r = hit.getBoundingClientRect();
      const hidden = e.closest(".skip") || !e.checkVisibility() || r.width === 0;
      if (!hidden && (r.width < least - 0.5 || r.height < least - 0.5)) out.push(`a target of ${Math.round(r.width)} × ${Math.round(r.height)} px: ${e.textContent.trim().slice(0, 40) || e.outerHTML.slice(0, 80)}`);
    }
    return out;
  }, finger);
}

/** wide says what is wider than the screen. */
async function wide(d) {
  return d.page.evaluate(() => {
    const root = document.documentElement;
    if (root.scrollWidth <= root.clientWidth) return [];
    const over = [...document.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > root.clientWidth + 1 && !e.closest(".wide, pre"));
    return [`at ${root.clientWidth} px the page scrolls sideways: ${over.slice(-2).map((e) => e.outerHTML.slice(0, 100)).join(" | ")}`];
  });
}

/** fits tries the page in all widths: on the desktop, whose window has any; a phone
 * is tried in its own by look. */
export async function fits(d, name) {
  if (d.touch) return;
  const had = d.page.viewportSize();
  for (const width of widths) {
    await d.page.setViewportSize({ width, height: width < 600 ? 740 : 900 });
    d.wrong.push(...(await wide(d)).map((v) => `${name}: ${v}`));
    if (env.screens && [768, 2560].includes(width)) await d.shot(`${name}-${width}`);
  }
  await d.page.setViewportSize(had);
}

/** keyboard goes through the page by Tab and says which controls were not reached,
 * and where it could not be seen where one is. */
export async function keyboard(d, name) {
  const reached = await (async () => {
    await d.page.evaluate(() => {
      // From the top of the page, as one who has just come to it.
      document.body.tabIndex = -1;
      document.body.focus();
      document.body.removeAttribute("tabindex");
      window.reached = new Set();
    });
    const unseen = [];
    for (let i = 0; i < 400; i++) {
      await d.page.keyboard.press("Tab");
      const at = await d.page.evaluate(() => {
        const e = document.activeElement;
        if (!e || e === document.body) return { end: true };
        const again = window.reached.has(e);
        window.reached.add(e);
        // What shows the focus may be the element, or what stands round or in it.
        const shows = [e, e.closest("label"), ...e.querySelectorAll("*")].filter(Boolean).some((v) => {
          const s = getComputedStyle(v);
          return (s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2) || (v !== e && v.matches(":focus-visible *") && s.strokeWidth !== "0px" && s.stroke !== "none");
        });
        return { again, shows, what: e.outerHTML.slice(0, 90) };
      });
      if (at.end || at.again) break;
      if (!at.shows) unseen.push(`the focus is not seen on ${at.what}`);
    }
    return unseen;
  })();
  const missed = await d.page.evaluate(() =>
    [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=button], [tabindex='0']")]
      .filter((e) => e.checkVisibility() && !e.disabled && e.tabIndex >= 0 && !window.reached.has(e) && !(e.type === "radio" && !e.checked))
      .map((e) => `Tab does not reach ${e.outerHTML.slice(0, 90)}`),
  );
  d.wrong.push(...[...reached, ...missed].slice(0, 6).map((v) => `${name}: ${v}`));
}

/** paper is the page as it is printed: nothing on it that asks for a finger, white
 * behind black, and all that must be read. */
export async function paper(d, name, texts) {
  await d.page.emulateMedia({ media: "print", colorScheme: "dark" });
  const wrong = await d.page.evaluate((wanted) => {
    const out = [];
    for (const e of document.querySelectorAll("button, input, select, textarea, summary, nav, progress, .top, .button")) {
      if (e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().height > 1) out.push(`paper shows ${e.outerHTML.slice(0, 80)}`);
    }
    const body = getComputedStyle(document.body);
    if (body.backgroundColor !== "rgb(255, 255, 255)" || body.color !== "rgb(0, 0, 0)") out.push(`paper is ${body.color} on ${body.backgroundColor}`);
    const text = document.body.innerText;
    for (const w of wanted) if (!text.includes(w)) out.push(`paper lacks ${w}`);
    return out;
  }, texts);
  d.wrong.push(...wrong.slice(0, 5).map((v) => `${name}: ${v}`));
  await d.page.emulateMedia({ media: null, colorScheme: "light" });
  const data = await d.page.pdf({ format: "Letter" });
  if (data.length < 1000) d.wrong.push(`${name}: the PDF holds nothing`);
  if (env.screens) writeFileSync(`${env.screens}/${d.name}-${name}.pdf`, data);
}
