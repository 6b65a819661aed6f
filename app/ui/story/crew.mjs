// From a new job to the signed-off row, on one size of screen, with a second
// device that looks on: plan, count, measure without signal, cut, cut wrong, cut
// again, tick off, tell a problem, sign off.
import { Device, failed, must, open, until } from "./device.mjs";
import { fits, keyboard, look, paper } from "./look.mjs";

const wall = "B1-back";

/** marker takes the time of each chapter, for who asks where it goes. */
function marker(size) {
  let last = Date.now();
  return (chapter) => {
    const now = Date.now();
    if (process.env.STALLWRIGHT_SCREENS) console.log(`${size} ${chapter}: ${((now - last) / 1000).toFixed(1)} s`);
    last = now;
  };
}

export async function play(size) {
  const browser = await open();
  const done = marker(size);
  try {
    const a = await Device.take(browser, size, `${size}-crew`);
    const job = await begin(a);
    done("new job and layout");
    await counts(a, job);
    done("counts and drawings");
    await measure(a, job);
    done("measure without signal");
    const b = await Device.take(browser, size === "phone" ? "desktop" : "phone", `${size}-other`);
    await saw(a, b, job);
    done("saw");
    await steps(a, b, job);
    done("steps");
    await a.end();
    await b.end();
  } catch (err) {
    await failed();
    throw err;
  } finally {
    await browser.close();
  }
}

/** A wall in the plan is a line: it has no height of its own to be seen by. */
const attached = (d, name) => d.button(name).first().waitFor({ state: "attached" });

/** choose touches a wall in the plan in its middle, or goes to it by keyboard. */
async function choose(d, name) {
  await attached(d, name);
  const wall = d.button(name).first();
  if (!d.touch) {
    await wall.focus();
    await d.page.keyboard.press("Enter");
    return;
  }
  await wall.evaluate((e) => e.closest("svg").scrollIntoView({ block: "center" }));
  const at = await wall.evaluate((e) => {
    const r = e.querySelector("line").getBoundingClientRect();
    return [r.x + r.width / 2, r.y + r.height / 2];
  });
  await d.page.touchscreen.tap(...at);
}

