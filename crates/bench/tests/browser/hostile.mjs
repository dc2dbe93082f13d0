// What somebody who means harm would try: passwords by the hundred, forms from elsewhere, files that
// are not what they say.

import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { Bench, ENGINEER, PASSWORD } from "./bench.mjs";
import { DESK, must, person, same, signIn, step } from "./steps.mjs";

const REFUSED = [/Failed to load resource/];
/** A picture of one dot (PNG, W3C recommendation). */
const DOT = Buffer.from("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==", "base64");
const SCRIPTED = '<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"><script>alert(1)</script></svg>';

export async function hostile(browser) {
  const bench = await Bench.ofTheDemo();
  await bench.start();

  await step("wrong passwords are slowed down, and the right one waits too", async () => {
    const context = await person(browser, { viewport: DESK, expected: REFUSED });
    const page = await context.newPage();
    await page.goto(`${bench.address}/sign-in`);
    const answers = await page.evaluate(async ([name, right]) => {
      const token = document.querySelector("[name=token]").value, out = [];
      for (let n = 0; n < 9; n += 1) {
        const body = new URLSearchParams({ token, name, password: n < 8 ? `wrong ${n}` : right });
        out.push((await fetch("/sign-in", { method: "POST", body, redirect: "manual" })).status);
      }
      return out;
    }, [ENGINEER, PASSWORD]);
    must(answers.slice(0, 5).every((a) => a === 401) && answers.at(-1) === 429, `answers were ${answers}`);
    // The wait ends: it grows with every slip, so a slow machine has a longer one.
    const later = await page.evaluate(async ([name, password]) => {
      const token = document.querySelector("[name=token]").value;
      for (let n = 0; n < 30; n += 1) {
        await new Promise((done) => setTimeout(done, 1000));
        const answer = await fetch("/sign-in", { method: "POST", body: new URLSearchParams({ token, name, password }), redirect: "manual" });
        if (answer.type === "opaqueredirect") return "in";
        if (answer.status !== 429) return answer.status;
      }
      return "still waiting";
    }, [ENGINEER, PASSWORD]);
    same(later, "in", "after the wait");
    await context.close();
  });

  await step("a form from elsewhere, without a token, or with another's token is not taken", async () => {
    const context = await person(browser, { expected: REFUSED });
    const page = await context.newPage();
    await signIn(page, bench, "M.E.");
    const tried = await page.evaluate(async () => {
      const { book } = await (await fetch("/gauging/-/session")).json();
      const body = new URLSearchParams({ book, key: "k1", feature: "big-end.right.bore", reading: "7.7 in" });
      const send = async (headers) => (await fetch("/gauging/-/reading", { method: "POST", body, headers: { accept: "application/json", ...headers } })).status;
      return [await send({}), await send({ "x-token": "0".repeat(64) })];
    });
    same(tried, [403, 403], "answers");
    const { cookie } = { cookie: (await context.cookies()).map((c) => `${c.name}=${c.value}`).join("; ") };
    const { token, book } = await page.evaluate(async () => (await fetch("/gauging/-/session")).json());
    const foreign = await fetch(`${bench.address}/gauging/-/reading`, {
      method: "POST", headers: { cookie, "x-token": token, origin: "http://evil.test", accept: "application/json" },
      body: new URLSearchParams({ book, key: "k2", feature: "big-end.right.bore", reading: "7.7 in" }),
    });
    same(foreign.status, 403, "from another page");
    same(bench.gauged().length, 0, "written");
    await context.close();
  });

  await step("figures and names that are none are refused in words", async () => {
    const context = await person(browser, { expected: REFUSED });
    const page = await context.newPage();
    await signIn(page, bench, "M.E.");
    const send = (fields) => page.evaluate(async (given) => {
      const { book, token } = await (await fetch("/gauging/-/session")).json();
      const body = new URLSearchParams({ book, feature: "big-end.right.bore", reading: "7.7 in", ...given });
      const answer = await fetch("/gauging/-/reading", { method: "POST", body, headers: { accept: "application/json", "x-token": token } });
      return { status: answer.status, body: await answer.json() };
    }, fields);
    for (const [n, fields] of [
      { reading: "=cmd()" }, { reading: "NaN" }, { reading: "inf in" }, { reading: "1e999 in" }, { reading: "7.7 in\nbig-end.left.bore,,,1 in" },
      { reading: "12 psi" }, { reading: "x".repeat(3000) }, { station: "Z" }, { direction: "up" }, { gauge: "../../etc/passwd" }, { feature: "<script>" }, { when: "2026-02-31" }, { temperature: "9000" },
    ].entries()) {
      const { status, body } = await send({ key: `bad-${n}`, ...fields });
      must(status === 422 && body.title, `${JSON.stringify(fields)} gave ${status}`);
    }
    for (const key of ["", "with space", "k".repeat(101)]) same((await send({ key })).status, 422, `key "${key}"`);
    same((await send({ key: "one" })).status, 200, "a good one");
    same((await send({ key: "one", reading: "7.8 in" })).status, 422, "its key with another figure");
    same((await send({ key: "two", book: "0".repeat(32) })).status, 409, "another book");
    same(bench.gauged().length, 1, "written");
    await context.close();
  });

  await step("addresses that lead out of the house lead nowhere", async () => {
    for (const path of ["/gauging/..%2F..%2Fetc%2Fpasswd", "/asset/..%2Fbench.css", "/gauging/-/..%2Fsession", "/gauging/%00", "/gauging/%FF"]) {
      const answer = await fetch(bench.address + path);
      must([400, 404].includes(answer.status), `${path} gave ${answer.status}`);
      must(!/root:/.test(await answer.text()), path);
    }
    const { status } = await fetch(`${bench.address}/sign-in?then=//evil.test/`);
    same(status, 200, "sign in");
    const elsewhere = await fetch(`${bench.address}/`, { headers: { host: "evil.test" } }).catch(() => ({ status: 421 }));
    same([421, 200].includes(elsewhere.status), true, "another name");
  });

  await step("a file is what its content says: svg named .jpg, html, and a huge one are refused", async () => {
    const context = await person(browser, { viewport: DESK, expected: REFUSED });
    const page = await context.newPage();
    await signIn(page, bench, "M.E.", { then: "/part/connecting-rod.right" });
    const field = page.locator("input[type=file]").first();
    if (!await field.count()) throw new Error("the part's page takes no photograph");
    const show = async () => { for (const d of await page.locator("details:has(input[type=file])").all()) await d.evaluate((e) => { e.open = true; }); };
    const send = async (name, content) => {
      await page.goto(`${bench.address}/part/connecting-rod.right`);
      await show();
      await field.setInputFiles(typeof content === "string" ? content : { name, mimeType: "image/jpeg", buffer: content });
      const form = page.locator("form:has(input[type=file])").first();
      const [answer] = await Promise.all([
        page.waitForResponse((r) => r.request().method() === "POST").catch(() => null),
        form.locator("button").last().click(),
      ]);
      return answer?.status() ?? 0;
    };
    for (const [name, content] of [["cat.jpg", SCRIPTED], ["cat.jpg", "<html><script>alert(1)</script></html>"], ["cat.png", "MZ\x90\x00"], ["..\\..\\x.jpg", ""]]) {
      const status = await send(name, Buffer.from(content));
      must(status >= 400 && status < 500, `${name} gave ${status}`);
    }
    const huge = join(bench.folder, "huge.jpg");
    writeFileSync(huge, Buffer.alloc(40 << 20, 0xff));
    const status = await send("huge.jpg", huge);
    must(status === 413 || status === 0 || status === 422, `a huge one gave ${status}`);
    same(await send("dot.png", DOT), 303, "a good one");
    await context.close();
  });
  await bench.throwAway();
}
