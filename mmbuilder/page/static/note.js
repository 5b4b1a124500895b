// A time that stands in the line is put into the field by its button.
import { say } from "/static/page.js";

for (const button of document.querySelectorAll("[data-time]")) {
  button.addEventListener("click", () => {
    const when = document.getElementById("when");
    when.value = button.dataset.time;
    when.focus();
    say(`When: ${button.dataset.time}`);
  });
}
