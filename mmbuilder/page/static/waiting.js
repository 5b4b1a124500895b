// A page that waits for work beside it: asks until it is done, then shows what came of it, in the part of it that
// waited or in all of it; what was set, opened or has the focus meanwhile stays so. And one that has work begun
// which the next page will ask for.
import { hear, revision, say } from "./page.js";

async function ask() {
  const waiting = document.querySelector("[data-waiting]");
  if (!waiting) return begin();
  const told = await hear(waiting.dataset.waiting);
  if (told && !told.running) await renew(waiting.dataset.part || "main");
  return setTimeout(ask, 700);
}

async function renew(part) {
  const text = await hear(location.href, "text");
  const made = text && new DOMParser().parseFromString(text, "text/html");
  const [before, after] = [document.getElementById(part), made && made.getElementById(part)];
  // What was ticked of another state of the case is not ticked of this one.
  if (!after || made.body.dataset.revision !== revision.get()) return location.reload();
  document.title = made.title;
  carry(before, after);
  const focus = before.contains(document.activeElement) && alike(document.activeElement, after);
  before.replaceChildren(...after.childNodes);
  if (focus) focus.focus({ preventScroll: true });
  else if (document.activeElement === document.body) arrive(before);
  return say("The work is done; this page shows what came of it.");
}

// Where nobody is at work, as a page that is loaded does: to what asks for the focus, or to what the address names.
function arrive(part) {
  const [asks, place] = [part.querySelector("[autofocus]"), document.getElementById(location.hash.slice(1))];
  if (asks) asks.focus();
  else if (part.contains(place)) place.scrollIntoView();
}

function carry(before, after) {
  for (const field of before.querySelectorAll("input[id], select[id], textarea[id]")) {
    const same = after.querySelector(`#${CSS.escape(field.id)}`);
    if (!same || field.type === "file") continue;
    if (field.type === "checkbox" || field.type === "radio") same.checked = field.checked;
    else same.value = field.value;
  }
  for (const details of before.querySelectorAll("details[open]")) {
    const same = alike(details.querySelector("summary"), after);
    if (same) same.parentElement.open = true;
  }
}

// The same control in what comes: by its id, else by what it leads to and says.
function alike(one, after) {
  if (one.id) return after.querySelector(`#${CSS.escape(one.id)}`);
  const like = (other) => other.textContent === one.textContent && other.getAttribute("href") === one.getAttribute("href");
  return [...after.querySelectorAll(one.localName)].find(like);
}

function begin() {
  const ahead = document.querySelector("[data-ahead]");
  if (ahead) hear(ahead.dataset.ahead); // read to its end: a body that nobody reads keeps its request open
}

ask();
