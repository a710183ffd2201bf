// Photos dropped, chosen or taken with the camera are sent at once; what came of each is shown while the others are still measured.
// The address keeps which photos they are, so that a page loaded anew shows what came and goes on watching.
// Without this script the form's own button does the same, and shows all at the end.

const form = document.getElementById("photos");
const bar = document.getElementById("bar");
const news = document.getElementById("news");
const came = document.getElementById("came");
const arrived = document.getElementById("arrived");
const refused = document.getElementById("refused");
const FEW = 6; // as many results lie open though something waits
let busy = false;
// Photos that were taken while others were still coming.
const waiting = [];

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

// Photos that still came when the page was loaded anew: at their end all is shown as it then is.
if (form.dataset.watched) {
  const seen = Number(form.dataset.seen);
  watch(`${form.dataset.watched}?seen=${seen}`, seen, Number(form.dataset.of), () => location.reload());
}

function watch(path, seen, all, done) {
  busy = true;
  let measured = seen;
  const tell = () => {
    const of = Math.max(all, measured);
    bar.value = of ? measured / of : 0;
    news.textContent = `${measured} of ${of} done`;
  };
  document.getElementById("progress").hidden = false;
  tell();
  const source = new EventSource(path);
  const show = (list) => (event) => {
    list.insertAdjacentHTML("afterbegin", event.data);
    if (list === arrived) came.hidden = false;
    measured += 1;
    tell();
  };
  source.addEventListener("photo", show(arrived));
  source.addEventListener("refused", show(refused));
  source.addEventListener("done", (event) => done(source, event.data));
  return source;
}

// What is said of all photos of one sending goes first: it must be known when the first one comes.
function said() {
  return [...new FormData(form)].filter(([, value]) => !(value instanceof File));
}

function send(files) {
  if (!files.length) return;
  for (const input of form.querySelectorAll("input[type=file]")) input.value = "";
  if (busy) {
    waiting.push([files, said()]);
    return;
  }
  arrived.replaceChildren();
  refused.replaceChildren();
  came.hidden = true;
  came.open = true;
  dispatch(files, said());
}

function dispatch(files, words) {
  const batch = form.action.split("/").pop();
  history.replaceState(null, "", `/line?batch=${batch}&of=${files.length}`);
  const source = watch(form.dataset.progress, 0, files.length, finish);
  news.scrollIntoView({ block: "nearest" });
  const data = new FormData();
  for (const [name, value] of words) data.append(name, value);
  for (const file of files) data.append("photos", file, file.name);
  fetch(form.action, { method: "POST", body: data, redirect: "manual" })
    .then(async (answer) => {
      if (answer.type !== "opaqueredirect" && !answer.ok) finish(source, await reason(answer));
    })
    .catch(() => finish(source, "The computer cannot be reached; see that the program still runs, then send the photos again."));
}

async function reason(answer) {
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  return page.querySelector(".trouble p")?.textContent ?? "The photos could not be sent; try again.";
}

async function finish(source, words) {
  source.close();
  if (!busy) return;
  busy = false;
  document.getElementById("progress").hidden = true;
  news.textContent = words;
  // What waits for a hand now, and where the next photos go.
  const answer = await fetch("/line");
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.getElementById("photos");
  if (!fresh) return;
  form.action = fresh.action;
  form.dataset.progress = fresh.dataset.progress;
  const waits = page.getElementById("waits");
  const nothing = waits.querySelector(".empty");
  if (arrived.children.length > FEW && !nothing) came.open = false;
  if (arrived.children.length || refused.children.length) nothing?.remove();
  document.getElementById("waits").replaceWith(waits);
  const next = waiting.shift();
  if (next) dispatch(...next);
}
