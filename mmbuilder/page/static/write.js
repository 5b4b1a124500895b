// The form: each change is kept at once, and nothing that was typed is lost when something else changed.

import { changed as undoable, revision, say, send as sent } from "./page.js";

const address = location.pathname;
const unsaved = new Map(); // name in the form -> what was typed and is not kept yet
const kept = new Map(); // name in the form -> the value that is in the file
let line = Promise.resolve(); // changes go one after the other: each is made on the state the last one left
let held = false; // the case was changed elsewhere: nothing is sent until the page has been loaded again
let timer = 0;

const page = () => document.querySelector(".write-page");
const fields = (within) => within.querySelectorAll('[name^="="]');
const clock = () => new Date().toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });

function value(name) {
  const all = [...document.getElementsByName(name)];
  return all.filter((one) => one.type !== "checkbox" || one.checked).map((one) => one.value).filter(Boolean).join("\n");
}

function show(name, typed) {
  const wanted = new Set(typed.split("\n")), all = [...document.getElementsByName(name)];
  const boxes = all.filter((one) => one.type === "checkbox").map((one) => one.value);
  for (const one of all) {
    if (one.type === "checkbox") one.checked = wanted.has(one.value);
    else one.value = typed.split("\n").filter((line) => !boxes.includes(line)).join("\n");
  }
}

function learn(within) {
  for (const one of fields(within)) kept.set(one.name, value(one.name));
}

const STOPPED = "The program has stopped. Keep this tab open, start the program again, and copy over what is marked as not kept";
const send = (to, body, more) => sent(to, body, STOPPED, more);

// Keeping a value

function changed(name) {
  if (value(name) === kept.get(name)) unsaved.delete(name);
  else unsaved.set(name, value(name));
}

function flush() {
  clearTimeout(timer);
  for (const name of unsaved.keys()) line = line.then(() => keep(name));
  return line;
}

async function keep(name) {
  if (held || !unsaved.has(name)) return;
  const typed = unsaved.get(name);
  const path = JSON.parse(name.slice(1));
  const told = await send(address, { revision: revision.get(), do: "set", path, value: typed });
  if (!told.ok) return refused(told, name);
  revision.set(told.revision);
  kept.set(name, typed);
  if (unsaved.get(name) === typed) unsaved.delete(name);
  mark(name, "");
  tell(told);
  const wrong = [...document.getElementsByName(name)].some((one) => one.getAttribute("aria-invalid") === "true");
  done(`Kept at ${clock()}.${wrong ? " Beside the field stands what to look at." : ""}`);
  if (told.again) await reload({ stay: true });
}

function done(words) {
  const form = document.getElementById("write");
  if (form) form.elements.revision.value = revision.get();
  undoable();
  say(words);
}

function mark(name, words) {
  for (const one of document.getElementsByName(name)) one.classList.toggle("not-kept", words !== "");
}

function refused(told, name) {
  if (name) mark(name, told.fault);
  if (told.kept) {
    revision.set(told.revision);
    return say(`${told.fault}.`);
  }
  if (told.status !== 409) return say(`Not kept: ${told.fault}.`);
  held = true;
  if (document.getElementById("moved")) return;
  const note = document.createElement("div");
  note.id = "moved";
  note.className = "moved card";
  note.setAttribute("role", "alert");
  const words = document.createElement("p");
  words.textContent = "Changed in another tab. Nothing was overwritten, and what you typed is still here.";
  const again = document.createElement("button");
  again.type = "button";
  again.textContent = "Load the case as it is now, and keep what I typed";
  again.addEventListener("click", () => {
    line = line.then(async () => {
      if (!(await reload({ stay: true }))) return;
      held = false;
      for (const [one, typed] of unsaved) show(one, typed);
      flush();
    });
  });
  note.append(words, again);
  page().prepend(note);
}

// What changes with a change

