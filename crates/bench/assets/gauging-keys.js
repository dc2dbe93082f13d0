// One figure at a time: the place, what was read there before, and keys for a gloved hand.

import { asWritten, doubts, inInches, metres, namesUnit } from "./gauging-figures.js";
import * as store from "./gauging-store.js";
import * as sending from "./gauging-sending.js";

/** An element: `make("p.quiet", { id: "x" }, "text", child)`. */
export function make(what, properties = {}, ...inside) {
  const [name, ...classes] = what.split(".");
  const element = document.createElement(name);
  if (classes.length) element.className = classes.join(" ");
  for (const [key, value] of Object.entries(properties)) {
    if (key in element && !key.includes("-")) element[key] = value;
    else element.setAttribute(key, value);
  }
  element.append(...inside.filter((i) => i !== null && i !== undefined));
  return element;
}

const button = (label, act, properties = {}) => {
  const b = make("button", { type: "button", ...properties }, label);
  b.addEventListener("click", act);
  return b;
};

/** A picture the bench drew; it is told as text and must not bring script with it. */
function picture(svg) {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  for (const bad of parsed.querySelectorAll("script, foreignObject")) bad.remove();
  return document.importNode(parsed, true);
}

const UNITS = ["mm", "in", "thou"];
const TWICE_MS = 400;
const shortly = (place) => `${place.station}${place.direction ? ` ${place.direction}°` : ""}`.trim();

/** The screen of one feature. */
export class Round {
  constructor(engine, feature, settings, who) {
    Object.assign(this, { engine, feature, settings, who });
    this.at = 0;
    // By place: what was typed in this sitting.
    this.typed = feature.places.map(() => null);
    this.text = "";
    this.asking = null;
    this.element = make("div.g");
    this.withOpen = this.settings.gauge ? !this.gaugeServes() : !this.settings.without;
    sending.events.addEventListener("change", () => this.refresh());
    sending.events.addEventListener("written", (e) => this.wasWritten(e.detail));
  }

  gauge() {
    return this.engine.gauges.find((g) => g.id === this.settings.gauge);
  }

  /** Whether the gauge chosen reaches this size. */
  gaugeServes() {
    return this.feature.gauges.length === 0 || this.feature.gauges.includes(this.settings.gauge);
  }

  /** Brings back what was typed here before the tab was closed. */
  async restore() {
    const mine = (i) => i.kind === "reading" && i.book === this.engine.book && i.feature === this.feature.id;
    const all = [...(await store.sent()).filter((i) => mine(i) && i.when === this.day()).reverse(), ...(await store.waiting()).filter(mine)];
    for (const item of all) if (item.n < this.typed.length) this.typed[item.n] = item;
    const free = this.typed.findIndex((t) => t === null);
    this.go(free === -1 ? 0 : free);
  }

  day() {
    return this.engine.day || new Date().toISOString().slice(0, 10);
  }

  async refresh() {
    const waiting = await store.waiting(), sent = await store.sent();
    this.typed = this.typed.map((t) => t && (waiting.find((i) => i.key === t.key) ?? sent.find((i) => i.key === t.key) ?? null));
    this.drawStrip();
    this.drawState();
  }

  wasWritten({ item, answer }) {
    if (item.feature !== this.feature.id) return;
    if (answer.joints) this.verdict = answer;
    this.drawVerdict();
  }

  go(to) {
    this.at = Math.max(0, Math.min(this.feature.places.length - 1, to));
    const there = this.typed[this.at];
    this.text = there ? there.reading : "";
    this.cameAt = performance.now();
    this.asking = null;
    this.tail = null;
    this.draw();
  }

  /** The unit of a number that names none: of an allowance, as chosen, or as this was read before. */
  unit() {
    if (this.tail) return this.tail;
    if (this.settings.unit) return this.settings.unit;
    const before = this.feature.places.find((p) => p.previous)?.previous.text ?? this.feature.made;
    return inInches(before) ? "in" : "mm";
  }

  async set(name, value) {
    this.settings[name] = value;
    await store.keep("settings", this.settings);
  }

