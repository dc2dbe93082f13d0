// The gauging pages: choose what is gauged, show what is waiting, keep the pages for out of range.

import * as store from "./gauging-store.js";
import * as sending from "./gauging-sending.js";
import { Round, make } from "./gauging-keys.js";
import { canScan, fromPhotograph, scan } from "./gauging-scan.js";

const WORKER = "/gauging/-/worker.js";
const ENGINE = "/gauging/-/engine.json";
const MOST_LINES = 60;

/** What this phone keeps of the engine, brought up to date when the bench is in range. */
async function engineKept(fetchFirst) {
  const known = await store.kept("engine");
  const news = async () => {
    const head = known ? { "if-none-match": `"${known.head}"` } : {};
    const answer = await fetch(ENGINE, { cache: "no-store", redirect: "error", headers: head, signal: AbortSignal.timeout(20000) });
    if (answer.status !== 200) return known;
    const told = await answer.json();
    if (!told.features) return known;
    await store.keep("engine", told);
    return told;
  };
  if (known && !fetchFirst) return known;
  return news().catch(() => known);
}

const plainCode = (text) => text.toUpperCase().replace(/[\s-]/g, "").replace(/[IL]/g, "1").replace(/O/g, "0");

/** Features that a tag, an id, or words mean. */
function meant(engine, what) {
  const exact = engine.features.filter((f) => f.id === what);
  if (exact.length) return exact;
  const of = engine.features.filter((f) => f.part === what || f.joints.some((j) => j.id === what) || (f.tag && f.tag === plainCode(what)));
  return of;
}

function search(engine, words) {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  return engine.features.filter((f) => {
    const text = `${f.id} ${f.name} ${f.part_name} ${f.kind} ${f.tag}`.toLowerCase();
    return wanted.every((w) => text.includes(w));
  });
}

function lines(features) {
  const list = make("ul.gauging-lines", {}, ...features.slice(0, MOST_LINES).map((f) => make("li", {},
    make("a", { href: `/gauging/${encodeURIComponent(f.id)}` }, make("b", {}, f.name), " ", make("span.quiet", {}, `${f.kind}, ${f.id}`)))));
  const more = features.length - MOST_LINES;
  return [list, more > 0 ? make("p.quiet", {}, `and ${more} more; type more of the name`) : ""];
}

/** The list, with a search that answers as one types. */
function listScreen(engine, what, title) {
  const results = make("div", { "aria-live": "polite" });
  const camera = make("div.g-camera");
  const box = make("input", { id: "what", type: "search", autocomplete: "off", spellcheck: false, enterKeyHint: "go", value: what });
  box.setAttribute("autocapitalize", "none");
  const show = () => {
    const words = box.value.trim();
    if (words === "") {
      const parts = new Map(engine.features.map((f) => [f.part, f.part_name]));
      const wanting = engine.features.filter((f) => f.wanting);
      results.replaceChildren(make("h2", {}, "Still wants readings"),
        ...(wanting.length ? lines(wanting) : [make("p", {}, "Everything described has been gauged.")]),
        make("details", {}, make("summary", {}, "All parts"), make("ul.gauging-lines", {}, ...[...parts].map(([id, name]) =>
          make("li", {}, make("a", { href: `/gauging/${encodeURIComponent(id)}` }, name || id))))));
      return;
    }
    const exact = meant(engine, words);
    const found = exact.length ? exact : search(engine, words);
    results.replaceChildren(make("h2", {}, exact.length ? "Which surface?" : "Found"),
      ...(found.length ? lines(found) : [make("p", {}, `Nothing goes by "${words}". Try a part of its name: rod, journal, left.`)]));
  };
  box.addEventListener("input", show);
  const form = make("form.stack", { role: "search" }, make("label", { htmlFor: "what" }, "Tag, part, joint or feature"), box);
  form.addEventListener("submit", (e) => {
    e.preventDefault();
    const exact = meant(engine, box.value.trim());
    if (exact.length === 1) location.assign(`/gauging/${encodeURIComponent(exact[0].id)}`);
    else show();
  });
  const told = (words) => camera.replaceChildren(make("p", { role: "status" }, words));
  const goTo = (name) => location.assign(`/gauging/${encodeURIComponent(name)}`);
  if (canScan()) {
    const b = make("button.main", { type: "button" }, "Scan a tag");
    b.addEventListener("click", async () => {
      try {
        const name = await scan(camera);
        if (name) goTo(name);
      } catch {
        told("The camera cannot be used; photograph the tag, or type the code that is printed on it.");
      }
    });
    form.append(b);
  }
  const photograph = make("input", { id: "photograph", type: "file", accept: "image/*" });
  photograph.setAttribute("capture", "environment");
  photograph.addEventListener("change", async () => {
    const name = photograph.files[0] ? await fromPhotograph(photograph.files[0]).catch(() => null) : null;
    if (name) goTo(name);
    else told("No code was found in that photograph; take it nearer and square on, or type the code that is printed on the tag.");
  });
  form.append(make("label", { htmlFor: "photograph" }, "Or photograph the tag"), photograph);
  show();
  return make("div.g-list", {}, make("h1", {}, title), form, camera, results);
}

/** In range a figure is on its way for a moment: nothing is said of it until it takes longer. */
const MOMENT_MS = 2500;
let refusedBefore = 0, lookAgain;