function tell(told) {
  for (const place of document.querySelectorAll(".at-faults")) {
    const id = place.id.slice(0, -"-faults".length);
    const html = told.faults[id] ?? "";
    if (place.innerHTML !== html) place.innerHTML = html;
    const field = document.getElementById(id);
    if (field?.matches("input, select, textarea")) {
      if (place.querySelector("li:not(.lacking)")) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
    }
  }
  for (const entry of document.querySelectorAll("details.entry")) {
    entry.querySelector(":scope > summary .tallies").innerHTML = told.tallies[entry.id] ?? "";
    if (told.told[entry.id]) entry.querySelector(":scope > summary .told").textContent = told.told[entry.id];
  }
  for (const [id, { holds, tally }] of Object.entries(told.groups)) {
    const head = document.getElementById(id)?.querySelector(":scope > summary");
    if (!head) continue;
    head.querySelector(".holds").textContent = holds;
    head.querySelector(".tallies").innerHTML = tally;
  }
  for (const place of document.querySelectorAll("[data-section]")) place.innerHTML = told.counts[place.dataset.section];
  const top = document.getElementById("write-top");
  if (top) top.innerHTML = told.list;
  const on = document.getElementById("write-on");
  if (on) on.innerHTML = told.on;
}

// Lists

const FOLDS = "details:is(.more, .group, .tick-more)";
const opened = () => [...document.querySelectorAll("details.entry[open]")].map((one) => one.id);

// How to find a part of the page again once the page has been made anew
function where(part) {
  const holder = part?.closest("[id]"), kind = part?.tagName;
  if (!holder || part === document.body) return null;
  const id = holder.id, at = holder === part ? -1 : [...holder.querySelectorAll(kind)].indexOf(part);
  return () => {
    const now = document.getElementById(id);
    return at < 0 ? now : now?.querySelectorAll(kind)[at];
  };
}

async function reload({ open = opened(), at = "", stay = false }) {
  let text;
  try {
    const answer = await fetch(address, { headers: { "X-Open": open.join(",") } });
    if (!answer.ok) throw new Error();
    text = await answer.text();
  } catch {
    say("The program does not answer. What you typed is still here.");
    return false;
  }
  const fresh = new DOMParser().parseFromString(text, "text/html");
  // Where the reader is now, not where they were when this page was asked for.
  const left = scrollY, here = document.activeElement, focused = stay && where(here);
  const folds = new Map([...document.querySelectorAll(FOLDS)].map((one) => [one.id, one.open]));
  const marked = here?.matches("input, textarea") ? [here.selectionStart, here.selectionEnd] : null;
  page().replaceWith(document.adoptNode(fresh.querySelector(".write-page")));
  document.querySelector(".write-list nav").replaceWith(document.adoptNode(fresh.querySelector(".write-list nav")));
  showNote(fresh);
  revision.set(fresh.body.dataset.revision);
  begin();
  for (const [one, typed] of unsaved) show(one, typed); // typed while the page was on its way
  for (const one of document.querySelectorAll(FOLDS)) one.open = folds.get(one.id) ?? one.open;
  if (stay) {
    scrollTo(0, left);
    const again = focused?.();
    if (again) again.focus({ preventScroll: true });
    if (again && marked?.[0] != null) again.setSelectionRange(...marked);
  }
  if (at) go(at);
  if (unsaved.size) flush(); // the field that was left is gone, and with it the event that would have kept it
  return true;
}

const stands = (name, within) => within.every((step, at) => JSON.parse(name.slice(1))[at] === step);

