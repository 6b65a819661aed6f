// Two people at the office's desks work on one job at once: nothing is lost, and
// both are told. Names and notes that would be pages or scripts are only text.
import { Device, failed, must, open, until } from "./device.mjs";
import { fits, keyboard, look } from "./look.mjs";

const hostile = `<img src=x onerror="alert('a')"> ' & ${"\u05d7\u05d5\u05d5\u05d4"} </script>`;

export async function play() {
  const browser = await open();
  try {
    const a = await Device.take(browser, "desktop", "office-a");
    const b = await Device.take(browser, "desktop", "office-b");
    const job = await begin(a);
    await b.go(`#/job/${job}/desk`);
    await b.page.getByLabel("Farm", { exact: true }).waitFor();
    await together(a, b, job);
    await apart(a, b, job);
    await named(a, b, job);
    await rooms(a);
    await a.end();
    await b.end();
  } catch (err) {
    await failed();
    throw err;
  } finally {
    await browser.close();
  }
}

const text = async (d, job) => (await d.api(`/api/jobs/${job}`)).body.text;

async function begin(d) {
  await d.go("");
  await d.press("A round pen");
  await d.page.waitForURL(/#\/job\/.+/);
  const job = d.page.url().split("/job/")[1].split("/")[0];
  d.refusals.push([`/api/jobs/${job}`, 404]); // until it has arrived
  await until("the server has the job", async () => (await d.api(`/api/jobs/${job}`)).status === 200);
  d.refusals.length = 0;
  return job;
}

/** type puts something into a field of the desk, as one does. */
async function type(d, label, value) {
  const field = d.page.getByLabel(label, { exact: true });
  await field.fill(value);
  await field.press("Enter");
}

/** together: two edits that go together are offered as one. */
async function together(a, b, job) {
  a.refusals.push([`/api/jobs/${job}`, 412]);
  await a.context.setOffline(true);
  await type(a, "Name", "Pen at the oaks");
  await type(b, "Farm", "Two Brooks");
  await until("the second one's edit is kept", async () => /name: Two Brooks/.test(await text(b, job)));
  await a.context.setOffline(false);
  await a.see("Somebody else changed this job meanwhile");
  must(!/Pen at the oaks/.test(await text(b, job)), "the first one's text went over the other's");
  await look(a, "conflict");
  await a.press("Take both edits");
  await until("both edits are kept", async () => /name: Two Brooks/.test(await text(b, job)) && /Pen at the oaks/.test(await text(b, job)));
  await until("the other desk shows both", async () => (await b.page.getByLabel("Name", { exact: true }).inputValue()) === "Pen at the oaks");
}

/** apart: of two edits of the same thing one is chosen, and the other is in the history. */
async function apart(a, b, job) {
  await a.context.setOffline(true);
  await type(a, "Name", "Mine");
  await type(b, "Name", "Theirs");
  await until("the other's edit is kept", async () => /Theirs/.test(await text(b, job)));
  await a.context.setOffline(false);
  await a.see("Somebody else changed this job meanwhile");
  must((await a.button("Take both edits").count()) === 0, "two names for one thing are said to go together");
  await a.press("Go on with theirs");
  await until("it is settled", async () => (await a.page.getByText("Somebody else changed").count()) === 0);
  await until("theirs stands", async () => /Theirs/.test(await text(b, job)));
  const { revisions } = (await b.api(`/api/jobs/${job}/revisions`)).body;
  const texts = await Promise.all(revisions.map(async (r) => (await b.api(`/api/jobs/${job}/revisions/${r.number}`)).body.text));
  must(texts.some((t) => /job: Mine/.test(t)), "the text that was not chosen is in no revision");
  a.refusals.length = 0;
}

/** named: a name that would be a script is a name. */
async function named(a, b, job) {
  await type(a, "Name", hostile);
  await until("the name is kept", async () => (await a.api("/api/jobs")).body.jobs.find((j) => j.id === job)?.title === hostile);
  await until("the other desk has it in its title", async () => (await b.page.title()).startsWith("<img src=x"));
  await b.go("#/");
  await b.page.getByRole("link", { name: hostile }).waitFor();
  await look(b, "jobs-hostile");
  await fits(b, "jobs-hostile");
  await b.go(`#/job/${job}/history`);
  await b.page.getByRole("cell", { name: "1", exact: true }).first().waitFor();
  await b.button("See").first().click();
  await b.see("onerror");
  await look(b, "history-hostile");
  await fits(b, "history");
  const share = await b.api(`/api/jobs/${job}/links`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ label: hostile }) });
  must(share.status < 300, `the link was refused: ${JSON.stringify(share.body)}`);
  await b.page.goto(b.base + share.body.path);
  await b.page.getByRole("heading", { level: 1 }).waitFor();
  must((await b.page.getByRole("heading", { level: 1 }).textContent()) === hostile, "the customer's page has another title");
  await look(b, "share-hostile");
}

/** rooms: what is left of the office's places. */
async function rooms(d) {
  await d.go("#/shop");
  await d.page.getByRole("heading", { name: "Shop" }).waitFor();
  await look(d, "shop");
  await fits(d, "shop");
  await keyboard(d, "shop");
  await d.go("#/me");
  await d.see("without accounts");
  await look(d, "me");
  await d.go("#/");
  await d.see("Begin a job");
  await fits(d, "jobs");
  await keyboard(d, "jobs");
}
