// A picture with its boxes: look closer, draw, move, size. What is decided is written by the server, and
// what it answers is shown; nothing is kept here.

import { hear, post, revision, say } from "./page.js";

const cover = document.getElementById("cover");
const [view, sheet, picture, made, overlay, panel, zooms, looked] = ["window", "sheet", "picture", "made", "overlay", "panel", "zoom", "looked"]
  .map((id) => document.getElementById(id));
const number = cover.dataset.number;
const size = { width: Number(cover.dataset.width), height: Number(cover.dataset.height) };
const address = `/cover/${number}`;
const SIDES = ["left", "top", "width", "height"];
const EDGES = ["nw", "n", "ne", "e", "se", "s", "sw", "w"];
const steps = [...zooms.options].map((option) => Number(option.value)).filter(Boolean);
const SVG = "http://www.w3.org/2000/svg";

// Zoom: how many points of the screen a pixel of the picture has

let zoom = sessionStorage.getItem("cover-zoom") || "fit";
let whole = cover.dataset.whole === "yes";

const fitting = () => Math.min((view.clientWidth - 2) / size.width, (view.clientHeight - 2) / size.height);
const scale = () => (zoom === "fit" ? fitting() : Number(zoom) / 100);

function zoomTo(next, at) {
  const before = sheet.getBoundingClientRect();
  const around = view.getBoundingClientRect();
  const point = at || seen(chosen()) || { x: around.left + around.width / 2, y: around.top + around.height / 2 };
  const across = (point.x - before.left) / before.width;
  const down = (point.y - before.top) / before.height;
  zoom = next;
  zooms.value = zoom;
  sessionStorage.setItem("cover-zoom", zoom);
  sized();
  const now = sheet.getBoundingClientRect();
  view.scrollLeft += now.left + across * now.width - point.x;
  view.scrollTop += now.top + down * now.height - point.y;
}

// The middle of a box, if it can be seen: closer means closer to it.
function seen(box) {
  if (!box) return null;
  const [at, around] = [box.getBoundingClientRect(), view.getBoundingClientRect()];
  const middle = { x: at.left + at.width / 2, y: at.top + at.height / 2 };
  const inside = middle.x > around.left && middle.x < around.right && middle.y > around.top && middle.y < around.bottom;
  return inside ? middle : null;
}

// One width is set; the height follows from the picture's shape, and the boxes lie over all of it (cover.css).
function sized() {
  view.classList.toggle("fitting", zoom === "fit"); // a bar to scroll would take the room that is measured
  sheet.style.width = `${size.width * scale()}px`;
  dress();
  if (!whole && size.width * scale() * devicePixelRatio > picture.naturalWidth) load();
}

function step(by, at) {
  const now = Math.round(scale() * 100);
  const next = by > 0 ? steps.find((one) => one > now) : steps.findLast((one) => one < now);
  if (next) zoomTo(String(next), at);
}

// The whole picture comes when somebody looks closer; until it is there, the first one stays.
async function load() {
  whole = true;
  const sent = await hear(`${address}/picture?size=full`, "blob");
  if (!sent) return say("The whole picture could not be loaded.");
  const full = new Image();
  full.src = URL.createObjectURL(sent);
  await full.decode();
  picture.src = full.src;
}

// Boxes as they stand on the picture

const named = (key) => (key ? overlay.querySelector(`[data-box="${key}"]`) : null);
const chosen = () => overlay.querySelector(".box.chosen");
const ours = (box) => box && (box.classList.contains("cover") || box.classList.contains("keep"));
const placeOf = (box) => box.dataset.at.split(" ").map(Number);

function put(box, place) {
  box.dataset.at = place.join(" ");
  for (const rect of box.querySelectorAll(".halo, .edge")) {
    ["x", "y", "width", "height"].forEach((name, at) => rect.setAttribute(name, place[at]));
  }
  if (box.classList.contains("chosen")) {
    SIDES.forEach((side, at) => {
      const field = document.getElementById(`one-${side}`);
      if (field && field !== document.activeElement) field.value = place[at];
    });
  }
  dress();
}

function within([left, top, width, height], keepSize) {
  const round = Math.round;
  if (keepSize) {
    return [round(Math.min(Math.max(0, left), size.width - width)), round(Math.min(Math.max(0, top), size.height - height)), width, height];
  }
  const first = Math.max(0, round(left));
  const second = Math.max(0, round(top));
  const right = Math.min(size.width, round(left + width));
  const bottom = Math.min(size.height, round(top + height));
  return [Math.min(first, size.width - 1), Math.min(second, size.height - 1), Math.max(1, right - first), Math.max(1, bottom - second)];
}

