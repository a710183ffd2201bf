// Photos dropped, chosen or taken with the camera are sent at once; what came of each is shown while the others are still measured.
// Without this script the form's own button does the same, and shows all at the end.

const form = document.getElementById("photos");
const bar = document.getElementById("bar");
const news = document.getElementById("news");
const arrived = document.getElementById("arrived");
let busy = false;

document.getElementById("send").hidden = true;

for (const input of form.querySelectorAll("input[type=file]")) {
  input.addEventListener("change", () => send([...input.files]));
}
form.addEventListener("submit", (event) => event.preventDefault());
for (const kind of ["dragenter", "dragover"]) {
  document.addEventListener(kind, (event) => {
    event.preventDefault();
    form.classList.add("over-it");
  });
}
document.addEventListener("dragleave", (event) => {
  if (!event.relatedTarget) form.classList.remove("over-it");
});
document.addEventListener("drop", (event) => {
  event.preventDefault();
  form.classList.remove("over-it");
  send([...event.dataTransfer.files]);
});

function send(files) {
  if (!files.length) return;
  if (busy) {
    news.textContent = "The photos before are still coming; send these when they are done.";
    return;
  }
  busy = true;
  let measured = 0;
  const tell = () => {
    bar.value = measured / files.length;
    news.textContent = `${measured} of ${files.length} done`;
  };
  arrived.replaceChildren();
  document.getElementById("progress").hidden = false;
  tell();
  news.scrollIntoView({ block: "nearest" });
  const watch = new EventSource(form.dataset.progress);
  watch.addEventListener("photo", (event) => {
    arrived.insertAdjacentHTML("afterbegin", event.data);
    measured += 1;
    tell();
  });
  watch.addEventListener("done", (event) => finish(watch, event.data));
  // What is said of all photos goes first: it must be known when the first one comes.
  const data = new FormData();
  for (const [name, value] of new FormData(form)) {
    if (!(value instanceof File)) data.append(name, value);
  }
  for (const file of files) data.append("photos", file, file.name);
  fetch(form.action, { method: "POST", body: data, redirect: "manual" })
    .then(async (answer) => {
      if (answer.type !== "opaqueredirect" && !answer.ok) finish(watch, await reason(answer));
    })
    .catch(() => finish(watch, "The computer cannot be reached; see that the program still runs, then send the photos again."));
}

async function reason(answer) {
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  return page.querySelector(".trouble p")?.textContent ?? "The photos could not be sent; try again.";
}

async function finish(watch, words) {
  watch.close();
  if (!busy) return;
  busy = false;
  document.getElementById("progress").hidden = true;
  news.textContent = words;
  form.reset();
  // What waits for a hand now, and where the next photos go.
  const answer = await fetch("/line");
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.getElementById("photos");
  if (!fresh) return;
  form.action = fresh.action;
  form.dataset.progress = fresh.dataset.progress;
  document.getElementById("waits").replaceWith(page.getElementById("waits"));
}
