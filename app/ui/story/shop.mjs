// The shop's files, and what follows from them at the desk: a mistake is told with its
// line while one writes, nothing is lost, the offer is the server's to the cent, and all
// of it goes on without signal.
import { Device, failed, must, open, until } from "./device.mjs";
import { fits, look } from "./look.mjs";

const book = "fernhollow-prices.yaml";
const job = "three-meadows";

export async function play() {
  const browser = await open();
  try {
    const d = await Device.take(browser, "desktop", "shop");
    const text = await write(d);
    await restore(d, text);
    const total = await desk(d);
    await away(d, total);
    await d.end();
    const p = await Device.take(browser, "phone", "shop-phone");
    await phone(p);
    await p.end();
  } catch (err) {
    await failed();
    throw err;
  } finally {
    await browser.close();
  }
}

/** write changes a price book; a mistake stands beside the text, and cannot be kept. */
async function write(d) {
  await d.go("#/shop/prices");
  await d.press(`Open ${book}`);
  await d.see("Reads well");
  const area = d.page.locator("textarea");
  const text = await area.inputValue();
  must(text === (await d.api(`/api/shop/prices/${book}/file`)).body, "the editor shows another text than the file holds");
  await area.fill(text.replace("{item: latch, cost: 14.60}", "{item: latch, cots: 14.60}"));
  await d.see("One mistake");
  must(await d.button("Save", true).isDisabled(), "a text with a mistake can be saved");
  await look(d, "mistake");
  const at = d.button(/^Line \d+, column \d+$/);
  const line = Number(/\d+/.exec(await at.innerText())[0]);
  await at.click();
  must((await area.evaluate((t) => t.value.slice(0, t.selectionStart).split("\n").length)) === line, "the caret does not go to the mistake");
  must(text.split("\n")[line - 1].includes("latch"), `the mistake is told at line ${line}`);
  await area.fill(text.replace("margin: 25 %", "margin: 30 %"));
  await d.see("Reads well");
  await d.page.getByLabel("Why (stands in the history)").fill("steel went up");
  await d.press("Save", true);
  await d.see("revision 2");
  return text;
}

/** restore looks at what changed, and brings the first text back byte for byte. */
async function restore(d, text) {
  await d.press(`History of ${book}`);
  await d.see("steel went up");
  await d.press("Compare revision 1 with the latest");
  await d.see("− margin: 25 %");
  await d.see("+ margin: 30 %");
  await look(d, "shop-history");
  await d.press("Restore revision 1");
  await d.see("revision 3");
  must((await d.api(`/api/shop/prices/${book}/file`)).body === text, "the restored file is not the first one byte for byte");
}

const shown = (d) => d.page.locator("[aria-label=Offer] .sums .strong dd").innerText();

/** desk chooses yard and price book; the offer is the server's, to the cent. */
async function desk(d) {
  await d.go(`#/job/${job}/desk`);
  await d.page.getByText("total, USD").waitFor({ timeout: 60_000 });
  await look(d, "offer");
  const total = await shown(d);
  const { offer } = (await d.api(`/api/jobs/${job}/offer`)).body;
  must(offer.total_text === `${total} USD` && offer.complete, `the page says ${total}, the server ${offer.total_text}`);
  await d.page.getByLabel("Boards from").selectOption("");
  await d.page.getByText("Not complete").waitFor({ timeout: 60_000 });
  await d.page.getByLabel("Boards from").selectOption("mill-lane-yard.yaml");
  await until("the yard's boards are priced again", async () => (await d.page.getByText("Not complete").count()) === 0 && (await shown(d)) === total, 60_000);
  await d.page.getByLabel("Price book").selectOption("");
  await until("there is no offer", async () => (await d.page.locator("[aria-label=Offer]").count()) === 0);
  await d.page.getByLabel("Price book").selectOption(book);
  await until("the offer is there again", async () => (await shown(d).catch(() => "")) === total, 60_000);
  await until("the server has the last text", async () => (await d.api(`/api/jobs/${job}`)).body.text.includes(`prices: ${book}`));
  return total;
}

/** away: the same without signal, the shop's files too. */
async function away(d, total) {
  await d.context.setOffline(true);
  await d.page.reload();
  await d.page.getByText("total, USD").waitFor({ timeout: 60_000 });
  must((await shown(d)) === total, "without signal the offer is another");
  await d.go("#/shop/yards");
  await d.press("Open mill-lane-yard.yaml");
  await d.see("Reads well");
  await d.see("No signal");
  await d.context.setOffline(false);
}

/** phone: a kit of one's own from a shipped one, deleted and brought back. */
async function phone(d) {
  await d.go("#/shop/kits");
  await d.press("Begin with a copy of fernhollow");
  await d.see("Reads well");
  await look(d, "kit");
  await fits(d, "kit");
  await d.press("Save", true);
  await d.press("Delete our-line.yaml");
  await d.press("Bring our-line.yaml back");
  await d.button("Delete our-line.yaml").waitFor();
}