// Letters and handles keep their size on the screen; a finger needs larger ones.
const coarse = matchMedia("(pointer: coarse)");
function dress() {
  const unit = 1 / scale();
  const letters = 15 * unit;
  overlay.style.fontSize = `${letters}px`;
  for (const box of overlay.querySelectorAll(".box")) {
    const [left, top, width, height] = placeOf(box);
    const last = box.matches(".proposal, .stays"); // a cover below it has its letter at the other end
    const text = box.querySelector("text");
    // Outside the box where there is room: the words in it are what is to be judged.
    const above = top > letters * 1.4;
    const below = !above && top + height + letters * 1.4 < size.height;
    text.setAttribute("x", last ? left + width - letters * 0.3 : left + letters * 0.3);
    text.setAttribute("text-anchor", last ? "end" : "start");
    text.setAttribute("y", above ? top - letters * 1.3 : below ? top + height + letters * 0.1 : top + letters * 0.1);
  }
  overlay.querySelectorAll(".handle").forEach((handle) => handle.remove());
  const box = chosen();
  if (!ours(box)) return;
  const [left, top, width, height] = placeOf(box);
  const long = (coarse.matches ? 24 : 11) * unit;
  for (const edge of EDGES) {
    const across = edge.includes("w") ? 0 : edge.includes("e") ? 1 : 0.5;
    const down = edge.includes("n") ? 0 : edge.includes("s") ? 1 : 0.5;
    const handle = document.createElementNS(SVG, "rect");
    handle.setAttribute("class", "handle");
    handle.dataset.edge = edge;
    handle.setAttribute("x", left + across * width - long / 2);
    handle.setAttribute("y", top + down * height - long / 2);
    handle.setAttribute("width", long);
    handle.setAttribute("height", long);
    box.append(handle);
  }
}

// Asking the server, one after the other

let queue = Promise.resolve();
let stamp = "";
let waiting = 0;

function send(body, focus) {
  waiting += 1;
  queue = queue.then(async () => {
    const told = await post(address, body);
    waiting -= 1;
    say(told.ok ? told.said : told.fault);
    if (!told.ok) return refresh();
    show(told, focus === undefined ? null : focus || told.box);
    if (body.action === "accept" || body.action === "reject") reveal(chosen()); // the next to decide
  });
  return queue;
}

async function refresh(key = chosen()?.dataset.box || "", focus = null) {
  const told = await hear(`${address}/boxes?box=${encodeURIComponent(key)}`);
  if (!told || waiting || drag) return;
  if (told.stamp !== stamp) show(told, focus);
}

// Show what the server says of the boxes. `focus`: the id of a control, or the key of a box on the picture.
function show(told, focus) {
  if (waiting) return; // what follows in the queue will be newer
  revision.set(told.revision);
  stamp = told.stamp;
  const had = document.activeElement;
  const held = { id: had.id, box: had.dataset?.box, on: overlay.contains(had) ? "overlay" : panel.contains(had) ? "panel" : "" };
  const opened = [...panel.querySelectorAll("details[open]")].map((one) => one.id);
  const at = panel.scrollTop;
  const moving = nudge && { key: nudge.box.dataset.box, place: placeOf(nudge.box) };
  clearTimeout(nudge?.timer);
  nudge = null;
  panel.innerHTML = told.panel;
  overlay.innerHTML = told.overlay;
  if (moving && named(moving.key)) goOn(named(moving.key), moving.place);
  opened.forEach((id) => document.getElementById(id)?.setAttribute("open", ""));
  if (held.on === "panel" && had.matches("input:not([type]), input[type=text]") && had.value !== had.defaultValue) typedAgain(had);
  panel.scrollTop = at;
  dress();
  refocus(focus, held);
  if (made.src && cover.classList.contains("is-after")) loadAfter();
  if (told.looking) watch();
}

// What is being typed as an answer comes is not lost with the field it was typed in.
function typedAgain(field) {
  const same = field.id && document.getElementById(field.id);
  if (same) same.value = field.value;
}