/** begin makes a job from a starter, changes a fill and flips a door. */
async function begin(d) {
  await d.go("");
  await d.see("Begin a job");
  await look(d, "jobs", { crew: true });
  await d.press("A row that stands by itself");
  await d.page.waitForURL(/#\/job\/.+/);
  const job = d.page.url().split("/job/")[1].split("/")[0];
  await attached(d, /^Bay B1-back,/);
  await until("the server has the new job", async () => (await d.api(`/api/jobs/${job}`)).status === 200);
  await choose(d, /^Bay B1-back,/);
  await d.page.getByRole("region", { name: "Bay B1-back" }).waitFor();
  await d.press("grille", true);
  await attached(d, /^Bay B1-back, grille/);
  await until("the changed fill is kept", async () => /B1-back/.test((await d.api(`/api/jobs/${job}`)).body.text));
  await d.press("boards", true);
  await attached(d, /^Bay B1-back, boards/);
  await choose(d, /^Bay B1-front-door,/);
  await d.press(/Slides left/);
  await until("the flipped door is kept", async () => /slides: left/.test((await d.api(`/api/jobs/${job}`)).body.text));
  await look(d, "desk-bay");
  return job;
}

/** counts are what the office reads off: the same on the screen and at the server. */
async function counts(d, job) {
  await d.go(`#/job/${job}/desk`);
  await until("the latest text is sent", async () => d.page.locator(".state").filter({ hasText: "All sent" }).count());
  const plan = await d.api(`/api/jobs/${job}/plan`);
  must(plan.status === 200, `the plan was answered with ${plan.status}`);
  await look(d, "desk");
  await fits(d, "desk");
  const drawings = await d.api(`/api/jobs/${job}/drawings`);
  must(drawings.status === 200 && drawings.body.drawings.some((v) => v.name.startsWith("drawings/wall-B-back")), "the drawing of the back wall is missing");
  await d.go(`#/job/${job}/papers`);
  await d.see("packet.pdf");
  await look(d, "papers");
  await fits(d, "papers");
  await d.go(`#/job/${job}/history`);
  await d.page.getByRole("cell", { name: "1", exact: true }).first().waitFor();
  await look(d, "history");
}

/** tap sets a reading on the big keys: inches and the fraction; feet stand. */
async function tap(d, inches, fraction) {
  await d.page.getByRole("group", { name: "inches" }).getByRole("button", { name: String(inches), exact: true }).click();
  await d.page.getByRole("group", { name: "fraction" }).getByRole("button", { name: fraction, exact: true }).click();
}

async function measure(d, job) {
  await d.go(`#/job/${job}/barn`);
  await d.page.getByLabel("Who measures?").fill("Ida <img src=x onerror=alert(1)> \"'");
  await d.press("Begin");
  await d.page.getByRole("heading", { level: 2 }).waitFor();
  await look(d, "barn-rod", { crew: true });
  // Away from the office: no signal, and the page loaded anew.
  await d.context.setOffline(true);
  await d.page.reload();
  await d.see("No signal");
  await d.page.getByText("The whole sheet").click();
  await d.page.getByRole("link", { name: new RegExp(`FRAME of ${wall} TIGHT`) }).click();
  await d.page.getByRole("heading", { name: new RegExp(`FRAME of ${wall}`) }).waitFor();
  await look(d, "barn-yes-no", { crew: true });
  await d.press("Yes", true);
  await d.see(`Tight. ${wall} can be measured.`);
  await d.press("Next", true);
  // The first reading is a foot short: it is doubted, and read again.
  await d.page.getByRole("heading", { name: /CLEAR WIDTH of B1-back at the BOTTOM/i }).waitFor();
  await look(d, "barn-entry", { crew: true });
  await keyboard(d, "barn-entry");
  await d.page.getByRole("button", { name: /feet/ }).click();
  await d.press("Erase the last digit");
  await d.page.getByRole("group", { name: "Digits" }).getByRole("button", { name: "0", exact: true }).click();
  await d.press("inches", true);
  await tap(d, 6, "1/2");
  await d.press(/^Keep 10' 6 1\/2"/);
  await d.see("Look at the tape again");
  await look(d, "barn-doubt", { crew: true });
  await d.page.getByRole("button", { name: /feet/ }).click();
  await d.press("Erase the last digit");
  await d.page.getByRole("group", { name: "Digits" }).getByRole("button", { name: "1", exact: true }).click();
  await d.press(/^Keep 11' 6 1\/2"/);
  await d.button("Next", true).waitFor();
  await photo(d);
  await look(d, "barn-verdict", { crew: true });
  for (const [height, fraction] of [["MIDDLE", "7/16"], ["TOP", "3/8"]]) {
    await d.press("Next", true);
    await d.page.getByRole("heading", { name: new RegExp(`CLEAR WIDTH of B1-back at the ${height}`, "i") }).waitFor();
    await tap(d, 6, fraction);
    await d.press(/^Keep/);
    await d.button("Next", true).waitFor();
  }
  await d.see(/BOARD 11'/);
  const before = await d.page.locator(".state").textContent();
  must(/No signal.*to send/.test(before), `the head says ${before}`);
  await d.context.setOffline(false);
  await until("all is sent", async () => /All sent/.test(await d.page.locator(".state").textContent()));
  const { body } = await d.api(`/api/jobs/${job}/records`);
  const widths = body.records.filter((r) => r.record.kind === "note" && r.record.note.width);
  must(widths.length === 3, `the server holds ${widths.length} widths, not 3`);
  must(widths.every((r) => r.record.by.includes("onerror")), "the name on a reading is another than was typed");
  const photos = (await d.api(`/api/jobs/${job}/photos`)).body.photos;
  must(photos.length === 1 && photos[0].place === wall, `the photos are ${JSON.stringify(photos)}`);
  await d.press("Next", true);
  await d.page.getByRole("heading", { name: /RELEASE B1-back/ }).waitFor();
  await d.press("Yes", true);
  await d.see(/RELEASED: B1-back/);
  await look(d, "barn-released", { crew: true });
  await until("the server knows the release", async () => (await d.api(`/api/jobs/${job}/saw`)).body.materials.some((m) => m.pieces > 0));
}

/** photo attaches a small picture, made here. */
async function photo(d) {
  const png = await d.page.evaluate(async () => {
    const c = new OffscreenCanvas(640, 480);
    const x = c.getContext("2d");
    x.fillStyle = "#8a6c39";
    x.fillRect(0, 0, 640, 480);
    x.fillStyle = "#fff";
    x.fillRect(200, 100, 60, 300);
    return [...new Uint8Array(await (await c.convertToBlob({ type: "image/png" })).arrayBuffer())];
  });
  const has = await d.page.locator(".photos img").count();
  await d.page.locator('input[type="file"]').first().setInputFiles({ name: "b1 <b>back</b>.png", mimeType: "image/png", buffer: Buffer.from(png) });
  await until("the photo is shown", async () => (await d.page.locator(".photos img").count()) > has);
}

const pieces = async (d) => (await d.page.locator(".far [role=status]").first().textContent()).trim();

async function saw(a, b, job) {
  await b.go(`#/job/${job}/saw`);
  await b.page.locator(".ticket").waitFor();
  await a.go(`#/job/${job}/saw`);
  await a.page.locator(".ticket").waitFor();
  await look(a, "saw", { crew: true });
  await fits(a, "saw");
  if (!a.touch) await keyboard(a, "saw");
  const server = async (treated = false) => (await a.api(`/api/jobs/${job}/saw`)).body.materials.find((m) => m.item === "board" && m.treated === treated);
  const [lowest, first] = [await server(true), await server()];
  must(lowest.pieces === 1 && first.pieces > 10, `${lowest.pieces} treated and ${first.pieces} other boards are to be cut`);
  must((await pieces(a)) === "0 of 1 pieces", `the saw says ${await pieces(a)}`);
  // The one treated board is done; the other device goes on to the rest by itself.
  await a.press("Board done", true);
  await until("both devices go on to the other boards", async () => (await pieces(a)) === `0 of ${first.pieces} pieces` && (await pieces(b)) === (await pieces(a)));
  must((await server(true)).done === 1, "the server does not have the treated board");
  await a.press(/^One done/);
  await until("both devices count one", async () => (await pieces(a)) === `1 of ${first.pieces} pieces` && (await pieces(b)) === (await pieces(a)));
  // A wrong cut: the piece is not counted, the rest is planned again.
  await a.press("Wrong cut");
  await a.see("Which pieces are wrong?");
  await a.press(/^Wrong: /);
  await look(a, "saw-wrong", { crew: true });
  await a.press("Keep an offcut");
  await look(a, "saw-rest", { crew: true });
  await a.page.getByRole("group", { name: "Digits" }).getByRole("button", { name: "2", exact: true }).click();
  await a.press("inches", true);
  await tap(a, 3, "1/4");
  await a.press(/^Take 2' 3 1\/4"/);
  await a.press("Plan the rest again");
  const again = await until("the server has the wrong board", async () => {
    const m = await server();
    return m.wrong === 1 && m;
  });
  must(again.again && again.pieces === first.pieces, "the rest was not planned again");
  await a.see(/Cut last: .*, wrong/);
  await until("the other device knows of the wrong cut", async () => (await b.page.getByText("1 with a wrong cut").count()) > 0);
  const records = (await a.api(`/api/jobs/${job}/records`)).body.records;
  must(records.some((r) => r.record.cut?.wrong && r.record.cut.rest_nm?.[0] === 692150000), "the offcut of 2' 3 1/4\" is not in the records");
  // What was noted by mistake is taken back.
  await b.press(/^One done/);
  await until("a board more", async () => (await server()).boards === again.boards + 1);
  await b.press("Take it back");
  await until("the board is taken back", async () => (await server()).boards === again.boards);
  await a.shot("saw-again");
  await a.page.evaluate(() => (window.print = () => undefined));
  for (const [what, beside] of [["ticket", "2x6"], ["labels", "Free-standing row"]]) {
    await a.press(`Print the ${what}`);
    await paper(a, what, [await a.page.locator(".labels").first().textContent(), beside]);
    await a.page.evaluate(() => dispatchEvent(new Event("afterprint")));
  }
}

async function steps(a, b, job) {
  await b.go(`#/job/${job}/day`);
  await b.page.locator(".step").waitFor();
  await a.go(`#/job/${job}/day`);
  await a.page.locator(".step").waitFor();
  await look(a, "steps", { crew: true });
  await fits(a, "steps");
  if (!a.touch) await keyboard(a, "steps");
  await paper(a, "steps-paper", ["Tools"]);
  const title = async (d) => (await d.page.locator(".step h2").first().textContent()).trim();
  const progress = async () => (await a.api(`/api/jobs/${job}/progress`)).body;
  const first = await title(a);
  await a.press("Done", true);
  await until("the next step comes up", async () => (await title(a)) !== first);
  await until("the other device has come to it too", async () => (await title(b)) === (await title(a)));
  must((await progress()).steps.filter((s) => s.done).length === 1, "the server does not have the step");
  // A problem, with words that would be a page of their own, and a picture.
  await a.press("A problem");
  await photo(a);
  await a.page.getByLabel("What is wrong?").fill(`Post leans </p><script>alert(2)</script> "\u05e9\u05dc\u05d5\u05dd" ' &amp;`);
  await look(a, "steps-problem", { crew: true });
  await a.press("Write it down", true);
  await a.see(/Post leans <\/p><script>/);
  await until("the other device shows the problem with its photo", async () => (await b.page.getByText(/Post leans <\/p>/).count()) > 0 && (await b.page.locator(".photos img").count()) > 0);
  const problem = (await progress()).problems[0];
  must(problem.text.includes("<script>") && problem.photos.length === 1, `the problem is ${JSON.stringify(problem)}`);
  await a.press("Solved");
  await until("the problem is solved", async () => (await progress()).problems.every((p) => p.solved));
  // The rest is ticked off elsewhere; signing off is said here.
  const rest = await a.page.locator("details ol li a").evaluateAll((list) => list.map((e) => decodeURIComponent(e.hash.split("/day/")[1])));
  const at = new Date().toISOString();
  await a.api(`/api/jobs/${job}/records`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ records: rest.map((step, i) => ({ id: `story${i}`, at, by: "Ben", kind: "step", step: { step, done: true } })) }),
  });
  await a.see("All steps are done");
  await a.page.getByLabel(/^Signed off by/).fill("Ida");
  await look(a, "sign-off", { crew: true });
  await a.press("Sign off");
  await a.see(/Signed off by Ida/);
  await b.see(/Signed off by Ida/);
  must((await progress()).steps.some((s) => s.step === "sign-off" && s.done && s.by === "Ida"), "the server does not have the signature");
}
