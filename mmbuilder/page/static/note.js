// The line that is pulled stands beside its form; a time that stands in it is put into the field by its button,
// and the clock that is named beside it. What the part of the case that is chosen asks for is shown at once.
import { say, send } from "/static/page.js";

const beside = matchMedia("(min-width: 62rem)");
if (beside.matches && !location.hash) document.querySelector(".note-lines .chosen")?.scrollIntoView({ block: "center" });

for (const button of document.querySelectorAll("[data-time]")) {
  button.addEventListener("click", () => {
    const when = document.getElementById("when");
    when.value = button.dataset.time;
    const clock = document.getElementById("clock");
    if (clock) clock.value = button.dataset.clock;
    when.focus();
    say(`When: ${button.dataset.time}`);
  });
}

// One form for a line, or one of several: its names end with the key of the line.
for (const kind of document.querySelectorAll("select[name=kind], select[name^=kind-]")) {
  kind.addEventListener("change", () => ask(kind));
}

async function ask(kind) {
  const behind = kind.name.slice("kind".length);
  const around = kind.closest(".note-fields, form");
  const field = (name) => document.getElementById(`${name}${behind}`);
  const what = field("what");
  const { before, after } = what.dataset; // the words as they were, and without the parts that were taken out
  const chosen = kind.selectedOptions[0];
  if (chosen.matches(".own")) { // its fields are there
    if (what.value === before) what.value = after;
    return undefined;
  }
  if (after !== undefined && what.value === after) what.value = before;
  if (!chosen.matches(".takes")) return undefined;
  const keys = [...(kind.closest("li") || kind.form).querySelectorAll("input[type=hidden]")]
    .filter((one) => one.name === "key" || one.name.startsWith("also-")).map((one) => one.value).join(",");
  const said = { kind: kind.value, what: what.value, when: field("when").value, clock: field("clock")?.value || "" };
  const told = await send("/note/parts", { keys, several: behind ? "yes" : "", ...said }, "");
  if (!told.ok || !told.asks || kind.value !== said.kind || what.value !== said.what) return undefined;
  const made = document.createElement("template");
  made.innerHTML = told.html;
  around.querySelector(".note-parts").replaceWith(made.content.querySelector(".note-parts"));
  Object.assign(what.dataset, { before: said.what, after: told.what });
  what.value = told.what;
  for (const one of kind.options) one.classList.toggle("own", one === chosen);
  return say("Its parts are taken out of these words, into their own fields.");
}

// A run of lines often was read from one clock: what is chosen at its first line is offered for those below that
// were told as it was.
for (const clock of document.querySelectorAll("select[name^=clock-]")) {
  let before = clock.value;
  clock.addEventListener("change", () => {
    offer(clock, alikeBelow(clock, before));
    before = clock.value;
  });
}

function alikeBelow(clock, before) {
  const all = [...document.querySelectorAll("select[name^=clock-]")];
  const below = all.slice(all.indexOf(clock) + 1);
  const other = below.findIndex((one) => one.value !== before);
  return (other < 0 ? below : below.slice(0, other)).filter((one) => one.offsetParent);
}

function offer(clock, below) {
  document.querySelector(".note-below")?.remove();
  if (!below.length) return;
  const button = document.createElement("button");
  Object.assign(button, { type: "button", className: "note-below" });
  button.textContent = below.length > 1 ? `So the next ${below.length} lines` : "So the next line";
  button.addEventListener("click", () => {
    for (const one of below) one.value = clock.value;
    button.remove();
    clock.focus();
    say(`By the ${clock.selectedOptions[0].textContent}: ${below.length + 1} lines.`);
  });
  clock.after(button);
}