function refocus(focus, held) {
  const wanted = focus && (document.getElementById(focus) || named(focus));
  if (wanted) return wanted.focus({ preventScroll: held.on === "overlay" });
  if (!held.on) return;
  const place = held.on === "overlay" ? overlay : panel;
  const same = (held.id && document.getElementById(held.id)) || (held.box && place.querySelector(`[data-box="${held.box}"]`));
  (same || document.getElementById("accept") || document.getElementById("state")).focus();
}

let watching = 0;
function watch() {
  clearTimeout(watching);
  watching = setTimeout(async () => {
    const busy = waiting || drag || nudge || panel.querySelector("input:focus");
    if (!busy) await refresh();
    if (busy || panel.querySelector(".wait")) watch();
    else looked.textContent = `The picture has been looked at. ${document.getElementById("state").innerText}`;
  }, 700);
}

const choose = (key, focus) => refresh(key, focus ?? null);

// The panel: forms go by script, so that the picture stays where it is

panel.addEventListener("submit", (event) => {
  event.preventDefault();
  const body = {};
  for (const [name, value] of new FormData(event.target)) {
    if (name !== "revision") body[name] = name in body ? `${body[name]},${value}` : value;
  }
  send(body);
});

panel.addEventListener("click", (event) => {
  const pick = event.target.closest(".pick");
  if (!pick || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  enter(pick.dataset.box).then(() => reveal(chosen()));
});

panel.addEventListener("input", (event) => {
  const box = chosen();
  if (!event.target.matches("#one .side") || !ours(box)) return;
  const place = SIDES.map((side) => Number(document.getElementById(`one-${side}`).value));
  if (place.every(Number.isFinite) && place[2] > 0 && place[3] > 0) put(box, within(place));
});

panel.addEventListener("toggle", () => dress(), true);

function reveal(box) {
  if (!box) return;
  const [at, around] = [box.getBoundingClientRect(), view.getBoundingClientRect()];
  if (at.left < around.left || at.right > around.right) view.scrollLeft += at.left + at.width / 2 - around.left - around.width / 2;
  if (at.top < around.top || at.bottom > around.bottom) view.scrollTop += at.top + at.height / 2 - around.top - around.height / 2;
}

// Drawing, moving, sizing with mouse, pen or finger

let drag = null;
let drawing = "";

const spot = (event) => {
  const at = sheet.getBoundingClientRect();
  return { x: (event.clientX - at.left) / scale(), y: (event.clientY - at.top) / scale() };
};

function draw(kind) {
  drawing = drawing === kind ? "" : kind;
  for (const one of ["cover", "keep"]) document.getElementById(`draw-${one}`).setAttribute("aria-pressed", String(drawing === one));
  view.classList.toggle("drawing", Boolean(drawing));
  if (drawing) say("Draw over the picture from corner to corner. Escape leaves it.");
}

function blank(kind, place) {
  const box = document.createElementNS(SVG, "g");
  box.setAttribute("class", `box ${kind}`);
  for (const name of ["halo", "edge"]) {
    const rect = document.createElementNS(SVG, "rect");
    rect.setAttribute("class", name);
    box.append(rect);
  }
  box.append(document.createElementNS(SVG, "text"));
  overlay.append(box);
  put(box, place);
  return box;
}

overlay.addEventListener("pointerdown", (event) => {
  if (event.button || drag) return;
  const from = spot(event);
  const edge = event.target.dataset.edge;
  const box = event.target.closest(".box");
  const finger = event.pointerType === "touch";
  if (drawing) drag = { kind: "draw", from, box: blank(drawing, [from.x, from.y, 1, 1]) };
  else if (edge) drag = { kind: "size", edge, from, box, place: placeOf(box) };
  else if (ours(box) && (!finger || box === chosen())) drag = { kind: "move", from, box, place: placeOf(box) };
  else if (!box && !finger) drag = { kind: "pan", x: event.clientX, y: event.clientY, left: view.scrollLeft, top: view.scrollTop };
  if (!drag) return;
  drag.pointer = event.pointerId;
  overlay.setPointerCapture(event.pointerId);
  if (drag.kind === "draw" || drag.kind === "size") event.preventDefault();
});

// A finger that has taken hold of a box scrolls no longer. `touch-action` within a drawing is not heeded everywhere.
overlay.addEventListener("touchstart", (event) => { if (drag) event.preventDefault(); }, { passive: false });

overlay.addEventListener("pointermove", (event) => {
  if (!drag || event.pointerId !== drag.pointer) return;
  if (drag.kind === "pan") {
    view.scrollLeft = drag.left - (event.clientX - drag.x);
    view.scrollTop = drag.top - (event.clientY - drag.y);
    return;
  }
  const to = spot(event);
  const [across, down] = [to.x - drag.from.x, to.y - drag.from.y];
  drag.far = Math.max(drag.far || 0, Math.hypot(across, down) * scale());
  if (drag.kind === "draw") {
    put(drag.box, within([Math.min(to.x, drag.from.x), Math.min(to.y, drag.from.y), Math.abs(across), Math.abs(down)]));
  } else if (drag.far > 3) {
    const [left, top, width, height] = drag.place;
    put(drag.box, drag.kind === "move" ? within([left + across, top + down, width, height], true) : stretched(drag.place, drag.edge, across, down));
  }
});

function stretched([left, top, width, height], edge, across, down) {
  const right = left + width;
  const bottom = top + height;
  const west = edge.includes("w") ? Math.min(left + across, right - 1) : left;
  const north = edge.includes("n") ? Math.min(top + down, bottom - 1) : top;
  const east = edge.includes("e") ? Math.max(right + across, left + 1) : right;
  const south = edge.includes("s") ? Math.max(bottom + down, top + 1) : bottom;
  return within([west, north, east - west, south - north]);
}

function dropped(event) {
  if (!drag || event.pointerId !== drag.pointer) return;
  const { kind, box, far } = drag;
  drag = null;
  if (kind === "draw") {
    const as = drawing;
    draw(as);
    if (far > 4) add(as, placeOf(box), "one-why");
    else box.remove();
  } else if (kind !== "pan" && far > 3) {
    moved(box);
  } else if (box) {
    choose(box.dataset.box, box.dataset.box);
  }
}
overlay.addEventListener("pointerup", dropped);
overlay.addEventListener("pointercancel", () => cancel());

overlay.addEventListener("click", (event) => {
  // What a finger, a screen reader or a box that cannot be moved asks for; a drag has chosen already.
  const box = event.target.closest(".box");
  if (box && box !== chosen()) choose(box.dataset.box, box.dataset.box);
});

function cancel() {
  if (!drag) return;
  const { kind, box, place } = drag;
  drag = null;
  if (kind === "draw") box.remove();
  else if (place) put(box, place);
}

const sides = (place) => Object.fromEntries(SIDES.map((side, at) => [side, place[at]]));
const add = (kind, place, focus) => send({ action: "add", kind, why: kind === "keep" ? "shown on purpose" : "", ...sides(place) }, focus);
const moved = (box) => send({ action: "change", box: box.dataset.box, ...sides(placeOf(box)) }, "");

// A new box in the middle of what is seen, for whoever does not draw
function addInMiddle(kind) {
  const around = view.getBoundingClientRect();
  const at = sheet.getBoundingClientRect();
  const left = (Math.max(around.left, at.left) - at.left) / scale();
  const top = (Math.max(around.top, at.top) - at.top) / scale();
  const width = (Math.min(around.right, at.right) - at.left) / scale() - left;
  const height = (Math.min(around.bottom, at.bottom) - at.top) / scale() - top;
  add(kind, within([left + width * 0.375, top + height * 0.45, width / 4, height / 10]), "");
}

for (const kind of ["cover", "keep"]) {
  document.getElementById(`draw-${kind}`).addEventListener("click", (event) => {
    if (event.detail) draw(kind);
    else addInMiddle(kind);
  });
}

// Keys

let nudge = null;
function commit() {
  if (!nudge) return;
  clearTimeout(nudge.timer);
  const { box } = nudge;
  nudge = null;
  moved(box);
}

// A box that is being moved by keys as an answer comes is moved on from where it is, not from where it was.
function goOn(box, place) {
  put(box, place);
  nudge = { box, timer: setTimeout(commit, 500) };
}

function nudged(box, event) {
  const by = event.repeat ? Math.max(4, Math.round(4 / scale())) : 1;
  const across = { ArrowLeft: -by, ArrowRight: by }[event.key] || 0;
  const down = { ArrowUp: -by, ArrowDown: by }[event.key] || 0;
  const [left, top, width, height] = placeOf(box);
  put(box, event.shiftKey ? within([left, top, Math.max(1, width + across), Math.max(1, height + down)]) : within([left + across, top + down, width, height], true));
  reveal(box);
  if (nudge && nudge.box !== box) commit();
  clearTimeout(nudge?.timer);
  nudge = { box, timer: setTimeout(commit, 500) };
}

overlay.addEventListener("keydown", (event) => {
  const box = event.target.closest(".box");
  if (!box || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key.startsWith("Arrow") && ours(box)) nudged(box, event);
  else if (event.key === "Delete" && ours(box)) send({ action: "remove", box: box.dataset.box });
  else if (event.key === "Enter" || event.key === " ") enter(box.dataset.box);
  else return;
  event.preventDefault();
});
overlay.addEventListener("focusout", commit);

// Choose a box and go to its fields.
async function enter(key) {
  commit();
  await queue;
  await choose(key);
  panel.scrollTop = 0;
  ["accept", "one-why", "cover-this"].map((id) => document.getElementById(id)).find(Boolean)?.focus();
}

document.getElementById("look").addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === "Escape") {
    if (drag) cancel();
    else if (drawing) draw(drawing);
    return;
  }
  if (!view.contains(event.target)) return;
  const does = {
    "+": () => step(1), "=": () => step(1), "-": () => step(-1), 0: () => zoomTo("fit"),
    a: () => document.getElementById("after").click(), b: () => addInMiddle("cover"),
    u: () => document.getElementById("beneath").click(), n: () => go("next"), p: () => go("previous"),
  }[event.key];
  if (!does) return;
  event.preventDefault();
  does();
});

