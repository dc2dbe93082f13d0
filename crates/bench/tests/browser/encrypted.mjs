// A phone that reaches the bench over the shop's network: encrypted with the shop's own certificate,
// by the name it goes by; gauging out of range works there as on this machine.

import { X509Certificate, createHash } from "node:crypto";
import { writeFileSync } from "node:fs";
import { networkInterfaces } from "node:os";
import { join } from "node:path";
import { connect } from "node:tls";
import { Bench, ENGINEER, PASSWORD } from "./bench.mjs";
import { fits, must, person, picture, same, step } from "./steps.mjs";

const NAME = "shed.local";
const FITTER = "M.E.";
const BORE = "/gauging/big-end.right.bore";
/** Every address of this machine. */
const ANYWHERE = "0.0.0.0";

/** An address of this machine that is not its own loop. */
const ownAddress = () => Object.values(networkInterfaces()).flat().find((a) => a.family === "IPv4" && !a.internal)?.address;

/** The hash by which Chromium can be told to take this certificate as if it trusted the shop's authority. */
const keyHash = (host, port) => new Promise((yes, no) => {
  const socket = connect({ host, port, servername: NAME, rejectUnauthorized: false }, () => {
    const key = new X509Certificate(socket.getPeerCertificate().raw).publicKey.export({ type: "spki", format: "der" });
    socket.end();
    yes(createHash("sha256").update(key).digest("base64"));
  });
  socket.on("error", no);
});

export async function encrypted(_, launch) {
  const address = ownAddress();
  if (!address) {
    console.log("NOT RUN: this machine is in no network; no phone could reach the bench");
    return;
  }
  const bench = await Bench.ofTheDemo();
  const secrets = join(bench.folder, "secret"), mine = join(bench.folder, "mine");
  writeFileSync(secrets, "a password of the shop");
  writeFileSync(mine, PASSWORD);
  const people = JSON.parse(bench.ask("book", "people", bench.book, "--json"));
  const open = people.filter((p) => p.roles.length && !p.password).map((p) => p.name);
  await step("with somebody who has no password it is not served to others", async () => {
    let refused = "";
    await bench.startAt(ANYWHERE, NAME).catch((e) => { refused = e.message; });
    must(/without a password are/.test(refused), `it says: ${refused}`);
  });
  for (const name of open) bench.ask("book", "people", bench.book, name, "--new-password-file", secrets, "--by", ENGINEER, "--password-file", mine);
  await bench.startAt(ANYWHERE, NAME);
  const site = `https://${NAME}:${bench.port}`;
  const resolve = `--host-resolver-rules=MAP ${NAME} ${address}`;

  await step("a browser that does not trust the shop's authority does not show it", async () => {
    const browser = await launch(resolve);
    const page = await (await person(browser, { expected: [/./] })).newPage();
    const why = await page.goto(`${site}/`).then(() => "shown", (e) => e.message);
    must(/ERR_CERT_AUTHORITY_INVALID/.test(why), why.split("\n")[0]);
    await browser.close();
  });

  await step("a phone that trusts it: signed in, a figure with the bench stopped, in the book once", async () => {
    const kept = join(bench.folder, "phone");
    // Each start of the bench has a certificate of its own, and the phone is started again with it.
    const phone = async () => {
      const context = await launch.kept(kept, resolve, `--ignore-certificate-errors-spki-list=${await keyHash(address, bench.port)}`);
      context.setDefaultTimeout(15000);
      return { context, page: context.pages()[0] ?? await context.newPage() };
    };
    const signIn = async (page, then) => {
      await page.goto(`${site}/sign-in?then=${encodeURIComponent(then)}`);
      await page.fill("#name", FITTER);
      await page.fill("#password", "a password of the shop");
      await page.click("main button.main");
      await page.waitForURL((url) => url.pathname !== "/sign-in", { timeout: 60000 });
    };
    let { context, page } = await phone();
    // Typed without https, as people do.
    await page.goto(`http://${NAME}:${bench.port}/trust`);
    same(new URL(page.url()).protocol, "https:", "sent to the encrypted page");
    await picture(page, "trust-encrypted-390");
    await fits(page, "how to trust the bench");
    await signIn(page, "/gauging");
    await page.waitForSelector(".g-list");
    const cookie = (await context.cookies()).find((c) => c.name === "__Host-pinchbar");
    must(cookie && cookie.secure && cookie.httpOnly && cookie.sameSite === "Strict", "the cookie's flags");
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.waitForFunction(() => navigator.serviceWorker.controller);
    await bench.stop();
    await page.goto(`${site}${BORE}`);
    await page.waitForSelector("#with-gauge");
    await page.selectOption("#with-gauge", "im-12");
    await page.click("text=Use these");
    await page.click('.g-units button:text-is("in")');
    for (const key of "7.711") await page.click(`.g-pad button:text-is("${key}")`);
    await page.click(".g > .g-go .main");
    await page.waitForSelector("text=/Out of range: 1 waiting/");
    await context.close();
    await bench.startAt(ANYWHERE, NAME);
    ({ context, page } = await phone());
    await signIn(page, BORE);
    for (let n = 0; n < 100 && bench.gauged().length === 0; n += 1) await page.waitForTimeout(100);
    same(bench.gauged().map((r) => [r.reading, r.by]), [["7.711 in", FITTER]], "what stands in the book");
    await context.close();
  });
  await bench.throwAway();
}