  draw() {
    const place = this.feature.places[this.at];
    this.field = make("input.g-figure", {
      id: "figure", value: this.text, autocomplete: "off", spellcheck: false, inputMode: "none", enterKeyHint: "next",
    });
    this.field.addEventListener("input", () => { this.text = this.field.value; this.asking = null; this.drawAsked(); this.drawUnit(); });
    this.field.addEventListener("keydown", (e) => { if (e.key === "Enter") { e.preventDefault(); this.next(); } });
    this.unitShown = make("span.g-unit", { "aria-hidden": "true" });
    this.asked = make("div.g-asked", { role: "alert" });
    this.state = make("p.g-state", { role: "status" });
    this.strip = make("ol.g-strip", { "aria-label": "Places" });
    this.verdictShown = make("div.g-verdict", { role: "status" });
    this.nextButton = button("Next", () => this.next(), { className: "main" });
    const previous = place.previous;
    this.element.replaceChildren(
      make("div.g-top", {}, make("a", { href: "/gauging" }, "All"), make("h1", {}, this.feature.name)),
      this.drawWith(),
      make("div.g-sketch.drawing", {}, this.feature.sketch === null || this.feature.sketch === undefined ? "" : picture(this.engine.sketches[this.feature.sketch])),
      make("p.g-place", {}, make("b", {}, place.words), make("span.quiet", {}, ` ${this.at + 1} of ${this.feature.places.length}`)),
      make("p.g-previous", {}, previous ? `before: ${previous.text}${previous.when ? `, ${previous.when}` : ""}`
        : this.feature.expected ? `not read here before; compared with ${this.feature.expected.words}` : "not read here before"),
      make("label.unseen", { htmlFor: "figure" }, `Figure ${place.words}`),
      make("div.g-field", {}, this.field, this.unitShown),
      this.state, this.asked, this.drawKeys(),
      make("div.g-go", {}, button("Back", () => this.go(this.at - 1), { disabled: this.at === 0 }), this.nextButton),
      this.verdictShown, this.strip,
    );
    // What one gauges with is said first: until then there is nothing to type.
    this.element.classList.toggle("g-asks-with", this.withOpen);
    this.drawAsked();
    this.drawUnit();
    this.drawStrip();
    this.drawState();
    this.drawVerdict();
    this.field.focus({ preventScroll: true });
  }

  /** Gauge, temperature and reader: said once, and kept. */
  drawWith() {
    const gauge = this.gauge();
    const warn = !gauge ? "no gauge chosen: the figures will not count"
      : gauge.lapsed || (gauge.due && gauge.due < this.day()) ? `calibration of ${gauge.id} ran out ${gauge.due}`
        : this.gaugeServes() ? "" : `${gauge.id} does not reach this size`;
    const said = [gauge?.id ?? "no gauge", this.settings.temperature ? `${this.settings.temperature} °C` : "no temperature", this.settings.by || this.who || "nobody named"];
    const line = button(said.join(" · "), () => { this.withOpen = !this.withOpen; this.draw(); },
      { className: "g-with", "aria-expanded": String(this.withOpen) });
    line.prepend(make("span.unseen", {}, "With what: "));
    const warning = warn ? make("p.g-warn", { role: "status" }, `\u26A0 ${warn}`) : "";
    if (!this.withOpen) return make("div", {}, line, warning);
    const serves = (g) => this.feature.gauges.includes(g.id);
    const option = (g) => make("option", { value: g.id, selected: g.id === this.settings.gauge }, `${g.id}${g.lapsed ? " (out of calibration)" : ""}`);
    const choose = make("select", { id: "with-gauge" },
      make("option", { value: "", selected: !gauge }, "none named"),
      make("optgroup", { label: "Reach this size" }, ...this.engine.gauges.filter(serves).map(option)),
      make("optgroup", { label: "Others" }, ...this.engine.gauges.filter((g) => !serves(g)).map(option)));
    const warm = make("input", { id: "with-warm", inputMode: "decimal", autocomplete: "off", value: this.settings.temperature ?? "" });
    const people = make("select", { id: "with-by" }, ...this.engine.people.map((name) =>
      make("option", { value: name, selected: name === (this.settings.by || this.who) }, name)));
    const asked = make("div", { role: "alert" });
    const without = () => {
      asked.replaceChildren(
        make("p.g-warn", {}, "No gauge is named: the figures will stand in the book and count for nothing. Is that meant?"),
        make("div.g-two", {}, button("Name one", () => { asked.replaceChildren(); choose.focus(); }),
          button("Yes, without", async () => { await this.set("without", true); close(); }, { className: "main" })));
    };
    const close = async () => {
      if (choose.value) await this.set("without", false);
      else if (!this.settings.without) return without();
      await this.set("gauge", choose.value);
      await this.set("temperature", warm.value.trim());
      await this.set("by", people.value);
      this.withOpen = false;
      this.draw();
    };
    choose.addEventListener("change", () => this.set("gauge", choose.value));
    return make("div", {}, line, warning, make("div.g-panel", {},
      make("label", { htmlFor: "with-gauge" }, "Gauge"), choose,
      make("label", { htmlFor: "with-warm" }, "Temperature of the part, °C"), warm,
      make("label", { htmlFor: "with-by" }, "Read by"), people,
      button("Use these", close, { className: "main" }), asked));
  }

