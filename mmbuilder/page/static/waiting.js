// A page that waits for work beside it: asks until it is done, then loads itself again, or only the part of it
// that waited, so that what is read or pressed meanwhile stays; and one that has work begun which the next page
// will ask for.
const waiting = document.querySelector("[data-waiting]");

async function ask() {
  const answer = await fetch(waiting.dataset.waiting, { headers: { Accept: "application/json" } }).catch(() => null);
  if (!answer?.ok || (await answer.json()).running) setTimeout(ask, 700);
  else if (waiting.dataset.part) await renew(waiting.dataset.part);
  else location.reload();
}

async function renew(part) {
  const answer = await fetch(location.href).catch(() => null);
  const made = answer?.ok && new DOMParser().parseFromString(await answer.text(), "text/html").getElementById(part);
  if (made) document.getElementById(part).replaceWith(made);
  else location.reload();
}
if (waiting) ask();

const ahead = document.querySelector("[data-ahead]");
if (ahead) {
  const begun = fetch(ahead.dataset.ahead, { headers: { Accept: "application/json" } });
  begun.then((answer) => answer.json()).catch(() => null); // a body that nobody reads keeps its request open
}
