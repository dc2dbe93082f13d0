// How long a slow phone waits: the processor four times slower than this machine's, and a line of 400
// kbit/s each way with 400 ms there and back (what browsers' own tools call slow 3G). It measures and
// asserts one thing only, the size of the first page, which no machine's load changes.

import { Bench } from "./bench.mjs";
import { must, person, step } from "./steps.mjs";

const LINE = { offline: false, downloadThroughput: 400e3 / 8, uploadThroughput: 400e3 / 8, latency: 400 };
/** The order's bound for the first page with all that it needs. */
const MOST_BYTES = 100_000;

export async function slow(browser) {
  const bench = await Bench.ofTheDemo();
  await bench.start();
  await step("the first page and all it needs is under 100 kB, and how long a slow phone waits for pages", async () => {
    for (const path of ["/", "/gauging", "/joint/big-end.right", "/motion"]) {
      const context = await person(browser);
      const page = await context.newPage();
      const tools = await context.newCDPSession(page);
      await tools.send("Network.enable");
      await tools.send("Network.emulateNetworkConditions", LINE);
      await tools.send("Emulation.setCPUThrottlingRate", { rate: 4 });
      let bytes = 0;
      tools.on("Network.loadingFinished", (e) => { bytes += e.encodedDataLength; });
      await page.goto(bench.address + path, { waitUntil: "load", timeout: 60000 });
      const at = await page.evaluate(() => new Promise((yes) => {
        const told = () => {
          const painted = performance.getEntriesByName("first-contentful-paint")[0];
          const { loadEventEnd } = performance.getEntriesByType("navigation")[0];
          if (painted && loadEventEnd) yes([painted.startTime, loadEventEnd]);
          else setTimeout(told, 50);
        };
        told();
      }));
      console.log(`      ${path}: ${(bytes / 1000).toFixed(1)} kB, first words after ${(at[0] / 1000).toFixed(2)} s, all of it after ${(at[1] / 1000).toFixed(2)} s`);
      if (path === "/") must(bytes < MOST_BYTES, `the first page takes ${bytes} bytes`);
      await context.close();
    }
  });
  await bench.throwAway();
}