  drawKeys() {
    const key = (label, text = label, name = undefined) => button(label, () => this.type(text), name ? { "aria-label": name } : {});
    const unit = (u) => button(u, () => this.changeUnit(u), { "aria-pressed": String(this.unit() === u) });
    const over = (under) => button(`/${under}`, () => this.type(`/${under}`), { className: "g-over", "aria-label": `/${under}: over ${under}` });
    const inches = (this.settings.unit ?? this.unit()) !== "mm";
    const beside = (...unders) => (inches ? unders.map(over) : []);
    return make("div.g-keys", {},
      make("div.g-units", { role: "group", "aria-label": "Unit" }, ...UNITS.map(unit)),
      make(inches ? "div.g-pad.g-inches" : "div.g-pad", { role: "group", "aria-label": "Keys" },
        key("7"), key("8"), key("9"), button("\u232B", () => this.rub(), { "aria-label": "Rub out" }), ...beside("2", "4"),
        key("4"), key("5"), key("6"), key("\u2212", "-", "less"), ...beside("8", "16"),
        key("1"), key("2"), key("3"), key("+", "+", "and more"), ...beside("32", "64"),
        key("."), key("0"), button("C", () => this.clear(), { "aria-label": "Clear" }),
        inches ? button("and", () => this.type(" "), { className: "g-and", "aria-label": "and: whole inches, then a fraction" }) : ""));
  }

  show(text) {
    this.text = text;
    if (!/[+-]/.test(text)) this.tail = null;
    this.field.value = text;
    this.asking = null;
    this.drawAsked();
    this.drawUnit();
  }

  type(text) {
    if (text === "+" || text === "-") {
      // An allowance after a size: the size's unit is said first, and thou follow inches.
      const bare = this.text.trim();
      if (bare === "") return this.show(text === "-" ? "-" : "");
      if (/[+-]\s*$/.test(bare)) return this.show(`${bare.replace(/[+-]\s*$/, "")}${text} `);
      const size = namesUnit(bare) ? bare : `${bare} ${this.unit()}`;
      const inches = this.unit() === "in";
      this.show(`${size} ${text} `);
      if (inches) this.tail = "thou";
      return this.drawUnit();
    }
    if (text === "." && /\d*\.\d*$/.test(this.text) && this.text !== "" && /\.\d*$/.test(this.text)) return;
    if (text === " " && (this.text === "" || this.text.endsWith(" "))) return;
    this.show(this.text + text);
  }

