// A page that waits for work beside it: asks until it is done, then loads itself again; and one that has work
// begun which the next page will ask for.
const waiting = document.querySelector("[data-waiting]");

async function ask() {
  const answer = await fetch(waiting.dataset.waiting, { headers: { Accept: "application/json" } }).catch(() => null);
  if (answer?.ok && !(await answer.json()).running) location.reload();
  else setTimeout(ask, 700);
}
if (waiting) ask();

const ahead = document.querySelector("[data-ahead]");
if (ahead) {
  const begun = fetch(ahead.dataset.ahead, { headers: { Accept: "application/json" } });
  begun.then((answer) => answer.json()).catch(() => null); // a body that nobody reads keeps its request open
}
