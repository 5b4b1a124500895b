// The line that is pulled stands beside its form; a time that stands in it is put into the field by its button,
// and the clock that is named beside it.
import { say } from "/static/page.js";

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
