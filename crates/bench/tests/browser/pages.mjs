// Every page, as far as links lead from the first: no error on the console, no fault that axe-core
// finds by itself, nothing wider than the window; at both widths, in dark and light, with a picture.

import { Bench, ENGINEER, PASSWORD } from "./bench.mjs";
import { DESK, PHONE, fault, fits, lookOver, must, person, picture, signIn, step } from "./steps.mjs";

/** Pages of one kind are looked at once: names and numbers in a path do not tell a kind. */
function kind(path) {
  const [first = "", second, ...more] = path.split("/").filter(Boolean);
  return ["", first, second && "*", ...more.map((m) => (/^[a-z-]+$/.test(m) ? m : "*"))].filter((x) => x !== undefined).join("/");
}
const MOST_PAGES = 40;

async function links(page, address) {
  // A drawing's links are of another kind than a page's.
  const found = await page.locator("a[href]").evaluateAll((all) => all.map((a) => new URL(a.getAttribute("href"), document.baseURI).href));
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
    if (seen.has(kind(bare)) || /\.(pdf|json|csv|xlsx|pem|crt|tar|book|svg|png|jpg)$/.test(bare) || bare.startsWith("/asset/") || bare.includes("/photograph/")) continue;
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
  const round = (width, viewport, dark) => step(`${all.length} pages at ${width} px, ${dark ? "dark" : "light"}`, async () => {
    const context = await person(browser, { viewport, dark });
    const page = await context.newPage();
    await signIn(page, bench, ENGINEER, { password: PASSWORD });
    for (const path of all) {
      await page.goto(bench.address + path);
      if (path.startsWith("/gauging")) await page.waitForSelector(".g, .g-list");
      const where = `${path} at ${width} px`;
      // Dark and light differ in their colours alone.
      await lookOver(page, dark ? `${where}, dark` : where, dark ? ["color-contrast"] : undefined);
      if (!dark) await fits(page, where);
      await picture(page, `${path === "/" ? "engine" : path.split("?")[0].slice(1).replaceAll(/[^\w.-]+/g, "-")}-${width}${dark ? "-dark" : ""}`);
    }
    await context.close();
  });
  await Promise.all([round("1280", DESK, false), round("390", PHONE, false)]);
  await Promise.all([round("1280", DESK, true), round("390", PHONE, true)]);
  await bench.throwAway();
}
