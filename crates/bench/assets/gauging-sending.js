// Sends what is waiting, each under the key it was given when it was typed: the bench writes a key
// once, so that sending again what may have arrived does no harm.

import * as store from "./gauging-store.js";

const LOCK = "pinchbar-gauging-sending";
const PATIENCE_MS = 12000;

/** What is known of the bench just now. */
export const state = { range: undefined, session: null, trouble: "" };
export const events = new EventTarget();
const others = "BroadcastChannel" in self ? new BroadcastChannel("pinchbar-gauging") : null;
others?.addEventListener("message", () => tell(false));

/** Tells this page, and pages in other tabs, that something changed. */
export function tell(all = true) {
  events.dispatchEvent(new Event("change"));
  if (all) others?.postMessage("change");
}

async function ask(address, options = {}) {
  const answer = await fetch(address, {
    cache: "no-store", credentials: "same-origin", redirect: "error",
    signal: AbortSignal.timeout(PATIENCE_MS),
    ...options, headers: { accept: "application/json", ...options.headers },
  });
  const json = /json/.test(answer.headers.get("content-type") ?? "");
  return { status: answer.status, body: json ? await answer.json() : null };
}

/** Who is signed in there, or null when there is no bench in range. */
export async function session() {
  try {
    const { status, body } = await ask("/gauging/-/session");
    // A page of some other server in between is no bench.
    const ours = status === 200 && typeof body?.token === "string";
    state.session = ours ? body : null;
    state.range = ours;
    if (ours && body.book) await store.keep("session", { name: body.name, book: body.book, people: body.people });
  } catch {
    state.session = null;
    state.range = false;
  }
  return state.session;
}

/** Why a waiting figure does not go yet; empty when it does. */
export function held(item) {
  const who = state.session;
  if (item.refused) return "refused";
  if (!who) return "range";
  if (!who.name) return "sign in";
  if (item.book !== who.book) return "other book";
  if (item.author && item.author !== who.name) return "other person";
  return "";
}

async function post(item) {
  const { kind, tried, refused, author, at, si, name, place, ...fields } = item;
  return ask(kind === "strike" ? "/gauging/-/strike" : "/gauging/-/reading", {
    method: "POST", body: new URLSearchParams(fields), headers: { "x-token": state.session.token },
  });
}

/** One figure; false when there is no use in going on. */
async function send(item) {
  if (!await store.aboutToSend(item.key, state.session.name)) return true;
  let answer;
  try {
    answer = await post(item);
  } catch {
    state.range = false;
    return false;
  }
  const { status, body } = answer;
  if (status === 200 && Number.isInteger(body?.entry)) {
    await store.written({ ...item, author: item.author ?? state.session.name }, body);
    state.trouble = "";
    events.dispatchEvent(new CustomEvent("written", { detail: { item, answer: body } }));
    return true;
  }
  if (status === 401) {
    state.session = { ...state.session, name: null };
    return false;
  }
  if (status === 409 || status === 429 || status >= 500 || !body?.title) {
    state.trouble = body?.title ?? "";
    return false;
  }
  await store.refuse(item.key, { what: body.title, mend: body.detail ?? "" });
  return true;
}

async function pass() {
  if (!await session()) return;
  for (;;) {
    const next = (await store.waiting()).find((item) => held(item) === "");
    if (!next || !await send(next)) return;
    tell();
  }
}

let running = null, again = false;
/** Sends all that can go. One tab does it at a time. */
export function sendAll() {
  if (running) {
    again = true;
    return running;
  }
  const turn = () => (navigator.locks ? navigator.locks.request(LOCK, pass) : pass());
  running = turn().finally(() => {
    running = null;
    tell();
    if (again) {
      again = false;
      sendAll();
    }
  });
  return running;
}

/** From now on: when the network comes back, when the page is looked at, and now and then. */
export function keepSending() {
  addEventListener("online", sendAll);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) sendAll(); });
  setInterval(async () => {
    if (!document.hidden && (state.range === false || (await store.waiting()).some((i) => !i.refused))) sendAll();
  }, 5000);
  return sendAll();
}

/** Looks at a figure with the bench's own eyes; null out of range. */
export async function check(fields, fellows) {
  if (!state.range) return null;
  const asked = new URLSearchParams(fields);
  for (const f of fellows) asked.append("fellow", String(f));
  try {
    const { status, body } = await ask(`/gauging/-/check?${asked}`, { signal: AbortSignal.timeout(2500) });
    if (status === 200 && typeof body?.si === "number") return body;
    if (status === 422 && body?.title) return { refused: body };
  } catch { /* out of range */ }
  return null;
}
