// A bench of its own for the tests: the demo's book in a folder that is thrown away, served by the
// built program on a free port, stopped and started again as a test wants.

import { spawn, spawnSync } from "node:child_process";
import { copyFileSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = resolve(dirname(fileURLToPath(import.meta.url)), "../../../..");
export const PROGRAM = process.env.PINCHBAR ?? join(ROOT, "target/debug/pinchbar");
/** Where the pages' scripts are. */
export const SCRIPTS = join(ROOT, "crates/bench/assets");
export const PICTURES = join(ROOT, "target/pages");
/** The day the demo is judged on. */
export const TODAY = "2026-11-20";
/** Who signs in the demo does so with this; it guards nothing. */
export const PASSWORD = "the demo password";
export const ENGINEER = "responsible engineer";

const freePort = () => new Promise((yes, no) => {
  const server = createServer();
  server.on("error", no);
  server.listen(0, "127.0.0.1", () => {
    const { port } = server.address();
    server.close(() => yes(port));
  });
});

/** Starts the program; waits for its first line. */
async function serve(args) {
  const child = spawn(PROGRAM, ["--json", ...args], { stdio: ["ignore", "pipe", "pipe"] });
  let told = "", log = "";
  child.stderr.on("data", (d) => { log += d; });
  await new Promise((yes, no) => {
    child.stdout.on("data", (d) => { told += d; if (told.includes("\n")) yes(); });
    child.on("exit", (code) => no(new Error(`the bench ended with ${code}: ${log}`)));
  });
  return { child, told: JSON.parse(told.split("\n")[0]), log: () => log };
}

const ended = (child) => new Promise((yes) => (child.exitCode === null && child.signalCode === null ? child.on("exit", yes) : yes()));

export class Bench {
  /** A fresh copy of the demo's book, not served yet. */
  static async ofTheDemo() {
    const folder = mkdtempSync(join(tmpdir(), "pinchbar-pages-"));
    const bench = new Bench();
    Object.assign(bench, { folder, book: join(folder, "goods.book"), port: await freePort(), server: null, logs: [] });
    const { child, told } = await serve(["bench", "--demo", "--at", `127.0.0.1:${await freePort()}`]);
    child.kill("SIGTERM");
    await ended(child);
    copyFileSync(told.book, bench.book);
    rmSync(dirname(told.book), { recursive: true, force: true });
    return bench;
  }

  get address() { return `http://127.0.0.1:${this.port}`; }

  async start() {
    this.server = await serve(["bench", this.book, "--at", `127.0.0.1:${this.port}`, "--today", TODAY]);
  }

  /** Served to other machines, encrypted, with the authority beside the book. */
  async startAt(address, name) {
    this.server = await serve(["bench", this.book, "--at", `${address}:${this.port}`, "--known-as", name, "--today", TODAY]);
  }

  /** Really stopped: the process is gone and the port answers nobody. */
  async stop() {
    if (!this.server) return;
    const { child, log } = this.server;
    child.kill("SIGKILL");
    await ended(child);
    this.logs.push(log());
    this.server = null;
  }

  async throwAway() {
    await this.stop();
    rmSync(this.folder, { recursive: true, force: true });
  }

  /** What the program says; findings (exit code 1) are an answer too. */
  ask(...args) {
    const { status, stdout, stderr } = spawnSync(PROGRAM, args, { encoding: "utf8", maxBuffer: 1 << 26 });
    if (status > 1) throw new Error(`pinchbar ${args.join(" ")} gave ${status}: ${stderr}`);
    return stdout;
  }

  /** Readings that came by phone, as they stand in the book: one row each, struck out or not. */
  gauged() {
    const out = join(this.folder, "readings.csv");
    rmSync(out, { force: true });
    this.ask("book", "export", this.book, out);
    const [heading, ...rows] = readFileSync(out, "utf8").trim().split(/\r?\n/).map(cells);
    return rows.map((row) => Object.fromEntries(heading.map((name, n) => [name, row[n] ?? ""]))).filter((r) => r.table === "gauging.csv");
  }
}

/** Cells of a line of a table with commas (RFC 4180). */
function cells(line) {
  const out = [];
  for (const [, quoted, plain] of line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)) out.push(quoted?.replaceAll('""', '"') ?? plain);
  return out;
}