async function list(button) {
  const asked = JSON.parse(button.value);
  if (asked.do === "open") return;
  const into = asked.do === "line" && document.getElementById("into");
  if (into) asked.path = JSON.parse(into.value);
  for (const name of [...unsaved.keys()]) await keep(name); // not flush(): it ends the line that this waits in
  if (held) return;
  const moved = asked.do === "up" || asked.do === "down";
  const told = await send(address, { revision: revision.get(), ...asked });
  if (!told.ok) return refused(told, "");
  revision.set(told.revision);
  const moves = moved || asked.do === "remove"; // what was typed meanwhile may be of another entry of that list now
  for (const name of moves ? [...unsaved.keys()] : []) if (stands(name, asked.path.slice(0, -1))) unsaved.delete(name);
  const fellow = asked.do === "remove" ? `at-${asked.path.slice(0, -1).join("-").replaceAll(" ", "_")}-` : "";
  const open = asked.do === "set" || asked.do === "alike" ? opened() : fellow ? opened().filter((one) => !one.startsWith(fellow)) : asked.do === "add" || into ? [...opened(), told.open] : moved ? [told.open] : [];
  await reload({ open, at: asked.do === "add" ? told.open : "", stay: Boolean(into) || asked.do === "set" || asked.do === "alike" });
  if (asked.do === "set") {
    go(button.dataset.field);
    return done(`Kept at ${clock()}.`);
  }
  if (moved) {
    const tools = document.querySelector(`#${CSS.escape(told.open)} > .entry-tools`);
    const again = [...tools.querySelectorAll("button")].find((one) => JSON.parse(one.value).do === asked.do);
    (again.disabled ? tools.querySelector("button:not(:disabled)") : again).focus();
  } else if (asked.do !== "add" && !into) {
    const place = document.getElementById(told.at);
    (place?.querySelector(":scope > summary, :scope > .entry-body textarea") ?? place)?.focus();
  }
  if (into) onward(button.id);
  done(told.said);
}

// The note beside the form: a line goes to the field that was last in use, or to what was chosen

let last = ""; // the id of that field

function showNote(fresh) {
  for (const id of ["beside-left", "beside-lines"]) {
    const place = document.getElementById(id);
    if (place) place.innerHTML = fresh.getElementById(id).innerHTML;
  }
}

function follow(field) {
  const into = document.getElementById("into");
  if (!into || !field.dataset.takes) return;
  const path = field.name.slice(1);
  if (![...into.options].some((one) => one.value === path)) {
    into.querySelector("optgroup").append(new Option(field.dataset.takes, path));
  }
  into.value = path;
  last = field.id;
}

// A line that was put in is no longer in sight: on to the next one that is
function onward(id) {
  const before = document.getElementById(id);
  if (before?.offsetParent) return;
  const all = [...document.querySelectorAll("#beside-lines button")];
  const seen = (one) => one.offsetParent !== null;
  (all.slice(all.indexOf(before) + 1).find(seen) ?? all.findLast(seen))?.focus();
}

const noted = () => document.getElementById("beside-lines");
const placed = (line) => line.offsetTop - noted().offsetTop;

function remember() {
  const first = [...noted().children].find((one) => one.offsetParent && placed(one) + one.offsetHeight > noted().scrollTop);
  if (first) sessionStorage.setItem("line", first.value);
}

// The note opens at the lines for this section, else where the reader was
function recall() {
  const was = Number(sessionStorage.getItem("line"));
  const lines = [...noted().children].filter((one) => one.offsetParent);
  const line = lines.find((one) => one.matches(".fits")) ?? lines.find((one) => one.value >= was);
  if (line) noted().scrollTop = placed(line);
}

function within(note, event) {
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (event.key === "Escape") document.getElementById(last)?.focus();
  else if (step && event.target.matches("#beside-lines button")) {
    const all = [...note.querySelectorAll("#beside-lines button")].filter((one) => one.offsetParent);
    all[all.indexOf(event.target) + step]?.focus();
  } else return;
  event.preventDefault();
}

async function fill(entry) {
  const waiting = entry.querySelector(":scope > .waiting");
  if (!waiting) return;
  const told = await send(`${address}entry`, { path: JSON.parse(entry.dataset.path) });
  if (!told.ok) return say(told.fault);
  const made = document.createElement("template");
  made.innerHTML = told.html;
  waiting.replaceWith(made.content);
  learn(entry);
}

// Going to a field, also one within something that is closed