function go(id) {
  const link = document.getElementById(id);
  if (!link) return say("There is no further picture.");
  sessionStorage.setItem("cover-focus", "window");
  link.click();
}

// What is found often and is no text: one key, from the picture or a button beside it.
cover.addEventListener("keydown", (event) => {
  if (event.key !== "x" || event.ctrlKey || event.metaKey || event.altKey || event.target.matches("input, select, textarea")) return;
  event.preventDefault();
  const button = document.getElementById("no-text");
  if (button) button.click();
  else say("Nothing is to be decided in the box that is chosen.");
});

document.getElementById("beneath").addEventListener("click", (event) => {
  const on = event.currentTarget.getAttribute("aria-pressed") !== "true";
  event.currentTarget.setAttribute("aria-pressed", String(on));
  cover.classList.toggle("is-beneath", on);
  say(on ? "What lies beneath the covers is seen here; no deck shows it." : "The covers are closed.");
});

// As the room sees it

const [left, top, width, height] = cover.dataset.view.split(" ").map(Number);
Object.assign(made.style, {
  left: `${(left / size.width) * 100}%`, top: `${(top / size.height) * 100}%`,
  width: `${(width / size.width) * 100}%`, height: `${(height / size.height) * 100}%`,
});

const loadAfter = () => { made.src = `${address}/after?at=${revision.get()}-${stamp}`; };

