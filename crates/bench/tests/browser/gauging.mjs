// Gauging by phone: with the bench in range, with it stopped, with answers lost, in two tabs, by two
// people, on the wrong book.

import { Bench } from "./bench.mjs";
import { OUT_OF_RANGE, PHONE, fits, lookOver, must, person, picture, same, signIn, step } from "./steps.mjs";

const BORE = "/gauging/big-end.right.bore";
/** A part that has a tag in the demo. */
const TAGGED = "connecting-rod.right";
const WAITING = "#gauging-waiting";

/** Chooses the gauge and the rest once. */
async function withWhat(page, gauge = "im-12") {
  await page.waitForSelector(".g");
  if (await page.locator("#with-gauge").count()) {
    await page.selectOption("#with-gauge", gauge);
    await page.fill("#with-warm", "12");
    await page.click("text=Use these");
  }
}

/** Types on the big keys. */
async function press(page, keys) {
  for (const key of keys) await page.click(`.g-pad button:text-is("${key}")`);
}
const digits = (text) => [...text].map((c) => (c === "-" ? "−" : c));

/** Types a figure and goes on; it is kept when the place has changed. */
async function figure(page, keys, { asked = false } = {}) {
  const before = await page.textContent(".g-place");
  await press(page, keys);
  await page.click(".g > .g-go .main");
  if (asked === "perhaps") {
    await page.waitForFunction((b) => document.querySelector(".g-asked p") || document.querySelector(".g-place")?.textContent !== b, before);
    if (await page.locator(".g-asked p").count()) await page.click("text=Yes, as typed");
  } else if (asked) {
    await page.click("text=Yes, as typed");
  }
  await page.waitForFunction((b) => document.querySelector(".g-place")?.textContent !== b || /Round finished/.test(document.querySelector(".g-verdict").textContent), before);
}

const waitingCount = (page) => page.locator(`${WAITING} li`).count();
/** The queue itself is empty, and the page says so. */
const noneWaiting = async (page) => {
  const empty = () => page.evaluate(() => new Promise((yes, no) => {
    const asked = indexedDB.open("pinchbar-gauging");
    asked.onerror = no;
    asked.onsuccess = () => {
      const count = asked.result.transaction("waiting").objectStore("waiting").count();
      count.onsuccess = () => { asked.result.close(); yes(count.result === 0); };
    };
  }));
  for (let n = 0; !await empty(); n += 1) {
    must(n < 200, `still waiting: ${await page.textContent("#gauging-waiting")}`);
    await page.waitForTimeout(100);
  }
  await page.waitForFunction(() => document.querySelectorAll("#gauging-waiting li").length === 0);
};
/** The worker has the pages. */
const kept = (page) => page.evaluate(() => navigator.serviceWorker.ready.then(() => new Promise((yes) => {
  const look = async () => ((await caches.keys()).some((n) => n.startsWith("pinchbar-gauging")) && navigator.serviceWorker.controller ? yes() : setTimeout(look, 50));
  look();
})));

const FIGURES = ["7.711", "7.708", "7.704", "7.707", "7.712", "7.709", "7.705", "7.708"];

