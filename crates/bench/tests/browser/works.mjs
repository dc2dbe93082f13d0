// A day in the shop without script: the list for those who are there, a work moved, ticked, stuck; a
// card and a lift sheet printed; and what the responsible engineer signs.

import { Bench, ENGINEER, PASSWORD } from "./bench.mjs";
import { DESK, PHONE, fits, lookOver, must, person, picture, signIn, step } from "./steps.mjs";

const isPdf = async (context, address, what) => {
  const answer = await context.request.get(address);
  must(answer.status() === 200, `${what} answers ${answer.status()}`);
  must((await answer.body()).subarray(0, 5).toString() === "%PDF-", `${what} is a PDF`);
};

export async function works(browser) {
  const bench = await Bench.ofTheDemo();
  await bench.start();
  await step("a fitter's day by plain forms, at 390 px", async () => {
    const context = await person(browser, { viewport: PHONE, javaScriptEnabled: false, expected: [/422/] });
    const page = await context.newPage();
    const { people } = await (await context.request.get(`${bench.address}/api/people`)).json();
    const fitter = people.find((p) => p.roles.includes("fits") && !p.password);
    must(fitter, "the demo has a fitter");
    await signIn(page, bench, fitter.name, { then: "/today" });
    await picture(page, "works-today-390");
    await fits(page, "/today of a fitter");
    const first = await page.locator("ol.tickets h3 a").first().textContent();
    // Two hours in the rain without the crane.
    await page.fill("#hours", "2");
    await page.check("input[name=weather][value=rain]");
    await page.click("text=Make the list");
    must(/hours=2/.test(page.url()) && /weather=rain/.test(page.url()), "the day is in the address");
    must(await page.locator("input[name=weather][value=rain]").isChecked(), "and stays in the form");
    await page.goto(`${bench.address}/today`);
    await page.locator("ol.tickets .acts button.main").first().click();
    await page.waitForSelector("text=/Written/");
    const next = await page.locator("ol.tickets h3 a").first().textContent();
    must(next !== first, `${first} is ticked off the list`);
    // One of the first works may change places with the one above it.
    let moved = false;
    for (let n = 0; n < 8 && !moved; n += 1) {
      const earlier = page.locator("form.moves button", { hasText: "Earlier" }).nth(n);
      if (!await earlier.count()) break;
      await earlier.click();
      moved = /Written/.test(await page.textContent("body"));
      if (!moved) {
        must(/cannot come before/.test(await page.textContent("body")), "who may not move it is told why");
        await page.goto(`${bench.address}/today`);
      }
    }
    must(moved, "a work was moved");
    await picture(page, "works-moved-390");
    const ticket = page.locator("ol.tickets li", { has: page.locator("details form") }).first();
    const name = await ticket.locator("h3 a").first().textContent();
    await ticket.locator("summary", { hasText: "stuck" }).click();
    await ticket.locator("input[name=why]").fill("will not move");
    await ticket.locator("button", { hasText: "plan around it" }).click();
    await page.waitForSelector("text=/Written/");
    await page.goto(`${bench.address}/plan`);
    must((await page.textContent("main")).includes("will not move"), `${name} is told as stuck`);
    await picture(page, "works-stuck-390");
    // A work that has one way alone stops the plan until the word is taken back.
    if (/cannot be planned/.test(await page.textContent("main"))) {
      await page.locator("main ul.plain a[href^='/work/']").first().click();
      await page.fill("#undone", "it moved with more heat");
      await page.locator("form:has(#undone) button").click();
      await page.waitForSelector("text=/Written/");
      await page.goto(`${bench.address}/plan`);
    }
    await picture(page, "works-plan-390");
    await page.locator(".lines a[href^='/work/']").first().click();
    await picture(page, "works-work-390");
    const card = await page.locator("a[href^='/paper/card/']").first().getAttribute("href");
    await isPdf(context, bench.address + card, "its job card");
    await isPdf(context, `${bench.address}/paper/day.pdf`, "the day's list");
    await page.goto(`${bench.address}/lifts`);
    await page.locator("main a[href^='/lift/']").first().click();
    const lift = await page.locator("a[href^='/paper/lift/']").first().getAttribute("href");
    await isPdf(context, bench.address + lift, "the lift sheet");
    await context.close();
  });
  await step("a concession signed and closed, a dossier, a copy, at 1280 px", async () => {
    const context = await person(browser, { viewport: DESK });
    const page = await context.newPage();
    await signIn(page, bench, ENGINEER, { password: PASSWORD, then: "/concessions" });
    await page.locator("main a[href*='#concession']").first().click();
    await page.click("text=Give a concession");
    await page.fill("#concession-what", "to the yard and back, light engine");
    await page.fill("#until", "2099-12-31");
    await page.fill("#concession-reason", "the new bolt is on order");
    await page.fill("#concession-password", PASSWORD);
    await page.click("text=Sign the concession");
    await page.waitForSelector("text=/Written/", { timeout: 60000 });
    await picture(page, "works-concession-1280");
    await page.goto(`${bench.address}/concessions`);
    must((await page.textContent("main")).includes("to the yard and back"), "it is in force");
    await lookOver(page, "/concessions with one in force");
    await page.click("text=It no longer holds");
    await page.fill("input[name=reason]", "the bolt is in");
    await page.click("text=Close it");
    await page.waitForSelector("text=/closed by entry/");
    await isPdf(context, `${bench.address}/paper/dossier.pdf`, "the dossier");
    await page.goto(`${bench.address}/book`);
    const copy = page.waitForEvent("download");
    await page.click("text=A copy of the book's file");
    must((await copy).suggestedFilename().endsWith(".book"), "a copy of the book came");
    await context.close();
  });
  await bench.throwAway();
}