document.getElementById("after").addEventListener("click", (event) => {
  const on = event.currentTarget.getAttribute("aria-pressed") !== "true";
  event.currentTarget.setAttribute("aria-pressed", String(on));
  cover.classList.toggle("is-after", on);
  made.hidden = !on;
  if (on) loadAfter();
  say(on ? (panel.querySelector(".wait") ? "As far as it has been looked at." : "This is what a deck would hold.") : "The picture as it is.");
});

// Beginning

sheet.style.aspectRatio = `${size.width} / ${size.height}`;
document.getElementById("smaller").addEventListener("click", () => step(-1));
document.getElementById("larger").addEventListener("click", () => step(1));
zooms.addEventListener("change", () => zoomTo(zooms.value));
view.addEventListener("wheel", (event) => {
  if (!event.ctrlKey) return;
  event.preventDefault();
  step(event.deltaY < 0 ? 1 : -1, { x: event.clientX, y: event.clientY });
}, { passive: false });
new ResizeObserver(() => { if (zoom === "fit") sized(); }).observe(view);
addEventListener("pagehide", () => sessionStorage.setItem("cover-at", `${number} ${view.scrollLeft} ${view.scrollTop}`));

zooms.value = zoom;
sized();
const [same, x, y] = (sessionStorage.getItem("cover-at") || "").split(" ");
if (same === number) view.scrollTo(Number(x), Number(y));
if (sessionStorage.getItem("cover-focus") === "window") view.focus();
sessionStorage.removeItem("cover-focus");
if (cover.dataset.looking) watch();
