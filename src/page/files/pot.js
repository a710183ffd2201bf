// Each touch of a chip asks the page for the bundle as it is then, and puts it in the place of the old one; without this script the
// whole page comes anew. What is written down goes the usual way.

const told = document.getElementById("told");
// One touch after another: each is made on what the one before left.
let turn = Promise.resolve();
let waiting = 0;
let last = { id: "", at: 0 };

function bundle() {
  return document.getElementById("bundle");
}

document.addEventListener("submit", (event) => {
  const button = event.submitter;
  if (event.target.id !== "bundle" || !button) return;
  if (button.value === "write") {
    forget();
    return;
  }
  event.preventDefault();
  // A wet finger touches twice.
  const twice = button.id === last.id && event.timeStamp - last.at < 350;
  last = { id: button.id, at: event.timeStamp };
  if (!twice) queue(button.value, true, button.id);
});

// What was typed may bring another caution.
document.addEventListener("change", (event) => {
  if (event.target.closest("#bundle")) queue("look", false, "");
});

// What is typed is kept beside the page, so that a phone that lets the page go, or a finger that draws it anew, loses nothing.
const draft = location.pathname + location.search;

function keep() {
  try {
    sessionStorage.setItem(draft, new URLSearchParams(new FormData(bundle())).toString());
  } catch {
    // A browser that keeps nothing loses nothing else by it.
  }
}

function forget() {
  try {
    sessionStorage.removeItem(draft);
  } catch {
    // As above.
  }
}

async function takeUp() {
  let kept = null;
  try {
    kept = sessionStorage.getItem(draft);
  } catch {
    return;
  }
  // What was just refused is the newest.
  if (!kept || document.getElementById("refused")) return;
  if (kept === new URLSearchParams(new FormData(bundle())).toString()) return;
  const data = new URLSearchParams(kept);
  data.append("deed", "look");
  const answer = await fetch(bundle().action, { method: "POST", body: data }).catch(() => null);
  if (!answer?.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.getElementById("bundle");
  if (!fresh) return;
  bundle().replaceWith(fresh);
  told.textContent = "What you had begun is here again. ";
  const anew = document.createElement("button");
  anew.type = "button";
  anew.className = "quiet";
  anew.id = "anew";
  anew.textContent = "Begin anew";
  anew.addEventListener("click", () => {
    forget();
    location.reload();
  });
  told.append(anew);
  told.classList.remove("unseen");
}

document.addEventListener("input", (event) => {
  if (event.target.closest("#bundle")) keep();
});
takeUp();

function queue(deed, whole, id) {
  waiting += 1;
  turn = turn.then(() => {
    waiting -= 1;
    // Another touch comes right after, and brings the cautions with it.
    return !whole && waiting ? undefined : touch(deed, whole, id);
  });
}

async function touch(deed, whole, id) {
  const form = bundle();
  const data = new URLSearchParams(new FormData(form));
  data.append("deed", deed);
  const answer = await fetch(form.action, { method: "POST", body: data }).catch(() => null);
  if (!answer?.ok) {
    told.textContent = "The computer cannot be reached; see that the program still runs.";
    told.classList.remove("unseen");
    return;
  }
  told.classList.add("unseen");
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.getElementById("bundle");
  if (!fresh) return;
  if (!whole) {
    document.getElementById("mind").replaceWith(fresh.querySelector("#mind"));
    return;
  }
  for (const open of form.querySelectorAll("details[open][id]")) {
    const same = fresh.querySelector(`#${open.id}`);
    if (same && deed !== "add") same.open = true;
  }
  form.replaceWith(fresh);
  keep();
  told.textContent = fresh.dataset.told;
  const next = deed === "add" ? [...fresh.querySelectorAll("details.layer > summary")].pop() : document.getElementById(id);
  next?.focus({ preventScroll: deed !== "add" });
}
