// The main job at a desk and on a phone: find the worst joint, read why, try a what-if, decide, and
// print the sheet; nothing is known beforehand that a page does not say.

import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Bench, ENGINEER, PASSWORD } from "./bench.mjs";
import { DESK, PHONE, must, person, picture, signIn, step } from "./steps.mjs";

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
      await page.fill("#size", "8 thou");
      await page.locator("form:has(#size) button").click();
      await page.waitForSelector("section.result");
      const tried = await page.textContent("section.result");
      must(/If we/.test(tried), `the what-if says: ${tried}`);
      await picture(page, `job-what-if-${width}`);
      // The decision.
      await page.goto(`${bench.address}/joint/${encodeURIComponent(id)}`);
      await page.fill("#reason", "worn beyond its limit");
      await page.click("text=Record the decision");
      await page.waitForSelector("text=/Written/");
      must(/Decided:/.test(await page.textContent("main")), "the decision stands on the page");
      // The sheet.
      await page.click("a[href='/machine-to'] >> visible=true");
      const print = page.locator("a[href^='/paper/machine-to.pdf']").first();
      const href = await print.getAttribute("href");
      const answer = await context.request.get(bench.address + href);
      const bytes = await answer.body();
      must(bytes.subarray(0, 5).toString() === "%PDF-", "a PDF came");
      const file = join(bench.folder, "sheet.pdf");
      writeFileSync(file, bytes);
      const text = execFileSync("pdftotext", ["-layout", file, "-"], { encoding: "utf8" });
      must(/Machine to/i.test(text) && text.includes("±"), "sizes to make stand on the sheet");
      must(readFileSync(file).length > 5000, "the sheet has something on it");
      await picture(page, `job-machine-to-${width}`);
      await context.close();
    });
    await bench.throwAway();
  }
}