/** What is waiting: how many, why, and each with a way to take it back. */
async function showWaiting() {
  const place = document.getElementById("gauging-waiting");
  if (!place) return;
  const all = await store.waiting();
  const { range, session, trouble } = sending.state;
  const refused = all.filter((i) => i.refused).length, n = all.length - refused;
  const onTheWay = range === true && !refused && !trouble && all.every((i) => sending.held(i) === "" && Date.now() - i.at < MOMENT_MS);
  clearTimeout(lookAgain);
  if (onTheWay && all.length) lookAgain = setTimeout(showWaiting, MOMENT_MS);
  place.hidden = range !== false && (all.length === 0 || onTheWay);
  const words = [];
  if (range === false) words.push(n ? `Out of range: ${n} waiting on this phone` : "Out of range: what you type is kept on this phone");
  else if (n) words.push(`${n} waiting${all.some((i) => sending.held(i) === "") ? ", being sent" : ""}`);
  if (refused) words.push(`${refused} refused`);
  if (trouble) words.push(trouble);
  const told = make("span.g-count", { role: "status" }, words.join("; "));
  const parts = [];
  if (all.length) {
    const open = refused > refusedBefore || (place.querySelector("details")?.open ?? false);
    parts.push(make("details", { open }, make("summary", {}, told), make("ol", {}, ...all.map(waitingLine))));
  } else {
    parts.push(make("p", {}, told));
  }
  refusedBefore = refused;
  if (range && session && !session.name && n) {
    parts.push(make("a.main", { href: `/sign-in?then=${encodeURIComponent(location.pathname.replace(/^\/(tag|thing|gauge)\//, "/gauging/"))}` }, `Sign in to send the ${n} waiting`));
  }
  place.replaceChildren(...parts);
}

function waitingLine(item) {
  const why = {
    refused: () => `refused: ${item.refused.what}${item.refused.mend ? ` (${item.refused.mend})` : ""}`,
    "other book": () => "typed for another book: it is sent when that one is served here",
    "other person": () => `typed by ${item.author}: sent when ${item.author} signs in`,
  }[sending.held(item)];
  const what = item.kind === "strike" ? `strike out ${item.reading}` : item.reading;
  const line = make("li", {}, make("p", {}, make("b", {}, what), ` ${item.name}, ${item.place}`), why ? make("p.g-warn", {}, why()) : "",
    item.tried && !item.refused ? make("p.quiet", {}, "sent, and no answer came: it is sent again to make sure, and counts once") : "");
  const act = (label, doing) => {
    const b = make("button", { type: "button", "aria-label": `${label}: ${what}, ${item.name}, ${item.place}` }, label);
    b.addEventListener("click", async () => { await doing(); sending.tell(); });
    line.append(b);
  };
  if (!item.tried || item.refused) act("Take back", () => store.takeBack(item.key));
  if (item.refused) act("Try again", async () => { await store.tryAgain(item.key); sending.sendAll(); });
  return line;
}

async function screen(main, engine, session) {
  // The address may be a gauging page's own, or one that is printed on a tag or a sheet.
  const what = decodeURIComponent(location.pathname.replace(/^\/(gauging\/?(feature\/)?|(tag|thing|gauge)\/)/, ""));
  const found = what ? meant(engine, what) : [];
  if (found.length === 1) {
    const settings = (await store.kept("settings")) ?? {};
    const who = sending.state.session ? sending.state.session.name : session?.name ?? null;
    // Another has the phone in hand now.
    if (who && settings.of !== who) Object.assign(settings, { of: who, by: who, without: false });
    const round = new Round(engine, found[0], settings, who);
    await round.restore();
    document.title = `Gauging ${found[0].name}`;
    main.replaceChildren(round.element);
    document.body.classList.add("g-at-work");
  } else {
    main.replaceChildren(listScreen(engine, what, found.length ? found[0].part_name : "Gauging"));
  }
}

async function begin() {
  const waiting = document.getElementById("gauging-waiting");
  const main = document.getElementById("main");
  if (!waiting || !main) return;
  main.before(waiting);
  // The style stands inside the part of the page that is replaced.
  document.head.append(...main.querySelectorAll("link[rel=stylesheet]"));
  sending.events.addEventListener("change", showWaiting);
  navigator.serviceWorker?.register(WORKER, { scope: "/" }).catch(() => {});
  const known = await store.kept("session");
  await showWaiting();
  const first = sending.keepSending();
  // The page from the bench is whole; it is made quick once the engine is known.
  // Who has the phone in hand is asked first, but not for long.
  await Promise.race([first, new Promise((yes) => setTimeout(yes, known ? 700 : 4000))]);
  const engine = (await engineKept(false)) ?? (await engineKept(true));
  if (!engine) {
    await first;
    if (!sending.state.range) {
      document.getElementById("gauging-list")?.replaceChildren(make("p", {}, "This phone has not been told of the engine yet. Open this page once in range; from then on it works out of range too."));
    }
    return;
  }
  await screen(main, engine, known);
  await first;
  const now = sending.state.session;
  if (now?.head && now.head !== engine.head) {
    const news = await engineKept(true);
    // Another book stands at this address now: what was kept is of no use here.
    if (news && news.book !== engine.book) await screen(main, news, now);
  }
  let later;
  sending.events.addEventListener("written", () => {
    clearTimeout(later);
    later = setTimeout(() => engineKept(true), 3000);
  });
}

begin();