  /** The last character, or the unit as a whole. */
  rub() {
    this.show(this.text.replace(/\s*([a-zA-Z"″]+|\S)\s*$/, ""));
  }

  clear() {
    this.show("");
  }

  async changeUnit(unit) {
    if (this.tail) this.tail = unit;
    else await this.set("unit", unit);
    const { text, tail } = this;
    this.draw();
    this.show(text);
    this.tail = tail;
    this.drawUnit();
  }

  /** The figure as it will stand in the book. */
  whole() {
    const text = this.text.trim();
    if (text === "") return "";
    // After an allowance the last number has no unit yet.
    return /[a-zA-Z"″]/.test(text) && /[\d]$/.test(text) ? `${text} ${this.unit()}` : asWritten(text, this.unit());
  }

  drawUnit() {
    for (const b of this.element.querySelectorAll(".g-units button")) b.setAttribute("aria-pressed", String(b.textContent === this.unit()));
    this.unitShown.textContent = this.whole() === this.text.trim() ? "" : this.unit();
  }

  /** A heavy finger presses twice: the second time is none. */
  async next() {
    if (this.busy || (this.text.trim() === "" && performance.now() - this.cameAt < TWICE_MS)) return;
    this.busy = true;
    try {
      await this.take();
    } finally {
      this.busy = false;
    }
  }

  async take() {
    const figure = this.text.trim(), there = this.typed[this.at];
    if (figure === "" || (there && there.reading === this.whole())) return this.step();
    if (there && !await this.replace(there)) return;
    const place = this.feature.places[this.at];
    const reading = this.whole();
    const fields = {
      feature: this.feature.id, station: place.station, direction: place.direction, reading,
      gauge: this.settings.gauge ?? "", by: this.settings.by || this.who || "", when: this.day(), temperature: this.settings.temperature ?? "",
    };
    // What was doubted is no measure for the others.
    const fellows = this.typed.filter((t, n) => t && n !== this.at && typeof t.si === "number" && !t.note).map((t) => t.si);
    const seen = await sending.check(fields, fellows);
    if (seen?.refused) return this.askAbout([`${seen.refused.title}${seen.refused.detail ? `: ${seen.refused.detail}` : ""}`], false);
    const si = seen?.si ?? metres(reading, this.unit());
    if (si === null) return this.askAbout(["this cannot be read as a figure: 7.7476, 8 3/16, 7 11/16 in + 23 thou"], false);
    const asked = seen?.asked ?? doubts(si, this.feature, place, fellows, this.gauge(), inInches(reading));
    if (asked.length && this.asking !== figure) {
      this.asking = figure;
      return this.askAbout(asked, true);
    }
    return this.keep(fields, si, asked);
  }

  async keep(fields, si, asked) {
    const item = await store.add({
      ...fields, kind: "reading", book: this.engine.book, si, n: this.at, author: sending.state.session?.name ?? this.who ?? null,
      name: this.feature.name, place: this.feature.places[this.at].words,
      note: asked.length ? `${asked.join("; ")}: yes, as typed` : "",
    });
    navigator.storage?.persist?.();
    this.typed[this.at] = item;
    sending.tell();
    sending.sendAll();
    this.step();
  }

  step() {
    const after = this.typed.findIndex((t, n) => t === null && n > this.at);
    if (after !== -1) return this.go(after);
    if (this.at + 1 < this.feature.places.length) return this.go(this.at + 1);
    this.finished = true;
    this.draw();
  }

  /** Another figure in the place of one already typed: taken back, or struck out in the book. */
  async replace(there) {
    if (there.entry === undefined) {
      if (await store.takeBack(there.key)) { this.typed[this.at] = null; return true; }
      this.askAbout(["the figure there has been sent and not answered yet; it can be put right once it is"], false);
      return false;
    }
    if (this.asking !== `strike ${this.text.trim()}`) {
      this.asking = `strike ${this.text.trim()}`;
      this.askAbout([`${there.reading} is in the book; it will be struck out as typed wrong`], true);
      return false;
    }
    await store.add({ kind: "strike", book: this.engine.book, entry: there.hash, reason: "typed wrong", author: there.author,
      feature: this.feature.id, name: this.feature.name, place: there.place, reading: there.reading });
    this.typed[this.at] = null;
    this.asking = null;
    return true;
  }

  askAbout(words, mayStand) {
    this.askedWords = words;
    this.mayStand = mayStand;
    if (this.asking === null) this.asking = mayStand ? this.text.trim() : "";
    this.drawAsked();
  }

  drawAsked() {
    if (!this.asked) return;
    if (this.asking === null) return this.asked.replaceChildren();
    this.asked.replaceChildren(
      ...this.askedWords.map((w) => make("p", {}, this.mayStand ? `${w}; typed right?` : w)),
      this.mayStand ? make("div.g-go", {},
        button("Change it", () => { this.show(""); this.field.focus(); }),
        button("Yes, as typed", () => this.next(), { className: "main" })) : "");
  }

  drawState() {
    if (!this.state) return;
    const there = this.typed[this.at];
    this.state.textContent = !there ? "" : there.entry !== undefined ? `in the book, entry ${there.entry}`
      : there.refused ? `refused: ${there.refused.what}` : "kept on this phone, waiting to be sent";
  }

  drawStrip() {
    // News of the queue may come before the first drawing, which shows it all.
    if (!this.strip) return;
    this.strip.replaceChildren(...this.feature.places.map((p, n) => {
      const t = this.typed[n];
      const word = !t ? "empty" : t.entry !== undefined ? "in the book" : t.refused ? "refused" : "waiting";
      const sign = { empty: "\u25CB", "in the book": "\u2713", waiting: "\u2026", refused: "!" }[word];
      const b = button(`${sign} ${t ? t.reading : shortly(p) || n + 1}`, () => this.go(n));
      b.append(make("span.unseen", {}, ` ${p.words}, ${word}`));
      if (n === this.at) b.setAttribute("aria-current", "step");
      return make("li", {}, b);
    }));
  }

  drawVerdict() {
    if (!this.verdictShown) return;
    const told = this.verdict;
    const done = this.finished ? make("p", {}, make("b", {}, "Round finished. "), make("a", { href: "/gauging" }, "Gauge something else")) : "";
    if (!told) return this.verdictShown.replaceChildren(done);
    const metric = (this.settings.unit ?? this.unit()) === "mm" ? 0 : 1;
    this.verdictShown.replaceChildren(done,
      told.size ? make("p", {}, `Size now ${told.size[metric]} (${told.size[1 - metric]}), at 20 °C`) : "",
      ...told.said.map((w) => make("p.g-warn", {}, `\u26A0 ${w}`)),
      ...told.joints.map((j) => make("p", {}, make("span.verdict", {}, `${j.sign} ${j.verdict}`), " ",
        make("a", { href: `/joint/${encodeURIComponent(j.id)}` }, j.name), j.value ? `: ${j.measure} ${j.value[metric]}` : "",
        make("br"), make("span.quiet", {}, j.because))));
  }
}
