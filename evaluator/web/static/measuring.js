// Marking places in a photo: a tap sets a mark, and under the glass it is moved to a hair. The page works without this.
"use strict";

(() => {
  const form = document.querySelector("form.measuring");
  if (!form) return;
  const width = Number(form.dataset.width), height = Number(form.dataset.height);
  const wanted = [...form.querySelectorAll(".wanted li")].map((one) => one.textContent);
  const field = form.elements.marks, ask = form.querySelector(".ask"), taps = form.querySelector(".taps");
  const points = field.value.split(";").filter((one) => one.trim()).map((one) => one.trim().split(/[ ,]+/).map(Number));
  const GROWN = 2;  // points of the screen for a point of the picture, under the glass
  let active = points.length - 1;

  const stage = document.createElement("div"), photo = new Image(), glass = document.createElement("canvas");
  stage.className = "stage";
  photo.src = taps.querySelector("input").src;
  photo.alt = "The photo with the card in it";
  const lines = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  lines.setAttribute("viewBox", `0 0 ${width} ${height}`);
  lines.setAttribute("aria-hidden", "true");
  stage.append(photo, lines);
  Object.assign(glass, { className: "glass", tabIndex: 0 });
  glass.setAttribute("role", "img");
  glass.setAttribute("aria-label", "The last mark, enlarged: drag the picture under the cross, or use the arrow keys");
  taps.replaceWith(stage, glass);
  form.elements.aimed.value = "yes";
  form.querySelector(".less").type = "button";
  const middle = document.createElement("button");
  Object.assign(middle, { type: "button", className: "plain", textContent: "Set it by the keyboard, from the middle" });
  form.querySelector(".less").after(middle);

  const within = (value, most) => Math.min(most, Math.max(0, value));
  function put(index, x, y) {
    points[index] = [within(x, width), within(y, height)];
    active = index;
    show();
  }

  function show() {
    field.value = points.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join("; ");
    const next = wanted[points.length];
    ask.textContent = next ? `${points.length + 1} of ${wanted.length}. Tap ${next}.` : "All is marked. Look at each once more, then work it out.";
    for (const old of stage.querySelectorAll(".handle")) if (Number(old.dataset.index) >= points.length) old.remove();
    points.forEach(([x, y], index) => {
      const mark = stage.querySelector(`.handle[data-index="${index}"]`) || handle(index);
      mark.style.left = `${100 * x / width}%`;
      mark.style.top = `${100 * y / height}%`;
      mark.setAttribute("aria-pressed", String(index === active));
    });
    const path = (list, close) => list.length > 1 ? `M${list.map((one) => one.join(" ")).join("L")}${close ? "Z" : ""}` : "";
    const ends = points.slice(4), drawn = path(points.slice(0, 4), points.length > 3) + path(ends.length === 3 ? [ends[1], ends[2]] : ends, false);
    lines.replaceChildren(...["under", ""].map((name) => {
      const line = document.createElementNS("http://www.w3.org/2000/svg", "path");
      line.setAttribute("d", drawn || "M0 0");
      if (name) line.setAttribute("class", name);
      return line;
    }));
    middle.hidden = !next;
    enlarge();
  }

  function handle(index) {
    const mark = document.createElement("button");
    Object.assign(mark, { type: "button", className: "handle" });
    mark.dataset.index = index;
    mark.setAttribute("aria-label", wanted[index]);
    stage.append(mark);
    drag(mark, () => width / stage.clientWidth, index);
    mark.addEventListener("focus", () => { active = index; show(); });
    mark.addEventListener("keydown", (event) => keys(event, index));
    return mark;
  }

  // How far a finger moved, in points of the picture; under the glass the picture follows the finger, so the mark goes
  // the other way.
  function drag(place, scale, index) {
    let from = null;
    place.addEventListener("pointerdown", (event) => {
      const at = index ?? active;
      if (at < 0) return;
      from = { at, x: event.clientX, y: event.clientY, point: points[at] };
      active = at;
      place.setPointerCapture(event.pointerId);
      show();
    });
    place.addEventListener("pointermove", (event) => {
      if (!from) return;
      const by = scale();
      put(from.at, from.point[0] + (event.clientX - from.x) * by, from.point[1] + (event.clientY - from.y) * by);
    });
    for (const end of ["pointerup", "pointercancel"]) place.addEventListener(end, () => { from = null; });
  }

  const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  function keys(event, index) {
    const way = WAYS[event.key];
    if (!way || index < 0) return;
    event.preventDefault();
    const step = event.shiftKey ? 25 : 1, [x, y] = points[index];
    put(index, x + way[0] * step, y + way[1] * step);
  }

  function enlarge() {
    const pen = glass.getContext("2d"), ratio = window.devicePixelRatio || 1;
    const wide = glass.clientWidth, high = glass.clientHeight;
    glass.width = wide * ratio;
    glass.height = high * ratio;
    if (active < 0 || !photo.complete || !photo.naturalWidth) return;
    const [x, y] = points[active];
    pen.scale(ratio, ratio);
    pen.imageSmoothingEnabled = true;
    const grown = photo.naturalWidth / width;
    pen.drawImage(photo, (x - wide / GROWN / 2) * grown, (y - high / GROWN / 2) * grown, wide / GROWN * grown, high / GROWN * grown, 0, 0, wide, high);
    for (const [colour, thick] of [["#23201b", 3], ["#fff", 1]]) {
      pen.strokeStyle = colour;
      pen.lineWidth = thick;
      pen.beginPath();
      pen.moveTo(wide / 2, 0);
      pen.lineTo(wide / 2, high);
      pen.moveTo(0, high / 2);
      pen.lineTo(wide, high / 2);
      pen.stroke();
    }
  }

  stage.addEventListener("click", (event) => {
    if (event.target.closest(".handle")) return;
    const box = stage.getBoundingClientRect();
    const x = (event.clientX - box.left) / box.width * width, y = (event.clientY - box.top) / box.height * height;
    put(points.length < wanted.length ? points.length : active, x, y);
  });
  drag(glass, () => -1 / GROWN);
  glass.addEventListener("keydown", (event) => keys(event, active));
  form.querySelector(".less").addEventListener("click", () => { points.pop(); active = points.length - 1; show(); });
  middle.addEventListener("click", () => {
    if (points.length >= wanted.length) return;
    put(points.length, width / 2, height / 2);
    stage.querySelector(`.handle[data-index="${active}"]`).focus();
  });
  photo.addEventListener("load", enlarge);
  window.addEventListener("resize", enlarge);
  show();
})();
