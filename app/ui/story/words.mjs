// The crew's pages in Spanish and with a metric tape: the language of the phone, or
// the one that is chosen; every kind of question; no word left in English.
import { readFile } from "node:fs/promises";
import { Device, failed, must, open, until } from "./device.mjs";
import { look } from "./look.mjs";

const starter = new URL("../../../engine/job/starter/barn-row.yaml", import.meta.url);

export async function play() {
  const browser = await open();
  try {
    const d = await Device.take(browser, "phone", "palabras", { context: { locale: "es-MX" } });
    const job = "metrico";
    await d.go("");
    await d.page.getByRole("heading", { name: "Trabajos" }).waitFor();
    await look(d, "jobs", { crew: true });
    const text = (await readFile(starter, "utf8")).replace("units: feet", "units: metric").replace(/^job: .*$/m, "job: Establo métrico");
    const made = await d.api(`/api/jobs/${job}`, { method: "PUT", headers: { "Content-Type": "application/json", "If-None-Match": "*" }, body: JSON.stringify({ text }) });
    must(made.status === 200, `the job was refused: ${JSON.stringify(made.body)}`);
    await measure(d, job);
    await d.go(`#/job/${job}/saw`);
    await d.page.locator(".ticket").waitFor();
    await plain(d, "saw");
    await look(d, "saw", { crew: true });
    await d.go(`#/job/${job}/day`);
    await d.page.locator(".step").waitFor();
    await plain(d, "steps");
    await look(d, "steps", { crew: true });
    await choose(d, job);
    await d.end();
  } catch (err) {
    await failed();
    throw err;
  } finally {
    await browser.close();
  }
}

/** plain says whether something was left in English. */
async function plain(d, name) {
  const words = await d.page.evaluate(() => [document.querySelector("main"), document.querySelector(".top")].map((e) => e.innerText).join("\n"));
  const left = words.match(/\[en\]|\b(?:the|and|not|from|with|board|boards|post|step|done|next|keep|open|feet|inches)\b/i);
  if (left) d.wrong.push(`${name}: "${words.slice(Math.max(0, left.index - 40), left.index + 40).replaceAll("\n", " ")}" holds English`);
}

async function ask(d, question) {
  const sheet = d.page.getByText("La hoja completa");
  if (!(await d.page.locator("details ol").first().isVisible())) await sheet.click();
  await d.page.locator("details a").filter({ hasText: question }).first().click();
  await d.page.getByRole("heading", { level: 2, name: question }).first().waitFor();
}

const digits = async (d, n) => {
  for (const c of n) await d.page.getByRole("group", { name: "Números" }).getByRole("button", { name: c, exact: true }).click();
};

async function measure(d, job) {
  await d.go(`#/job/${job}/barn`);
  await d.page.getByLabel("¿Quién mide?").fill("Eva");
  await d.press("Empezar");
  await d.page.getByRole("heading", { level: 2 }).waitFor();
  await plain(d, "barn");
  await d.page.getByText("La hoja completa").click();
  await plain(d, "sheet");
  // A rod, in millimetres.
  await ask(d, /^(\d+\. )?MIRA/);
  await digits(d, "1420");
  await look(d, "barn-metric", { crew: true });
  await d.press("Guardar 1420 mm");
  await d.button("Siguiente", true).waitFor();
  await plain(d, "verdict");
  // A lean, which has a sign.
  await ask(d, /INCLINACIÓN/);
  await digits(d, "4");
  await d.press("Cambiar el signo");
  await look(d, "barn-lean", { crew: true });
  await d.press("Guardar -4 mm");
  await d.button("Siguiente", true).waitFor();
  // Something that crosses a wall.
  await ask(d, /cruza alguno algo/);
  await look(d, "barn-crosses", { crew: true });
  await d.press("Sí", true);
  await d.press("A1-back", true);
  await look(d, "barn-crosses-what", { crew: true });
  await d.press("tubería", true);
  for (const n of ["1500", "60", "530", "60"]) {
    await digits(d, n);
    await d.press(`Tomar ${n} mm`);
  }
  await d.button("Siguiente", true).waitFor();
  await plain(d, "crossing");
  // A note, and a question left open.
  await d.press("Siguiente", true);
  await d.press("Nota", true);
  await d.page.getByLabel("¿Qué hay que anotar aquí?").fill("poste\nrajado \"aquí\" <b>");
  await look(d, "barn-note", { crew: true });
  await d.press("Anotar", true);
  await d.button("Siguiente", true).waitFor();
  const records = await until("the note is sent", async () => {
    const all = (await d.api(`/api/jobs/${job}/records`)).body.records.map((r) => r.record.note);
    return all.some((n) => n.note) && all;
  });
  must(records.some((n) => n.crosses?.bay === "A1-back" && n.crosses.what === "pipe"), `no crossing in ${JSON.stringify(records)}`);
  must(records.some((n) => n.note === 'poste rajado "aquí" <b>'), "the note is not there as it was typed");
  must(records.some((n) => n.plumb), "the lean is not there");
}

/** choose: English by choice, kept over a new start. */
async function choose(d, job) {
  await d.page.locator(".top .places").click();
  await d.page.getByLabel("Idioma").selectOption("en");
  await d.page.getByRole("heading", { name: "Steps" }).waitFor();
  await d.page.reload();
  await d.page.getByRole("heading", { name: "Steps" }).waitFor();
  must((await d.page.evaluate(() => document.documentElement.lang)) === "en", "the page does not say that it is English");
  await d.go(`#/job/${job}/barn`);
  await d.see("Measure");
}
