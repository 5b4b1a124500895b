// The offset is worked out while the readings are typed; the name field shows only where it is needed.
import { send } from "./page.js";

const form = document.getElementById("compared");
const result = document.getElementById("result");
const fields = ["first-reads", "first-reference", "second-reads", "second-reference"];

function named() {
  document.getElementById("new-row").hidden = form.clock.value !== "";
}

function line(...parts) {
  const made = document.createElement("p");
  for (const [tag, words] of parts) {
    const part = document.createElement(tag);
    part.textContent = words;
    made.append(part, " ");
  }
  return made;
}

// Told only once both readings of the first pair are there: half a time is no fault yet.
async function work() {
  if (!form["first-reads"].value || !form["first-reference"].value) return result.replaceChildren();
  const told = await send("/clocks/work", Object.fromEntries(new FormData(form)), "");
  if (!told.ok) return;
  for (const name of fields) {
    const fault = told.faults[name];
    form[name].toggleAttribute("aria-invalid", Boolean(fault));
    if (fault) form[name].setAttribute("aria-invalid", "true");
    document.getElementById(`fault-${name}`).textContent = fault ? `${fault.text}; expected: ${fault.expected}` : "";
  }
  const others = Object.entries(told.faults).filter(([name]) => !fields.includes(name));
  result.replaceChildren(
    ...told.words.map((words) => line(["strong", words])),
    ...told.looks.map((look) => line(["strong", "Look:"], ["span", look.text], ["small", `[${look.code}]`], ["span", `found ${look.found}`])),
    ...others.map(([, fault]) => line(["span", fault.text])),
  );
}

let waiting = 0;
form.addEventListener("input", () => {
  named();
  clearTimeout(waiting);
  waiting = setTimeout(work, 500);
});
named();
