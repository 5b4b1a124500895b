// The drawing beside its events: a mark shows its event, arrow keys walk along, and what is not drawn yet is asked for.
import { hear, say } from "/static/page.js";

const drawing = document.getElementById("drawing");
const entries = [...document.querySelectorAll(".story details")];
const wait = (milliseconds) => new Promise((done) => setTimeout(done, milliseconds));

const marks = () => [...document.querySelectorAll(".chart a[data-of]")];
const mark = (name) => marks().find((one) => one.dataset.of === name);

// One mark takes part in the tab order; the arrow keys reach the others.
function stand(at) {
  for (const one of marks()) one.setAttribute("tabindex", one === at ? "0" : "-1");
}

function show(name) {
  for (const entry of entries) {
    const chosen = entry.id === name;
    if (entry.open !== chosen) entry.open = chosen;
    mark(entry.id)?.classList.toggle("chosen", chosen);
  }
  const entry = document.getElementById(name);
  entry?.scrollIntoView({ block: "nearest" });
  const at = mark(name);
  if (at) stand(at);
}

function walk(from, all, event) {
  const keys = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };
  const place = all.indexOf(from);
  if (event.key === "Home") return all[0];
  if (event.key === "End") return all.at(-1);
  return event.key in keys ? all[place + keys[event.key]] : undefined;
}

function lead() {
  const all = marks();
  if (!all.length) return;
  const open = entries.find((entry) => entry.open);
  stand((open && mark(open.id)) || all[0]);
  for (const one of all) {
    one.addEventListener("click", (event) => {
      event.preventDefault();
      show(one.dataset.of);
      document.querySelector(`#${one.dataset.of} summary`).focus();
    });
    one.addEventListener("keydown", (event) => {
      const next = walk(one, marks(), event);
      if (!next) return;
      event.preventDefault();
      show(next.dataset.of);
      next.focus({ preventScroll: true });
    });
  }
}

for (const entry of entries) {
  const head = entry.querySelector("summary");
  head.addEventListener("keydown", (event) => {
    const next = walk(entry, entries, event);
    if (!next) return;
    event.preventDefault();
    show(next.id);
    next.querySelector("summary").focus();
  });
  entry.addEventListener("toggle", () => {
    mark(entry.id)?.classList.toggle("chosen", entry.open);
    if (entry.open && mark(entry.id)) stand(mark(entry.id));
  });
}

async function draw() {
  for (let tries = 0; tries < 600; tries += 1) {
    const told = await hear("/timeline/drawing");
    if (!told) return say("The drawing cannot be had; load the page again.");
    if (told.fault) {
      drawing.textContent = `Not drawn: ${told.fault}.`;
      return say("The timeline is not drawn."); // why, stands in its place; read aloud, a drawing would be minutes
    }
    if (!told.running) {
      drawing.innerHTML = told.html;
      lead();
      return say("The timeline is drawn.");
    }
    await wait(500);
  }
  return undefined;
}

const larger = document.getElementById("larger");
if (larger) {
  larger.hidden = false;
  larger.addEventListener("click", () => {
    const on = document.querySelector(".timeline-columns").classList.toggle("larger");
    larger.setAttribute("aria-pressed", String(on));
  });
}
if (drawing?.hasAttribute("data-waiting")) draw();
else lead();
const named = location.hash.slice(1).replace(/-more$/, "");
if (entries.some((entry) => entry.id === named)) show(named);
