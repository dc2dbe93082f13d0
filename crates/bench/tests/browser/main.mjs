// The tests in a real browser. `node main.mjs [PART ...]` runs all of them, or some.

import { chromium } from "playwright-core";
import { existsSync } from "node:fs";
import { PHONE, ended } from "./steps.mjs";

const CHROMIUM = process.env.CHROMIUM ?? ["/usr/bin/chromium", "/usr/bin/chromium-browser"].find(existsSync);
/** Two at a time, each on a bench of its own. */
const LANES = [["gauging", "works", "scan"], ["job", "motion", "encrypted", "slow", "hostile", "pages"]];
const asked = process.argv.slice(2);

/** A browser, with more switches where a test needs them. */
const switches = (more) => ({ executablePath: CHROMIUM, args: ["--no-sandbox", "--disable-dev-shm-usage", ...more] });
const launch = (...more) => chromium.launch(switches(more));
/** One that keeps what it has stored in a folder when it is closed. */
launch.kept = (folder, ...more) => chromium.launchPersistentContext(folder, { ...switches(more), viewport: PHONE, hasTouch: true });
const browser = await launch();
await Promise.all(LANES.map(async (lane) => {
  for (const part of lane.filter((p) => asked.length === 0 || asked.includes(p))) {
    const run = (await import(`./${part}.mjs`))[part];
    await run(browser, launch);
  }
}));
await browser.close();
const bad = ended();
console.log(bad === 0 ? "the pages stand" : `${bad} faults`);
process.exit(bad === 0 ? 0 : 1);
