// What all pages have: what was done is said aloud, undo by keyboard, a server that has stopped is told.

export const revision = {
  get: () => document.body.dataset.revision,
  set: (value) => { if (value) document.body.dataset.revision = value; },
};

export function say(words) {
  document.getElementById("said").textContent = words;
}

// Post JSON; returns {ok, status, ...answer}. The revision goes along and the new one is kept.
export async function post(address, body) {
  try {
    const answer = await fetch(address, {
      method: "POST",
      headers: { "Content-Type": "application/json", Accept: "application/json" },
      body: JSON.stringify({ revision: revision.get(), ...body }),
    });
    const told = await answer.json();
    if (answer.ok) {
      revision.set(told.revision);
      for (const id of ["undo", "redo"]) {
        const button = document.getElementById(id);
        if (button && id === "undo") button.disabled = false;
      }
    }
    return { ok: answer.ok, status: answer.status, ...told };
  } catch {
    const fault = "The program has stopped. Nothing that was kept is lost: start it again and go on.";
    say(fault);
    return { ok: false, status: 0, fault };
  }
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
