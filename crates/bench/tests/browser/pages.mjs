// Every page, as far as links lead from the first: no error on the console, no fault that axe-core
// finds by itself, nothing wider than the window; at both widths, in dark and light, with a picture.

import { Bench, ENGINEER, PASSWORD } from "./bench.mjs";
import { DESK, PHONE, fault, fits, lookOver, must, person, picture, signIn, step } from "./steps.mjs";

/** Pages of one kind are looked at once: the first two steps of the path tell the kind. */
const kind = (path) => {
  const [first = "", second = ""] = path.split("/").filter(Boolean);
  const more = path.split("/").filter(Boolean).length;
  return more < 2 ? `/${first}` : `/${first}/*${more > 2 ? `/${path.split("/").filter(Boolean).slice(2).join("/")}` : ""}`;
};
const MOST_PAGES = 40;

async function links(page, address) {
  const found = await page.locator("a[href]").evaluateAll((all) => all.map((a) => a.href));
  return found.filter((h) => h.startsWith(address)).map((h) => new URL(h)).map((u) => u.pathname + u.search);
}

/** One page of each kind, and whether each answers. */
async function crawl(browser, bench) {
  const context = await person(browser, { viewport: DESK, expected: [/./] });
  const page = await context.newPage();
  await signIn(page, bench, ENGINEER, { password: PASSWORD });
  const seen = new Map(), open = ["/", "/gauging/big-end.right.bore", "/sign-in"];
  while (open.length && seen.size < MOST_PAGES) {
    const path = open.shift(), bare = path.split("?")[0];
    if (seen.has(kind(bare)) || /\.(pdf|json|csv|xlsx|pem|crt|tar|svg|png|jpg)$/.test(bare) || bare.startsWith("/asset/") || bare.includes("/photograph/")) continue;
    seen.set(kind(bare), path);
    const answer = await page.goto(bench.address + path);
    if (answer.status() >= 400) fault(`a link leads to ${path}, which answers ${answer.status()}`);
    open.push(...await links(page, bench.address));
  }
  await context.close();
  return [...seen.values()];
}

export async function pages(browser) {
  const bench = await Bench.ofTheDemo();
  await bench.start();
  let all = [];
  await step("every link leads somewhere", async () => {
    all = await crawl(browser, bench);
    must(all.length >= 3, `only ${all.length} pages were found`);
  });
  for (const [width, viewport] of [["1280", DESK], ["390", PHONE]]) {
    for (const dark of [false, true]) {
      await step(`${all.length} pages at ${width} px, ${dark ? "dark" : "light"}`, async () => {
        const context = await person(browser, { viewport, dark });
        const page = await context.newPage();
        await signIn(page, bench, ENGINEER, { password: PASSWORD });
        for (const path of all) {
          await page.goto(bench.address + path);
          if (path.startsWith("/gauging")) await page.waitForSelector(".g, .g-list");
          const where = `${path} at ${width} px, ${dark ? "dark" : "light"}`;
          await lookOver(page, where);
          await fits(page, where);
          await picture(page, `${path === "/" ? "engine" : path.split("?")[0].slice(1).replaceAll(/[^\w.-]+/g, "-")}-${width}${dark ? "-dark" : ""}`);
        }
        await context.close();
      });
    }
  }
  await bench.throwAway();
}