async function inRange(browser) {
  const bench = await Bench.ofTheDemo();
  await bench.start();
  const phone = await person(browser, { expected: [/422/] });
  const page = await phone.newPage();

  await step("the list: a search, a tag, and pictures of both", async () => {
    await signIn(page, bench, "M.E.", { then: "/gauging" });
    await page.waitForSelector(".g-list");
    await picture(page, "gauging-list-390");
    await page.fill("#what", "right big end");
    await page.waitForSelector("text=big-end.right.bore");
    const { tag } = JSON.parse(bench.ask("book", "where", bench.book, "connecting-rod.right", "--json"));
    await page.goto(`${bench.address}/gauging/${tag ?? "connecting-rod.right"}`);
    await page.waitForSelector(".gauging-lines a");
    await picture(page, "gauging-part-390");
  });

  await step("no gauge named is asked back once, and not again", async () => {
    await page.goto(`${bench.address}/gauging/big-end.left.bore`);
    await page.waitForSelector("#with-gauge");
    await page.click("text=Use these");
    await page.waitForSelector("text=/count for nothing/");
    await lookOver(page, "no gauge named");
    await picture(page, "gauging-no-gauge-390");
    await page.click("text=Name one");
    same(await page.locator("text=/count for nothing/").count(), 0, "taken back");
    await page.click("text=Use these");
    await page.click("text=Yes, without");
    await page.waitForSelector(".g:not(.g-asks-with)");
    await page.goto(`${bench.address}/gauging/crank-pin.left`);
    await page.waitForSelector(".g");
    same(await page.locator("#with-gauge").count(), 0, "it is not asked at the next surface");
    must(/will not count/.test(await page.textContent(".g")), "it is told all the same");
    await page.evaluate(() => new Promise((yes) => { const r = indexedDB.open("pinchbar-gauging"); r.onsuccess = () => { const t = r.result.transaction("kept", "readwrite"); t.objectStore("kept").delete("settings"); t.oncomplete = () => { r.result.close(); yes(); }; }; }));
  });

  await step("fractions and thou on the keys, the verdict at once, an inch too many asked about", async () => {
    await page.goto(bench.address + BORE);
    await withWhat(page);
    await picture(page, "gauging-390");
    await figure(page, ["7", "and", "1", "1", "/16", "+", "2", "3"]);
    await page.waitForSelector(".g-verdict .verdict");
    await press(page, digits("8.711"));
    await page.click(".g > .g-go .main");
    await page.waitForSelector(".g-asked p");
    const asked = await page.textContent(".g-asked");
    must(/1 in larger than the others just typed/.test(asked) && /typed right\?/.test(asked), `asked: ${asked}`);
    await picture(page, "gauging-asked-390");
    await page.click("text=Change it");
    await figure(page, digits("7.708"));
    await noneWaiting(page);
    same(bench.gauged().map((r) => [r.reading, r.station, r.direction, r.by, r.gauge]), [
      ["7 11/16 in + 23 thou", "A", "0", "M.E.", "im-12"], ["7.708 in", "A", "45", "M.E.", "im-12"],
    ], "what stands in the book");
    await lookOver(page, "gauging, in range");
    await fits(page, "gauging");
  });

  await step("the phone reads figures out of range as the bench does", async () => {
    const wrong = await page.evaluate(async () => {
      const { metres } = await import(performance.getEntriesByType("resource").map((e) => e.name).find((n) => /gauging-figures/.test(n)));
      const out = [];
      for (const text of ["7.7476 in", "8 3/16 in", "8-3/16 in", "8 3/16\"", "3/16", "7 11/16 in + 23 thou", "7 11/16 in - 3 thou", "208 mm - 4 hundredths", "209.52 mm", "5.0768\"",
        "23 thou", ".5 in", "12 mm", "7 7/9 in", "seven in", "1..2 mm", "7.5 3/16 in", "7 11/16 in +", "/16 in", "1,5 mm", "8 3/16 + 3 thou"]) {
        const asked = new URLSearchParams({ feature: "big-end.right.bore", station: "A", direction: "0", reading: text });
        const answer = await fetch(`/gauging/-/check?${asked}`, { headers: { accept: "application/json" } });
        const bench = answer.status === 200 ? (await answer.json()).si : null, ours = metres(text, "mm");
        if (bench === null ? ours !== null : ours === null || Math.abs(bench - ours) > 1e-12) out.push(`${text}: bench ${bench}, phone ${ours}`);
      }
      return out;
    });
    same(wrong, [], "read otherwise");
  });

  await step("every key is 48 px or more", async () => {
    const small = await page.locator(".g button:visible, .g a:visible").evaluateAll((all) => all.map((b) => ({ b: b.textContent, ...b.getBoundingClientRect().toJSON() }))
      .filter((r) => r.height < 48 || r.width < 40).map((r) => `${r.b} ${Math.round(r.width)} x ${Math.round(r.height)}`));
    // Links inside a sentence are not targets to hit with a glove.
    same(small.filter((s) => !/right big end/.test(s)), [], "too small");
  });

  await step("a figure typed wrong is struck out and put right", async () => {
    await page.locator(".g-strip button").nth(1).click();
    await page.click("[aria-label=Clear]");
    await press(page, digits("7.709"));
    await page.click(".g > .g-go .main");
    await page.waitForSelector("text=/will be struck out/");
    await page.click("text=Yes, as typed");
    await page.waitForFunction(() => /7.709 in/.test(document.querySelectorAll(".g-strip button")[1].textContent));
    await noneWaiting(page);
    same(bench.gauged().map((r) => [r.reading, r["struck out"] !== ""]), [
      ["7 11/16 in + 23 thou", false], ["7.708 in", true], ["7.709 in", false],
    ], "what stands in the book");
  });

  await step("a key pressed twice by a heavy finger counts once", async () => {
    await page.goto(`${bench.address}/gauging/big-end.left.bore`);
    await page.waitForSelector(".g-place");
    await press(page, digits("7.702"));
    await page.locator(".g > .g-go .main").dblclick();
    await page.waitForFunction(() => / 2 of /.test(document.querySelector(".g-place").textContent));
    await noneWaiting(page);
    await page.waitForTimeout(300);
    must(/ 2 of /.test(await page.textContent(".g-place")), "it went on by one place");
    same(bench.gauged().filter((r) => r.feature === "big-end.left.bore").length, 1, "times in the book");
    await page.goto(bench.address + BORE);
    await page.waitForSelector(".g-place");
  });

  await step("yes, as typed, is kept as a note", async () => {
    await page.locator(".g-strip button").nth(2).click();
    await figure(page, digits("7.609"), { asked: true });
    await noneWaiting(page);
    const last = bench.gauged().at(-1);
    must(/yes, as typed/.test(last.note), `the note is ${last.note}`);
  });
  await phone.close();
  await bench.throwAway();
}

