// Who may come in, and what they find: on a server that stands on a network, by
// https, with accounts.
import { Device, failed, must, open, until } from "./device.mjs";
import { look } from "./look.mjs";

const password = "four words are good";

async function signIn(d, name, word = password) {
  await d.page.getByLabel("Name").fill(name);
  await d.page.getByLabel("Password").fill(word);
  await d.press("Sign in", true);
}

/** places are what the head of the page leads to. */
async function places(d) {
  const menu = d.page.locator(".top .places");
  if (await menu.isVisible()) await menu.click();
  const all = await d.page.locator("#places nav a").evaluateAll((list) => list.filter((e) => e.checkVisibility()).map((e) => e.textContent));
  if (await menu.isVisible()) await menu.click();
  return all.join(" ");
}

export async function play() {
  const browser = await open();
  try {
    const owner = await Device.take(browser, "desktop", "owner");
    // Nobody comes in: every way leads to the door, and the API says no.
    owner.refusals.push(["/api/", 401]);
    await owner.go("#/shop");
    await owner.page.getByRole("heading", { name: "Sign in" }).waitFor();
    await look(owner, "sign-in", { crew: true });
    must((await owner.api("/api/jobs")).status === 401, "the jobs are told to nobody");
    await signIn(owner, "Olga", "another four words here");
    await owner.see("the name or the password is not right");
    await look(owner, "sign-in-refused", { crew: true });
    await signIn(owner, "Olga");
    await owner.page.getByRole("heading", { name: "Shop" }).waitFor(); // where they wanted to go
    owner.refusals.length = 0;
    await look(owner, "shop");
    must((await places(owner)) === "Jobs Shop People You", `the owner's places are ${await places(owner)}`);
    await owner.go("#/people");
    await owner.page.getByRole("heading", { name: "Cris" }).waitFor();
    await look(owner, "people");
    await owner.go("#/me");
    await owner.see("Signed in as Olga: owner");
    await look(owner, "me");
    const job = await makeJob(owner);
    await customer(browser, owner, job);
    await crew(browser, job);
    await sawyer(browser, job);
    await owner.go("#/me");
    await owner.press("Sign out");
    await owner.page.getByRole("heading", { name: "Sign in" }).waitFor();
    owner.refusals.push(["/api/", 401]);
    must((await owner.api("/api/jobs")).status === 401, "the session lives on after signing out");
    await owner.end();
  } catch (err) {
    await failed();
    throw err;
  } finally {
    await browser.close();
  }
}

async function makeJob(d) {
  await d.go("#/");
  await d.press("A round pen");
  await d.page.waitForURL(/#\/job\/.+/);
  const job = d.page.url().split("/job/")[1].split("/")[0];
  await until("the server has the job", async () => {
    d.refusals.push([`/api/jobs/${job}`, 404]);
    return (await d.api(`/api/jobs/${job}`)).status === 200;
  });
  d.refusals.length = 0;
  return job;
}

/** customer sees one job's drawings by a link, and nothing else. */
async function customer(browser, owner, job) {
  await owner.go(`#/job/${job}/papers`);
  await owner.page.getByLabel("For whom").fill("The Meadows");
  await owner.press("Make a link");
  const link = (await owner.page.locator("code").first().textContent()).trim();
  await look(owner, "papers-link");
  const d = await Device.take(browser, "phone", "customer");
  await d.page.goto(link);
  await d.page.getByRole("heading", { level: 1 }).waitFor();
  await until("the drawings are there", async () => d.page.evaluate(() => [...document.images].length > 0));
  const first = d.page.locator("img").first();
  await first.scrollIntoViewIfNeeded();
  await until("a drawing is shown", async () => first.evaluate((e) => e.complete && e.naturalWidth > 0));
  must((await d.page.locator("button, input, form").count()) === 0, "the customer's page has something to change things with");
  await look(d, "share");
  d.refusals.push(["/api/", 401], ["/share/", 404]);
  for (const path of ["/api/jobs", `/api/jobs/${job}`, `/api/jobs/${job}/plan`, `/api/jobs/${job}/photos`, "/api/shop/kits"]) {
    must((await d.api(path)).status === 401, `the customer's link opens ${path}`);
  }
  await owner.press("End it");
  await owner.see("ended");
  must((await d.page.goto(link)).status() === 404, "a link that was ended still opens");
  await d.end();
}

/** crew measure, cut and tick off; the office's things they do not even see. */
async function crew(browser, job) {
  const d = await Device.take(browser, "phone", "crew");
  d.refusals.push(["/api/", 401]);
  await d.go(`#/job/${job}/`);
  await d.page.getByRole("heading", { name: "Sign in" }).waitFor();
  await signIn(d, "Cris");
  await d.page.getByRole("heading", { name: "Measure" }).waitFor(); // their place in the job they wanted
  d.refusals.length = 0;
  must((await places(d)) === "Measure Saw Steps Papers Jobs", `the crew's places are ${await places(d)}`);
  await d.go(`#/job/${job}/desk`);
  await d.see("The desk is for the office");
  await look(d, "elsewhere", { crew: true });
  await d.go("#/");
  await d.page.getByRole("heading", { name: "Jobs" }).waitFor();
  must((await d.page.getByText("Begin a job").count()) === 0, "the crew can begin a job");
  await d.go("#/shop");
  await d.page.getByRole("heading", { name: "Shop" }).waitFor();
  for (const name of [/^Save/, /^Delete/, /^Bring/, /^Add/, /^New/]) must((await d.button(name).count()) === 0, `the crew's shop has a button ${name}`);
  must((await d.page.locator('input[type="file"], textarea').count()) === 0, "the crew's shop takes files");
  d.refusals.push(["/api/", 403]);
  const put = { method: "PUT", headers: { "Content-Type": "application/json", "If-None-Match": "*" }, body: JSON.stringify({ text: "kit: x" }) };
  must((await d.api("/api/shop/kits/x.yaml", put)).status === 403, "the crew saves a kit");
  must((await d.api(`/api/jobs/${job}`, { ...put, headers: { "Content-Type": "application/json", "If-Match": '"1-0"' } })).status === 403, "the crew saves a job's text");
  must((await d.api("/api/accounts")).status === 403, "the crew sees the accounts");
  await d.end();
}

/** sawyer finds the saw, and the papers. */
async function sawyer(browser, job) {
  const d = await Device.take(browser, "desktop", "saw");
  d.refusals.push(["/api/", 401]);
  await d.go(`#/job/${job}/`);
  await signIn(d, "Sam");
  await d.page.getByRole("heading", { name: "Saw" }).waitFor();
  d.refusals.length = 0;
  await d.see("Nothing is released yet");
  await look(d, "saw-empty", { crew: true });
  must((await places(d)) === "Saw Papers", `the saw's places are ${await places(d)}`);
  await d.end();
}
