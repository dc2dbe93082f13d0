// Running the tests one after another, and what they have in common: browsers that report what the
// console says, signing in, pictures, and the look-over for accessibility faults.

import { mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { PICTURES } from "./bench.mjs";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
export const DESK = { width: 1280, height: 900 };
export const PHONE = { width: 390, height: 844 };

let failures = 0;
const faults = [];

/** One test: its name, and what it does. */
export async function step(name, act) {
  const began = Date.now();
  try {
    await act();
    console.log(`ok    ${name} (${((Date.now() - began) / 1000).toFixed(1)} s)`);
  } catch (error) {
    failures += 1;
    console.log(`FAULT ${name}\n      ${String(error.stack ?? error).split("\n").slice(0, 6).join("\n      ")}`);
  }
}

/** What a page may not do, noted beside the step it happened in. */
export const fault = (text) => { if (!faults.includes(text)) faults.push(text); };

export function ended() {
  for (const f of faults) console.log(`FAULT ${f}`);
  return failures + faults.length;
}

export function must(holds, text) {
  if (!holds) throw new Error(text);
}

export function same(got, wanted, text) {
  const [a, b] = [JSON.stringify(got), JSON.stringify(wanted)];
  must(a === b, `${text}: got ${a}, wanted ${b}`);
}

/** A browser's own store of cookies and the like. Console errors are faults, unless expected. */
export async function person(browser, { viewport = PHONE, dark = false, expected = [], ...rest } = {}) {
  const context = await browser.newContext({ viewport, colorScheme: dark ? "dark" : "light", hasTouch: viewport.width < 600, ...rest });
  context.setDefaultTimeout(15000);
  context.expected = [...expected];
  context.on("page", (page) => {
    page.on("console", (m) => {
      if (m.type() !== "error" || context.expected.some((e) => e.test(m.text()))) return;
      fault(`console of ${new URL(page.url()).pathname}: ${m.text()}`);
    });
    page.on("pageerror", (e) => fault(`script of ${new URL(page.url()).pathname}: ${e.message}`));
  });
  return context;
}

/** What a browser says on the console when there is no server: no fault of the page. */
export const OUT_OF_RANGE = /ERR_CONNECTION_REFUSED|ERR_INTERNET_DISCONNECTED|ERR_FAILED|Failed to load resource/;

export async function signIn(page, bench, name, { password = "", then = "/" } = {}) {
  await page.goto(`${bench.address}/sign-in?then=${encodeURIComponent(then)}`);
  await page.selectOption("#name", name);
  if (password) await page.fill("#password", password);
  await page.click("main button.main");
  // A password takes long to try on a busy machine, as it should.
  await page.waitForURL((url) => url.pathname !== "/sign-in", { timeout: 60000 });
}

export async function picture(page, name) {
  mkdirSync(PICTURES, { recursive: true });
  await page.screenshot({ path: join(PICTURES, `${name}.png`), fullPage: true });
}

const EVERY_RULE = { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] };

/** WCAG 2.2 A and AA, as far as axe-core tells by itself; or some of its rules only. */
export async function lookOver(page, where, rules) {
  // Not as a script of the page: its policy allows none that is not the bench's own.
  await page.evaluate(AXE);
  const found = await page.evaluate(async (runOnly) => {
    const { violations } = await globalThis.axe.run(document, { runOnly, resultTypes: ["violations"] });
    return violations.map((v) => `${v.id} (${v.impact}): ${v.nodes.slice(0, 3).map((n) => n.target.join(" ")).join(" | ")}`);
  }, rules ? { type: "rule", values: rules } : EVERY_RULE);
  for (const f of found) fault(`accessibility of ${where}: ${f}`);
}

/** Whether anything stands wider than the window. */
export async function fits(page, where) {
  const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  if (over > 1) fault(`${where} is ${over} px wider than the window`);
}
