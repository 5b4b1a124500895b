// What all pages have: what was done is said aloud, undo by keyboard, a server that has stopped is told.

export const revision = {
  get: () => document.body.dataset.revision,
  set: (value) => { if (value) document.body.dataset.revision = value; },
};

// Something was changed here: it can be undone, and what had been undone cannot be done again.
export function changed() {
  document.getElementById("undo").disabled = false;
  document.getElementById("redo").disabled = true;
}

export function say(words) {
  document.getElementById("said").textContent = words;
}

// Where the steps are scrolled, the one that is shown is in sight
const steps = document.querySelector(".top nav"), now = steps?.querySelector("[aria-current]");
function sight() {
  steps.scrollLeft = now.offsetLeft - steps.offsetLeft - (steps.clientWidth - now.clientWidth) / 2;
}
if (now) {
  sight();
  addEventListener("resize", sight); // also whoever makes the page larger
}

// Send JSON; returns {ok, status, ...answer}, with status 0 and `stopped` as the fault where nobody answers.
export async function send(address, body, stopped, more = {}) {
  try {
    const answer = await fetch(address, {
      method: "POST",
      headers: { "Content-Type": "application/json", Accept: "application/json" },
      body: JSON.stringify(body),
      ...more,
    });
    return { ok: answer.ok, status: answer.status, ...(await answer.json()) };
  } catch {
    return { ok: false, status: 0, fault: stopped };
  }
}

// What the program answers to a question, as "json", "text" or "blob"; null where it does not, or the page is left meanwhile.
export async function hear(address, as = "json") {
  try {
    const answer = await fetch(address, as === "json" ? { headers: { Accept: "application/json" } } : {});
    return answer.ok ? await answer[as]() : null;
  } catch {
    return null;
  }
}

const STOPPED = "The program has stopped. Nothing that was kept is lost: start it again and go on.";

// Ask for a change: the revision goes along and the new one is kept.
export async function post(address, body) {
  const told = await send(address, { revision: revision.get(), ...body }, STOPPED);
  if (told.ok) {
    revision.set(told.revision);
    changed();
  }
  if (!told.status) say(told.fault);
  return told;
}

// Undo loads the page anew: it says then what was done, and its button has the focus still.
for (const button of document.querySelectorAll(".tools button")) {
  button.form.addEventListener("submit", () => sessionStorage.setItem("stepped", `${button.id} ${revision.get()}`));
}
const [stepped, before] = (sessionStorage.getItem("stepped") || "").split(" ");
sessionStorage.removeItem("stepped");
if (stepped && before !== revision.get()) {
  document.getElementById(stepped).focus({ preventScroll: true });
  setTimeout(() => say(stepped === "undo" ? "Undone." : "Done again."), 300); // once the page is known, it is heard
}

const typing = (at) => at.matches("input, textarea, select, [contenteditable]");

document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || typing(event.target)) return;
  const key = event.key.toLowerCase();
  const id = key === "y" || (key === "z" && event.shiftKey) ? "redo" : key === "z" ? "undo" : "";
  const button = id && document.getElementById(id);
  if (button && !button.disabled) {
    event.preventDefault();
    button.click();
  }
});