async function go(id) {
  let place = document.getElementById(id);
  for (let end = id.lastIndexOf("-"); !place && end > 2; end = id.lastIndexOf("-", end - 1)) {
    place = document.getElementById(id.slice(0, end));
    if (place?.matches("details.entry")) {
      await fill(place);
      place = document.getElementById(id) ?? place;
    }
  }
  if (!place) return;
  for (let around = place.closest("details"); around; around = around.parentElement.closest("details")) around.open = true;
  const field = place.matches(".entry") ? place.querySelector(".entry-body input:not([type=hidden]), .entry-body select, .entry-body textarea") : place;
  (field ?? place).focus();
  place.scrollIntoView({ block: "center" });
}

// From here on: what the page listens to

function begin() {
  learn(document);
  document.documentElement.classList.add("kept-at-once");
  for (const save of document.querySelectorAll(".save")) save.hidden = true;
}

document.addEventListener("input", (event) => {
  if (!event.target.name?.startsWith("=")) return;
  changed(event.target.name);
  clearTimeout(timer);
  timer = setTimeout(flush, 4000);
});
document.addEventListener("change", (event) => {
  if (!event.target.name?.startsWith("=")) return;
  changed(event.target.name);
  flush();
});
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.id === "write") {
    event.preventDefault();
    const button = event.submitter;
    line = button?.name === "do" ? line.then(() => list(button)) : flush();
    if (button?.name !== "do") line.then(() => held || unsaved.size || say(`Kept at ${clock()}.`));
  } else if (unsaved.size) {
    event.preventDefault(); // undo waits for what is being kept
    flush().then(() => form.submit());
  }
});
document.addEventListener("focusin", (event) => follow(event.target));
document.addEventListener("focusout", (event) => event.target.closest?.(".field")?.classList.remove("unhinted"));
document.addEventListener("keydown", (event) => {
  const note = event.target.closest?.(".write-beside");
  if (note) within(note, event);
  else if (event.key === "Escape") event.target.closest?.(".field")?.classList.add("unhinted");
});
document.addEventListener("toggle", (event) => {
  if (event.target.matches?.("details.entry") && event.target.open) fill(event.target);
}, true);
document.addEventListener("click", (event) => {
  const link = event.target.closest?.('a[href^="#at-"]');
  if (link) {
    event.preventDefault();
    go(link.hash.slice(1));
  }
  const away = event.target.closest?.("a[href]");
  if (away && !link && !held && unsaved.size && !(event.ctrlKey || event.metaKey || event.shiftKey || away.target || away.download)) {
    // The next page is to show what was typed last, and to be made on the state that leaves.
    event.preventDefault();
    flush().then(() => { location.href = away.href; });
  }
  const waiting = event.target.closest?.(".waiting button");
  if (waiting) {
    event.preventDefault();
    fill(waiting.closest("details.entry"));
  }
});
addEventListener("beforeunload", (event) => {
  flush();
  if (unsaved.size) event.preventDefault();
});
addEventListener("pagehide", () => {
  for (const [name, typed] of held ? [] : unsaved) {
    send(address, { revision: revision.get(), do: "set", path: JSON.parse(name.slice(1)), value: typed }, { keepalive: true });
    break; // the next one would be made on a state that is not known here
  }
});

begin();
const narrow = matchMedia("(max-width: 60rem)");
const small = matchMedia("(max-width: 76rem)");
const beside = document.querySelector(".write-beside");
const left = beside?.open; // a note of which nothing is left stays folded
const fit = () => {
  document.querySelector(".write-list").open = !narrow.matches;
  if (beside) beside.open = left && !small.matches;
};
for (const room of [narrow, small]) room.addEventListener("change", fit);
fit();
if (beside) {
  const used = document.getElementById("show-used");
  used.checked = sessionStorage.getItem("used") === "yes";
  used.addEventListener("change", () => sessionStorage.setItem("used", used.checked ? "yes" : ""));
  recall();
  noted().addEventListener("scrollend", remember);
}
const rail = document.querySelector(".write-list");
rail.scrollTop = rail.querySelector("[aria-current]").offsetTop - rail.clientHeight / 2; // where there is little room
if (location.hash.startsWith("#at-")) go(location.hash.slice(1));