async function outOfRange(browser) {
  const bench = await Bench.ofTheDemo();
  await bench.start();
  const phone = await person(browser, { expected: [OUT_OF_RANGE] });
  let page = await phone.newPage();

  await step("eight figures with the bench stopped, the tab closed and opened, each in the book once", async () => {
    await signIn(page, bench, "M.E.", { then: "/gauging" });
    await page.waitForSelector(".g-list");
    await kept(page);
    // Never opened before it is out of range.
    await bench.stop();
    await page.goto(bench.address + BORE);
    await withWhat(page);
    await page.click('.g-units button:text-is("in")');
    for (const f of FIGURES.slice(0, 5)) await figure(page, digits(f));
    same(await waitingCount(page), 5, "waiting");
    await page.click(`${WAITING} summary`);
    await picture(page, "gauging-waiting-390");
    await lookOver(page, "gauging, out of range");
    await page.close();
    page = await phone.newPage();
    await page.goto(bench.address + BORE);
    await page.waitForSelector(".g");
    same(await waitingCount(page), 5, "waiting after the tab was opened again");
    for (const f of FIGURES.slice(5)) await figure(page, digits(f));
    must(/Out of range: 8 waiting/.test(await page.textContent(WAITING)), "eight are told to be waiting");
    await bench.start();
    // The server forgot who was signed in.
    await page.waitForSelector("text=Sign in to send the 8 waiting");
    await picture(page, "gauging-sign-in-390");
    same(bench.gauged().length, 0, "nothing is written before somebody signs in");
    await page.click("text=Sign in to send the 8 waiting");
    await page.selectOption("#name", "M.E.");
    await page.click("main button.main");
    await page.waitForSelector(".g");
    await noneWaiting(page);
    same(bench.gauged().map((r) => r.reading), FIGURES.map((f) => `${f} in`), "what stands in the book");
  });

  await step("a tag's own link opens with the bench stopped: its figures are in the book once", async () => {
    const { tag } = JSON.parse(bench.ask("book", "where", bench.book, TAGGED, "--json"));
    must(tag, `${TAGGED} has a tag`);
    // In range the link leads to the part, as it always did: the worker keeps out of the way.
    await page.goto(`${bench.address}/tag/${tag}`);
    await page.waitForURL(/\/part\//);
    await bench.stop();
    const fresh = await phone.newPage();
    await fresh.goto(`${bench.address}/tag/${tag}`);
    await fresh.waitForSelector(".gauging-lines a, .g");
    await picture(fresh, "gauging-tag-out-of-range-390");
    if (await fresh.locator(".gauging-lines a").count()) await fresh.locator(".gauging-lines a").first().click();
    await withWhat(fresh);
    const feature = decodeURIComponent(new URL(fresh.url()).pathname.split("/").at(-1));
    await fresh.click('.g-units button:text-is("mm")');
    await figure(fresh, digits("130"), { asked: "perhaps" });
    same(await waitingCount(fresh), 1, "waiting");
    // Out of range every other page is what it is in any browser: not there.
    const lost = await phone.newPage();
    must(await lost.goto(`${bench.address}/book`).then(() => false, () => true), "another page is not made up");
    await lost.close();
    await bench.start();
    await signIn(fresh, bench, "M.E.", { then: "/gauging" });
    await noneWaiting(fresh);
    same(bench.gauged().filter((r) => r.reading === "130 mm").map((r) => r.by), ["M.E."], `times in the book, of ${feature}`);
    await fresh.close();
    await page.goto(bench.address + BORE);
    await page.waitForSelector(".g-units");
    await page.click('.g-units button:text-is("in")');
  });

  await step("an answer lost after it was written: sent again, written once", async () => {
    await page.locator(".g-strip button").nth(8).click();
    let lost = 0;
    await page.route("**/gauging/-/reading", async (route) => {
      if (lost > 0) return route.continue();
      lost += 1;
      await route.fetch();
      return route.abort("connectionreset");
    });
    await figure(page, digits("7.713"));
    await noneWaiting(page);
    same(lost, 1, "answers lost");
    same(bench.gauged().filter((r) => r.reading === "7.713 in").length, 1, "times in the book");
    await page.unroute("**/gauging/-/reading");
  });

  await step("an answer lost, the tab closed, the bench started again: still once", async () => {
    await page.locator(".g-strip button").nth(9).click();
    await page.route("**/gauging/-/reading", async (route) => { await route.fetch(); await bench.stop(); return route.abort("connectionreset"); });
    await figure(page, digits("7.710"));
    await page.waitForFunction(() => /no answer came/.test(document.querySelector("#gauging-waiting").textContent));
    await page.close();
    await bench.start();
    page = await phone.newPage();
    await signIn(page, bench, "M.E.", { then: BORE });
    await page.waitForSelector(".g");
    await noneWaiting(page);
    same(bench.gauged().filter((r) => r.reading === "7.710 in").length, 1, "times in the book");
  });

  await step("two tabs send one queue once; what is taken back is not sent", async () => {
    await bench.stop();
    await page.locator(".g-strip button").nth(10).click();
    await figure(page, digits("7.706"));
    await figure(page, digits("7.705"));
    const other = await phone.newPage();
    await other.goto(`${bench.address}/gauging`);
    await other.waitForSelector(".g-list");
    same(await waitingCount(other), 2, "waiting in the other tab");
    await other.click(`${WAITING} summary`);
    await other.locator(`${WAITING} li`, { hasText: "7.705" }).getByRole("button", { name: "Take back" }).click();
    await page.waitForFunction(() => document.querySelectorAll("#gauging-waiting li").length === 1);
    await bench.start();
    const third = await phone.newPage();
    await signIn(third, bench, "M.E.", { then: "/gauging" });
    await Promise.all([noneWaiting(page), noneWaiting(other), noneWaiting(third)]);
    same(bench.gauged().filter((r) => r.reading === "7.706 in").length, 1, "times in the book");
    same(bench.gauged().filter((r) => r.reading === "7.705 in").length, 1, "only the one sent before");
    await other.close();
    await third.close();
  });

  await step("a figure of one person is not sent as another's", async () => {
    await bench.stop();
    await page.goto(`${bench.address}/gauging/big-end.left.bore`);
    await withWhat(page);
    await figure(page, digits("7.702"));
    await bench.start();
    await signIn(page, bench, "T.O.", { then: "/gauging" });
    await page.waitForSelector("text=/sent when M.E. signs in/", { state: "attached" });
    same(bench.gauged().filter((r) => r.feature === "big-end.left.bore").length, 0, "written by another");
    await signIn(page, bench, "M.E.", { then: "/gauging" });
    await noneWaiting(page);
    same(bench.gauged().filter((r) => r.feature === "big-end.left.bore").length, 1, "written by M.E.");
  });

  await step("what was typed for one book never goes into another", async () => {
    await bench.stop();
    await page.goto(`${bench.address}/gauging/big-end.left.bore`);
    await page.waitForSelector(".g");
    await figure(page, digits("7.703"));
    const other = await Bench.ofTheDemo();
    other.port = bench.port;
    await other.start();
    await signIn(page, other, "M.E.", { then: "/gauging" });
    await page.waitForSelector("text=/typed for another book/", { state: "attached" });
    await page.waitForTimeout(1500);
    same(other.gauged().length, 0, "written into the other book");
    await other.throwAway();
    await bench.start();
    await signIn(page, bench, "M.E.", { then: "/gauging" });
    await noneWaiting(page);
    same(bench.gauged().filter((r) => r.reading === "7.703 in").length, 1, "written into its own");
  });

  await step("a refused figure stays and says why", async () => {
    await signIn(page, bench, "R.V.", { password: "the demo password", then: "/gauging/big-end.left.bore" });
    await page.waitForSelector(".g");
    // A gauge that the book does not know any more.
    await page.route("**/gauging/-/reading", (route) => {
      const body = new URLSearchParams(route.request().postData());
      body.set("gauge", "lost-1");
      route.continue({ postData: body.toString() });
    });
    await figure(page, digits("7.701"));
    await page.waitForSelector("text=/there is no gauge/", { state: "attached" });
    must(/1 refused/.test(await page.textContent(WAITING)), "it is told to be refused");
    await page.unroute("**/gauging/-/reading");
    await page.locator(`${WAITING} li`).getByRole("button", { name: "Try again" }).click();
    await noneWaiting(page);
    same(bench.gauged().filter((r) => r.reading === "7.701 in").length, 1, "times in the book");
  });
  await phone.close();
  await bench.throwAway();
}

async function twoPeople(browser) {
  const bench = await Bench.ofTheDemo();
  await bench.start();
  await step("two people gauge at once: every figure once, under its own name", async () => {
    const people = await Promise.all(["M.E.", "T.O."].map(async (name) => {
      const phone = await person(browser);
      const page = await phone.newPage();
      await signIn(page, bench, name, { then: name === "M.E." ? BORE : "/gauging/big-end.left.bore" });
      await withWhat(page);
      return { phone, page };
    }));
    await Promise.all(people.map(({ page }) => (async () => { for (const f of FIGURES.slice(0, 4)) await figure(page, digits(f)); await noneWaiting(page); })()));
    const by = (name) => bench.gauged().filter((r) => r.by === name).map((r) => r.reading);
    same(by("M.E."), FIGURES.slice(0, 4).map((f) => `${f} in`), "by M.E.");
    same(by("T.O."), FIGURES.slice(0, 4).map((f) => `${f} in`), "by T.O.");
    for (const { phone } of people) await phone.close();
  });

  await step("without script: the form asks, takes and answers", async () => {
    const plain = await person(browser, { viewport: PHONE, javaScriptEnabled: false });
    const page = await plain.newPage();
    await signIn(page, bench, "M.E.", { then: "/gauging" });
    await page.fill("#what", "right big-end");
    await page.click("main form button");
    await page.click("main a[href='/gauging/big-end.right.bore']");
    await picture(page, "gauging-form-390");
    await page.selectOption("#gauge", "im-12");
    await page.selectOption("#unit", "in");
    await page.fill("#r4", "7 11/16 + 24 thou");
    await page.fill("#r5", "8.709");
    await page.fill("#r6", "seven");
    await page.click("#gauging-form button.main");
    const told = await page.textContent("main");
    must(/1 in larger/.test(told) && /Nothing is written yet/.test(told), "it asks about the inch");
    await picture(page, "gauging-form-asked-390");
    const before = bench.gauged().length;
    await page.fill("#r6", "7.705");
    await page.check("input[name=y5]");
    await page.fill("#r4", "7 11/16 in + 24 thou");
    await page.click("#gauging-form button.main");
    await page.waitForSelector("text=/Written/");
    same(bench.gauged().slice(before).map((r) => r.reading), ["7 11/16 in + 24 thou", "8.709 in", "7.705 in"], "what stands in the book");
    await plain.close();
  });
  await bench.throwAway();
}

export async function gauging(browser) {
  await inRange(browser);
  await outOfRange(browser);
  await twoPeople(browser);
}
