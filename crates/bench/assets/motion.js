// Turns the drawn gear: moves the groups of the drawing by where the engine says every pin is through
// a turn. Without it the form shows any position as well, one at a time.

const STEP_MS = 40;
const still = matchMedia("(prefers-reduced-motion: reduce)");
const form = document.getElementById("turning");
const slider = document.getElementById("degrees");
const told = form?.querySelector("output");
let turn = null, at = 0, running = 0, last = 0;

const standing = () => document.getElementById("standing");
const degrees = (rad) => (rad * 180) / Math.PI;

/** From metres, forward and up, to a place on the page. */
const onPage = ([x0, y0, scale], [x, z]) => [x0 + x * scale, y0 - z * scale];

/** What carries one pair of points into another of the same distance. */
function carried([a, b], [c, d]) {
  const angle = Math.atan2(d[1] - c[1], d[0] - c[0]) - Math.atan2(b[1] - a[1], b[0] - a[0]);
  return `translate(${c[0]} ${c[1]}) rotate(${degrees(angle)}) translate(${-a[0]} ${-a[1]})`;
}

function show(k) {
  at = ((k % turn.steps) + turn.steps) % turn.steps;
  for (const place of standing().querySelectorAll("[data-place]")) {
    const frame = place.dataset.place.split(" ").map(Number);
    for (const group of place.querySelectorAll("[data-moves]")) {
      const c = turn.cylinders[Number(group.dataset.cylinder)];
      if (!c) continue;
      const p = (list, n) => onPage(frame, list[n]), axle = onPage(frame, c.axle);
      if (group.dataset.moves === "not") {
        group.setAttribute("visibility", at === 0 ? "visible" : "hidden");
      } else if (group.dataset.moves === "piston") {
        const from = p(c.crosshead_pin, 0), to = p(c.crosshead_pin, at);
        group.setAttribute("transform", `translate(${to[0] - from[0]} ${to[1] - from[1]})`);
      } else if (group.dataset.moves === "crank") {
        group.setAttribute("transform", carried([axle, p(c.crank_pin, 0)], [axle, p(c.crank_pin, at)]));
      } else {
        group.setAttribute("transform", carried([p(c.crank_pin, 0), p(c.crosshead_pin, 0)], [p(c.crank_pin, at), p(c.crosshead_pin, at)]));
      }
    }
  }
  standing().classList.toggle("moved", at !== 0);
}

/** The slider follows the wheels; who moves the slider leads. */
function follow() {
  slider.value = String(Math.round(past(at)) % 360);
  tell();
}

/** The cylinder that the form names. */
const named = () => turn.cylinders.find((c) => c.cylinder === document.getElementById("crank").value) ?? turn.cylinders[0];
const past = (k) => named().past_front_deg[k];

function tell() {
  if (told) told.textContent = `${slider.value}°`;
  slider.setAttribute("aria-valuetext", `${slider.value} degrees past front`);
}

/** The step at which the named crank stands so. */
function stepAt(wanted) {
  const off = (k) => Math.abs(((past(k) - wanted + 540) % 360) - 180);
  let best = 0;
  for (let k = 1; k < turn.steps; k += 1) if (off(k) < off(best)) best = k;
  return best;
}

async function load() {
  const address = standing().dataset.turn;
  if (turn?.address === address) return turn;
  const answer = await fetch(address, { headers: { accept: "application/json" } });
  if (!answer.ok) throw new Error(`no turn: ${answer.status}`);
  const view = await answer.json();
  turn = { address, steps: view.wheel_deg.length, cylinders: view.cylinders };
  return turn;
}

const PAUSE_MS = 200;
let settling = 0;
/** Draws the position in full, as the bench draws it; of several asked for, the last. */
async function settle() {
  const mine = settling += 1;
  await new Promise((yes) => setTimeout(yes, PAUSE_MS));
  if (mine !== settling || running) return;
  const fields = new URLSearchParams(new FormData(form));
  const address = `/motion?${fields}`;
  try {
    const answer = await fetch(address);
    if (!answer.ok) throw new Error(String(answer.status));
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const now = page.getElementById("standing");
    if (!now) throw new Error("no drawing");
    // The wheels have been turned on meanwhile.
    if (mine !== settling || running) return;
    standing().replaceWith(document.adoptNode(now));
    document.getElementById("place")?.replaceWith(document.adoptNode(page.getElementById("place")));
    for (const id of ["at", "from"]) document.getElementById(id).value = page.getElementById(id).value;
    history.replaceState(null, "", address);
    at = 0;
    await load();
  } catch {
    location.assign(address);
  }
}

function frame(time) {
  if (!running) return;
  if (STEP_MS <= time - last) {
    last = time;
    show(at + running);
    follow();
  }
  requestAnimationFrame(frame);
}

const buttons = new Map();
function label() {
  for (const [way, b] of buttons) {
    b.textContent = running === way ? "Stop" : still.matches ? `${way > 0 ? "Forward" : "Back"} 10°` : way > 0 ? "Turn forward" : "Turn back";
    b.setAttribute("aria-pressed", String(running === way));
  }
}

async function press(way) {
  await load();
  if (still.matches) {
    // Who wants no movement is shown one position after another.
    show(at + 5 * way);
    follow();
    return settle();
  }
  const stopped = running === way;
  running = stopped ? 0 : way;
  label();
  if (stopped) return settle();
  last = 0;
  requestAnimationFrame(frame);
}

if (form && slider && standing()) {
  slider.step = "1";
  slider.max = "359";
  const group = document.createElement("div");
  group.className = "turning";
  for (const way of [-1, 1]) {
    const b = document.createElement("button");
    b.type = "button";
    b.addEventListener("click", () => press(way));
    buttons.set(way, b);
    group.append(b);
  }
  form.prepend(group);
  // Whoever has script need not ask for the drawing.
  form.querySelector("button.main").hidden = true;
  label();
  still.addEventListener("change", () => { running = 0; label(); });
  slider.addEventListener("input", async () => {
    running = 0;
    label();
    const wanted = Number(slider.value);
    tell();
    await load();
    // The finger may have moved on meanwhile.
    if (Number(slider.value) === wanted) show(stepAt(wanted));
  });
  form.addEventListener("submit", (event) => { event.preventDefault(); running = 0; label(); settle(); });
  // In a picture nobody sees there is nothing to turn.
  document.addEventListener("visibilitychange", () => { if (document.hidden) { running = 0; label(); } });
}
