// Take a marked word into the box for what was missed.
import { say } from "/static/page.js";

document.addEventListener("selectionchange", () => {
  const box = document.getElementById("missed-words");
  const marked = document.getSelection();
  const words = marked.toString().trim();
  const within = marked.anchorNode?.parentElement?.closest(".sentence");
  if (box && words && within && words.length <= 500) {
    box.value = words;
    say("The marked words stand in the box for what was missed.");
  }
});
