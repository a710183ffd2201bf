// Corners over a photo, to be moved with a finger, a mouse or the arrow keys. The numbers in the form's text field are the truth:
// without this script they can be written by hand.

const STEP = 0.004; // of the longer side for one press of an arrow key; with shift five times as much

for (const form of document.querySelectorAll("form[data-corners]")) board(form);

function board(form) {
  const free = form.dataset.corners === "free";
  const field = form.querySelector("textarea");
  const place = form.querySelector(".board");
  const size = [Number(place.dataset.width), Number(place.dataset.height)];
  const status = Object.assign(document.createElement("p"), { className: "unseen" });
  status.setAttribute("role", "status");
  const shape = svg("svg", { viewBox: `0 0 ${size[0]} ${size[1]}`, "aria-hidden": "true" });
  const lines = [svg("polygon", { class: "under" }), svg("polygon", {})];
  shape.append(...lines);
  place.append(shape);
  place.after(status);
  let corners = [];
  let chosen = 0;
  let handles = [];

  function read() {
    const pairs = field.value.trim().split(/\s+/).map((pair) => pair.split(",").map(Number));
    if (pairs.every((pair) => pair.length === 2 && pair.every(Number.isFinite))) {
      corners = pairs;
      rebuild();
    }
  }

  function rebuild() {
    for (const handle of handles) handle.remove();
    handles = corners.map((_, n) => {
      const handle = Object.assign(document.createElement("button"), { type: "button", className: "corner" });
      if (!free) handle.textContent = n + 1;
      handle.addEventListener("focus", () => choose(n));
      handle.addEventListener("keydown", (event) => press(event, n));
      handle.addEventListener("pointerdown", (event) => {
        event.preventDefault();
        handle.focus();
        handle.setPointerCapture(event.pointerId);
      });
      handle.addEventListener("pointermove", (event) => {
        if (!handle.hasPointerCapture(event.pointerId)) return;
        const around = place.getBoundingClientRect();
        move(n, [
          ((event.clientX - around.left) / around.width) * size[0],
          ((event.clientY - around.top) / around.height) * size[1],
        ]);
      });
      place.append(handle);
      return handle;
    });
    draw();
  }

  function choose(n) {
    chosen = n;
    handles.forEach((handle, m) => handle.classList.toggle("chosen", m === n));
  }

  function move(n, [x, y]) {
    corners[n] = [Math.round(clamp(x, size[0])), Math.round(clamp(y, size[1]))];
    field.value = corners.map((corner) => corner.join(",")).join(" ");
    draw();
  }

  function draw() {
    const points = corners.map((corner) => corner.join(",")).join(" ");
    for (const line of lines) line.setAttribute("points", points);
    handles.forEach((handle, n) => {
      const [x, y] = corners[n];
      handle.style.left = `${(100 * x) / size[0]}%`;
      handle.style.top = `${(100 * y) / size[1]}%`;
      const first = !free && n === 0 ? ", at patch A1" : "";
      handle.setAttribute("aria-label", `Corner ${n + 1} of ${corners.length}${first}: ${Math.round(x)} across, ${Math.round(y)} down`);
    });
  }

  function press(event, n) {
    const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const way = ways[event.key];
    if (way) {
      event.preventDefault();
      const step = Math.max(...size) * STEP * (event.shiftKey ? 5 : 1);
      move(n, [corners[n][0] + way[0] * step, corners[n][1] + way[1] * step]);
      status.textContent = `${corners[n][0]} across, ${corners[n][1]} down`;
    } else if (free && (event.key === "Delete" || event.key === "Backspace")) {
      event.preventDefault();
      remove();
    }
  }

  function add() {
    const [a, b] = [corners[chosen], corners[(chosen + 1) % corners.length]];
    corners.splice(chosen + 1, 0, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
    rebuild();
    move(chosen + 1, corners[chosen + 1]);
    handles[chosen + 1].focus();
  }

  function remove() {
    if (corners.length <= 3) {
      status.textContent = "An outline needs three corners.";
      return;
    }
    corners.splice(chosen, 1);
    const next = Math.min(chosen, corners.length - 1);
    rebuild();
    move(next, corners[next]);
    handles[next].focus();
  }

  if (free) {
    const row = Object.assign(document.createElement("p"), { className: "deeds" });
    for (const [words, deed] of [["Add a corner", add], ["Take this corner away", remove]]) {
      const button = Object.assign(document.createElement("button"), { type: "button", className: "quiet", textContent: words });
      button.addEventListener("click", deed);
      row.append(button);
    }
    status.after(row);
  }
  field.addEventListener("input", read);
  read();
}

function clamp(value, most) {
  return Math.min(Math.max(value, 0), most);
}

function svg(name, attributes) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}
