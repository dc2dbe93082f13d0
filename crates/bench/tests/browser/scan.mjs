// A printed tag before the camera: the sheet that the bench prints is what a made-up camera sees.

import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Bench, SCRIPTS } from "./bench.mjs";
import { PHONE, must, person, picture, same, signIn, step } from "./steps.mjs";

const PART = "connecting-rod.right";
const [WIDE, HIGH] = [640, 480];

/** The corner of a printed sheet as grey dots (PGM, as pdftoppm writes it), and where the file is. */
function photographed(pdf, name, more = []) {
  execFileSync("pdftoppm", ["-gray", "-r", "250", "-x", "60", "-y", "60", "-W", String(WIDE), "-H", String(HIGH), "-singlefile", ...more, pdf, name]);
  const file = readFileSync(`${name}.pgm`);
  const dots = file.subarray(file.length - WIDE * HIGH);
  must(file.subarray(0, 2).toString() === "P5", "a grey picture");
  return dots;
}

/** One still picture as the camera's film (YUV4MPEG2, as mjpegtools describe it). */
function film(dots, at) {
  const colour = Buffer.alloc(WIDE * HIGH / 2, 128);
  writeFileSync(at, Buffer.concat([Buffer.from(`YUV4MPEG2 W${WIDE} H${HIGH} F10:1 Ip A1:1 C420jpeg\nFRAME\n`), dots, colour]));
}

export async function scan(_, launch) {
  const bench = await Bench.ofTheDemo();
  await bench.start();
  const pdf = join(bench.folder, "tag.pdf");
  writeFileSync(pdf, Buffer.from(await (await fetch(`${bench.address}/paper/tags.pdf?part=${PART}`)).arrayBuffer()));
  const y4m = join(bench.folder, "tag.y4m");
  film(photographed(pdf, join(bench.folder, "tag")), y4m);
  const { tag } = JSON.parse(bench.ask("book", "where", bench.book, PART, "--json"));
  const browser = await launch("--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream", `--use-file-for-fake-video-capture=${y4m}`);

  await step("a printed tag before the camera leads to its part", async () => {
    const phone = await person(browser, { viewport: PHONE });
    const page = await phone.newPage();
    await signIn(page, bench, "M.E.", { then: "/gauging" });
    await page.click("text=Scan a tag");
    await page.waitForURL((url) => url.pathname === `/gauging/${tag}`);
    await page.waitForSelector("text=right connecting rod");
    await picture(page, "gauging-scanned-390");
    await phone.close();
  });

  await step("a photograph of a tag does as well, and one of nothing says so", async () => {
    const phone = await person(browser, { viewport: PHONE });
    const page = await phone.newPage();
    await signIn(page, bench, "M.E.", { then: "/gauging" });
    execFileSync("pdftoppm", ["-png", "-r", "150", "-singlefile", pdf, join(bench.folder, "sheet")]);
    execFileSync("pdftoppm", ["-png", "-r", "50", "-x", "200", "-y", "200", "-W", "100", "-H", "100", "-singlefile", pdf, join(bench.folder, "nothing")]);
    await page.setInputFiles("#photograph", join(bench.folder, "nothing.png"));
    await page.waitForSelector("text=/No code was found/");
    await page.setInputFiles("#photograph", join(bench.folder, "sheet.png"));
    await page.waitForURL((url) => url.pathname === `/gauging/${tag}`);
    await phone.close();
  });

  await step("a camera that is refused leaves the photograph and the code", async () => {
    const refusing = await launch();
    const phone = await person(refusing, { viewport: PHONE });
    const page = await phone.newPage();
    await signIn(page, bench, "M.E.", { then: "/gauging" });
    await page.click("text=Scan a tag");
    await page.waitForSelector("text=/The camera cannot be used/");
    await page.fill("#what", tag.toLowerCase());
    await page.waitForSelector("text=Which surface?");
    await refusing.close();
  });

  await step("the reader of codes: every version's room, dirt put right, nothing made up", async () => {
    const { blocks, capacity, decode } = await import(`data:text/javascript,${encodeURIComponent(readFileSync(join(SCRIPTS, "gauging-qr.js"), "utf8"))}`);
    // ISO/IEC 18004, table 1: codewords in versions 1 to 10.
    same([1, 2, 3, 4, 5, 6, 7, 8, 9, 10].map(capacity), [26, 44, 70, 100, 134, 172, 196, 242, 292, 346], "codewords");
    // Table 7: data codewords of some versions and levels.
    const room = (version, level) => blocks(version, level, capacity(version)).sizes.reduce((a, b) => a + b, 0);
    same([room(1, 0), room(3, 2), room(4, 2), room(5, 3), room(10, 1)], [19, 34, 48, 46, 216], "data codewords");
    const dots = photographed(pdf, join(bench.folder, "dirty"));
    const seen = () => ({ width: WIDE, height: HIGH, data: Uint8ClampedArray.from({ length: 4 * WIDE * HIGH }, (_, i) => (i % 4 === 3 ? 255 : dots[i >> 2])) });
    same(decode(seen()), tag, "clean");
    // Oil on a corner of it: modules of the symbol turned black, inside what level Q puts right.
    const blot = (x0, y0, side) => { for (let y = y0; y < y0 + side; y += 1) for (let x = x0; x < x0 + side; x += 1) dots[y * WIDE + x] = 0; };
    blot(205, 170, 14);
    same(decode(seen()), tag, "with a spot of oil");
    blot(134, 90, 150);
    same(decode(seen()), null, "under oil");
  });
  await browser.close();
  await bench.throwAway();
}
