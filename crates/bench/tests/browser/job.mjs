// The main job at a desk and on a phone: find the worst joint, read why, try a what-if, decide, and
// print the sheet; nothing is known beforehand that a page does not say.

import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Bench, ENGINEER, PASSWORD } from "./bench.mjs";
import { DESK, PHONE, must, person, picture, same, signIn, step } from "./steps.mjs";

export async function job(browser) {
  for (const [width, viewport] of [["1280", DESK], ["390", PHONE]]) {
    const bench = await Bench.ofTheDemo();
    await bench.start();
    await step(`from signing in to a printed machine-to sheet, at ${width} px`, async () => {
      const context = await person(browser, { viewport });
      const page = await context.newPage();
      await signIn(page, bench, ENGINEER, { password: PASSWORD });
      // The worst joint stands first.
      const { summary: { joints } } = JSON.parse(bench.ask("judge", bench.book, "--today", "2026-11-20", "--json"));
      const first = page.locator("main ol.joints a").first();
      await first.click();
      await page.waitForURL(/\/joint\//);
      const id = decodeURIComponent(new URL(page.url()).pathname.split("/")[2]);
      must(joints.slice(0, 30).some((j) => j.id === id && j.verdict === "beyond"), `${id} is beyond`);
      const told = await page.textContent("main");
      must(/beyond/.test(told) && /limit/i.test(told), "the page says why");
      await picture(page, `job-joint-${width}`);
      // A what-if.
      const units = await page.locator("#unit option").allTextContents();
      must(units.length >= 3, `the size says its unit: ${units}`);
      const trying = async (size, unit) => {
        await page.selectOption("#unit", unit);
        await page.fill("#size", size);
        await page.locator("form:has(#size) button").click();
        await page.waitForSelector("section.result");
        return page.textContent("section.result");
      };
      const slip = await trying("8", "thou");
      must(/was made/.test(slip) && /whole size/.test(slip), `an amount is no size: ${slip}`);
      await page.goto(`${bench.address}/joint/${encodeURIComponent(id)}`);
      const tried = await trying("1 13/32", "in");
      must(/If we .* 1 13\/32 in/.test(tried), `the what-if says: ${tried}`);
      must(await page.locator("#tried").evaluate((e) => { const { top } = e.getBoundingClientRect(); return top >= -2 && top < innerHeight; }), "the answer is what one sees");
      await picture(page, `job-what-if-${width}`);
      // The decision.
      await page.goto(`${bench.address}/joint/${encodeURIComponent(id)}`);
      await page.fill("#reason", "worn beyond its limit");
      await page.click("text=Record the decision");
      await page.waitForSelector("text=/Written/");
      must(/Decided:/.test(await page.textContent("main")), "the decision stands on the page");
      // The sheet stands with the decision.
      const print = page.locator(".decided a[href^='/paper/machine-to.pdf']");
      must(await print.isVisible(), "the sheet is one step from the decision");
      await picture(page, `job-decided-${width}`);
      const href = await print.getAttribute("href");
      const answer = await context.request.get(bench.address + href);
      const bytes = await answer.body();
      must(bytes.subarray(0, 5).toString() === "%PDF-", "a PDF came");
      const file = join(bench.folder, "sheet.pdf");
      writeFileSync(file, bytes);
      const text = execFileSync("pdftotext", ["-layout", file, "-"], { encoding: "utf8" });
      must(/Machine to/i.test(text) && text.includes("±"), "sizes to make stand on the sheet");
      must(readFileSync(file).length > 5000, "the sheet has something on it");
      await page.click(".decided a[href='/machine-to']");
      must(/1 of them decided|decided/.test(await page.textContent(".holding")), "the list knows of it");
      await picture(page, `job-machine-to-${width}`);
      await context.close();
    });
    await bench.throwAway();
  }

  const bench = await Bench.ofTheDemo();
  await bench.start();
  await step("the same without script, from signing in to the sheet", async () => {
    const context = await person(browser, { viewport: PHONE, javaScriptEnabled: false });
    const page = await context.newPage();
    await signIn(page, bench, ENGINEER, { password: PASSWORD });
    await page.locator("main ol.joints a").first().click();
    const here = page.url();
    for (const [size, unit, said] of [["7 11/16", "mm", "7 11/16 in"], ["7 11/16 in + 23 thou", "mm", "7 11/16 in + 23 thou"], ["35.2", "mm", "35.2 mm"]]) {
      await page.goto(here.split(/[?#]/)[0]);
      await page.fill("#size", size);
      await page.selectOption("#unit", unit);
      await page.locator("form:has(#size) button").click();
      const told = await page.textContent("#tried");
      must(told.includes(said) || /cannot be tried/.test(told), `${size} ${unit}: ${told}`);
      must(!/unit/.test(told), `its unit was understood: ${told}`);
    }
    await page.goto(here.split(/[?#]/)[0]);
    await page.fill("#reason", "worn beyond its limit");
    await page.click("text=Record the decision");
    must(/Decided:/.test(await page.textContent(".holding")), "the decision stands");
    const answer = await context.request.get(bench.address + await page.locator(".decided a.main").getAttribute("href"));
    same((await answer.body()).subarray(0, 5).toString(), "%PDF-", "the sheet");
    await context.close();
  });

  await step("two people at one part at once: both are written, each page says whose word is last", async () => {
    const both = await Promise.all(["M.E.", "T.O."].map(async (name) => {
      const context = await person(browser, { viewport: DESK });
      const page = await context.newPage();
      await signIn(page, bench, name, { then: "/part/connecting-rod.left" });
      return { name, context, page };
    }));
    const before = Number((await both[0].page.textContent("footer")).match(/entry (\d+)/)[1]);
    await Promise.all(both.map(async ({ name, page }) => {
      await page.locator("#remark").fill(`a remark of ${name}`);
      await page.click("text=Write the remark");
      await page.waitForSelector("text=/Written/");
    }));
    for (const { page } of both) {
      await page.goto(`${bench.address}/part/connecting-rod.left`);
      const told = await page.textContent("main");
      must(both.every(({ name }) => told.includes(`a remark of ${name}`)), "both remarks stand");
      must((await page.textContent("footer")).includes(`entry ${before + 2}`), "two entries and no more");
    }
    // Another program writes into the same book meanwhile.
    bench.ask("book", "note", bench.book, "connecting-rod.left", "said at the command line", "--by", "M.E.");
    await both[1].page.waitForTimeout(600);
    await both[1].page.reload();
    must((await both[1].page.textContent("main")).includes("said at the command line"), "what another program wrote is shown");
    for (const { context } of both) await context.close();
  });
  await bench.throwAway();
}
