// The motion: turned by the script, by keys, for who wants no movement, and without script; what it
// carries; what stands on the engine's page.

import { Bench } from "./bench.mjs";
import { DESK, PHONE, fits, lookOver, must, person, picture, same, step } from "./steps.mjs";

/** Where the drawn crank pin of the left cylinder is on the page, with what has turned it. */
const pin = (page) => page.evaluate(() => {
  const own = document.querySelector('#standing svg [data-moves="crank"][data-cylinder="0"] line, #standing svg [data-moves="crank"][data-cylinder="0"] polygon');
  const box = own.closest("g").getBoundingClientRect();
  return [box.left, box.top, box.width, box.height].map((v) => Math.round(v * 10) / 10);
});
const facts = (page) => page.evaluate(async () => {
  const answer = await fetch(document.querySelector("#standing").dataset.turn);
  return answer.json();
});

export async function motion(browser) {
  const bench = await Bench.ofTheDemo();
  await bench.start();

  await step("the drawing turns, stops, and is drawn afresh where it stopped", async () => {
    const context = await person(browser, { viewport: DESK });
    const page = await context.newPage();
    await page.goto(`${bench.address}/motion`);
    const before = await pin(page);
    await page.click("text=Turn forward");
    await page.waitForFunction(() => Number(document.getElementById("degrees").value) > 40);
    must(JSON.stringify(await pin(page)) !== JSON.stringify(before), "the crank has moved");
    must(await page.locator('#standing [data-moves="not"][visibility="hidden"]').count() > 0, "what is true of one position alone is hidden");
    await picture(page, "motion-turning-1280");
    await page.click("text=Stop");
    await page.waitForURL(/degrees=/);
    await page.waitForFunction(() => !document.querySelector("#standing").classList.contains("moved"));
    const stopped = Number(await page.inputValue("#degrees"));
    const told = await page.textContent("#place");
    must(told.includes("left"), `it says where it stands: ${told}`);
    // The picture drawn by the bench at this angle is the picture turned to it.
    const { wheel_deg } = await facts(page);
    const start = await (await context.request.get(`${bench.address}/motion/turn.json?at=left%200%20past%20front`)).json();
    const off = Math.abs(((wheel_deg[0] - start.wheel_deg[0] - stopped + 540) % 360) - 180);
    must(off < 0.6, `drawn ${off}° from where it stopped`);
    await context.close();
  });

  await step("turned by script or drawn by the bench, the pins stand in the same places", async () => {
    const context = await person(browser, { viewport: DESK });
    const page = await context.newPage();
    await page.goto(`${bench.address}/motion?crank=left&degrees=0`);
    // The places of the rod's two ends, from its dashed centre line, after every transform.
    const ends = () => page.evaluate(() => [...document.querySelectorAll('#standing [data-moves="rod"]')].map((g) => {
      const line = g.querySelector("line[stroke-dasharray]"), m = g.closest("svg").getScreenCTM().inverse().multiply(line.getScreenCTM());
      const at = (x, y) => { const p = new DOMPoint(Number(line.getAttribute(x)), Number(line.getAttribute(y))).matrixTransform(m); return [p.x, p.y]; };
      return [...at("x1", "y1"), ...at("x2", "y2")];
    }));
    await page.evaluate(() => { const s = document.getElementById("degrees"); s.value = "130"; s.dispatchEvent(new Event("input", { bubbles: true })); });
    await page.waitForFunction(() => document.querySelector("#standing").classList.contains("moved"));
    const turned = await ends();
    await page.goto(`${bench.address}/motion?crank=left&degrees=130`);
    const drawn = await ends();
    same(turned.length, drawn.length, "rods");
    turned.flat().forEach((v, n) => must(Math.abs(v - drawn.flat()[n]) < 0.6, `place ${n}: turned to ${v}, drawn at ${drawn.flat()[n]}`));
    await context.close();
  });

  await step("keys turn it too, and it fits a phone", async () => {
    const context = await person(browser, { viewport: PHONE });
    const page = await context.newPage();
    await page.goto(`${bench.address}/motion`);
    await page.focus("#degrees");
    for (let n = 0; n < 3; n += 1) await page.keyboard.press("ArrowRight");
    await page.waitForURL(/degrees=3/);
    await page.focus("text=Turn forward");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => Number(document.getElementById("degrees").value) > 10);
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => !document.querySelector("#standing").classList.contains("moved"));
    await fits(page, "the motion");
    await lookOver(page, "the motion, turned");
    await picture(page, "motion-turned-390");
    await context.close();
  });

  await step("who wants no movement gets the next position, drawn", async () => {
    const context = await person(browser, { viewport: DESK, reducedMotion: "reduce" });
    const page = await context.newPage();
    await page.goto(`${bench.address}/motion`);
    await page.click("text=Forward 10°");
    await page.waitForURL(/degrees=10/);
    await page.waitForTimeout(300);
    same(await page.inputValue("#degrees"), "10", "it stands still");
    await context.close();
  });

  await step("without script: any position, how far to bar it, and the loads", async () => {
    const context = await person(browser, { viewport: PHONE, javaScriptEnabled: false });
    const page = await context.newPage();
    await page.goto(`${bench.address}/motion`);
    must(!await page.getByText("Turn forward").count(), "no button that does nothing");
    await page.fill("#at", "left big end bottom");
    await page.locator("form:has(#at) button").click();
    must(/left/.test(await page.textContent("#place")), "a position in words");
    await page.fill("#to", "right big end bottom");
    await page.locator("form:has(#to) button").click();
    must(/mm|in/.test(await page.textContent("section.result")), "how far");
    await page.click("a[href='/motion/loads'] >> nth=0");
    must(/Nothing is assumed/.test(await page.textContent("main")), "no load without a speed");
    await page.fill("#speed", "25 mph");
    await page.fill("#pressure", "160 psi");
    await page.fill("#cut-off", "30");
    await page.click("main form.stack button.main");
    const text = await page.textContent("main");
    must(/big end of left/.test(text) && /tonf/.test(text), "what every bearing carries");
    must(await page.locator(".knowing .drawing svg").count() >= 6, "plots through the turn");
    await fits(page, "loads");
    await picture(page, "motion-loads-390");
    for (const [speed, pressure, cut] of [["fast", "", ""], ["25", "", "30"], ["25", "5 mm", ""], ["1e9", "160 psi", ""], ["25", "160 psi", "900"]]) {
      const answer = await context.request.get(`${bench.address}/motion/loads?speed=${speed}&pressure=${pressure}&cut-off=${cut}`);
      const told = await answer.text();
      must(answer.status() === 200 && /That cannot be told/.test(told), `${speed} ${pressure} ${cut}: ${answer.status()}`);
    }
    await context.close();
  });

  await step("the engine's page: on a phone the list stands before the drawing, on a desk beside it", async () => {
    for (const [viewport, below] of [[PHONE, true], [DESK, false]]) {
      const context = await person(browser, { viewport });
      const page = await context.newPage();
      await page.goto(`${bench.address}/`);
      const top = (selector) => page.locator(selector).first().evaluate((e) => e.getBoundingClientRect().top);
      const [list, drawing] = [await top("#worst"), await top(".engine .drawing")];
      must(below ? drawing > list : Math.abs(drawing - list) < 80, `list at ${list}, drawing at ${drawing}, ${viewport.width} px wide`);
      must(await page.locator("#pistons").count() === 1 && /left/.test(await page.textContent("section[aria-labelledby=pistons]")), "piston clearances");
      for (const verdict of await page.locator("ol.joints .verdict").all()) must(/^\S+ (beyond|near|cannot tell|within|no limit)$/.test((await verdict.textContent()).trim()), "a shape and a word");
      await context.close();
    }
  });
  await bench.throwAway();
}
