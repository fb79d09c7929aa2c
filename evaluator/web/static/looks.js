// One look a screen: a tap answers and leads on. Without this file each tap is a form of its own.
"use strict";

(() => {
  const visit = document.querySelector(".visit");
  if (!visit) return;
  const looks = [...visit.querySelectorAll("section.look")];
  const real = looks.filter((look) => look.dataset.look);
  const done = looks.find((look) => !look.dataset.look);
  const strip = visit.querySelector("form.kept"), words = strip.querySelector(".kept-words");
  const by = document.getElementById("by");
  let here = visit.dataset.here, version = Number(visit.dataset.version), last = "", applies = null;

  // Of a look that was not open the page holds only what is its own; the rest is the same for all.
  const further = visit.querySelector("template.further");
  const element = (tag, given, ...children) => {
    const one = Object.assign(document.createElement(tag), given);
    one.append(...children);
    return one;
  };
  const cautions = [...further.content.querySelectorAll(".cautions li")].map((line) => [...line.children].map((one) => one.textContent));
  function careful({ cautions: told, line: at }) {
    const all = told.split(" ").map((one) => cautions[one]), line = at ? all[at][0] : "";
    const rest = all.map(([, full]) => full).filter((full) => full !== line);
    const strong = element("strong", {}, line ? "Caution." : "Caution"), said = line ? [strong, ` ${line}`] : [strong];
    if (!rest.length) return element("p", { className: "careful" }, ...said);
    return element("details", { className: "careful" }, element("summary", {}, element("span", {}, ...said)), ...rest.map((full) => element("p", {}, full)));
  }
  function sheets(place) {
    const [width, height] = place.dataset.size.split(" ");
    for (const picture of [...place.children]) {
      const figure = element("figure", {});
      picture.replaceWith(figure);
      figure.append(Object.assign(picture, { width, height }));
      if (picture.dataset.judged) figure.append(element("figcaption", {}, picture.dataset.judged));
    }
  }
  // A field for a reading: of all units and tools those that are its own, in its own order.
  function typing(own, block) {
    const told = own.dataset, units = (told.units || "").split(" "), tools = (told.tools || "").split(" ");
    const field = block.querySelector("input"), typed = block.querySelector(".typed");
    const chosen = (select, values, value) => {
      select.replaceChildren(...values.map((one) => [...select.options].find((option) => option.value === one)).filter(Boolean));
      select.value = values.includes(value) ? value : values[0];
      return select.options;
    };
    if ("count" in told) block.querySelector("label").textContent = "How many?";
    if ("whole" in told) field.inputMode = "numeric";
    if (told.standard) field.dataset.standard = told.standard;
    field.value = told.reading || "";
    const unit = typed.querySelector("select"), tool = block.querySelector(":scope > select");
    if (chosen(unit, units, told.unit).length < 2) {
      typed.querySelector(".keys").remove();
      unit.replaceWith(...(units[0] ? [element("span", {}, units[0])] : []));
    }
    if (chosen(tool, tools, told.tool).length < 2) {
      tool.previousElementSibling.remove();
      tool.replaceWith(...(tools[0] ? [element("input", { type: "hidden", name: tool.name, value: tools[0] })] : []));
    }
    if (!("card" in told)) block.querySelector(":scope > p")?.remove();
    own.replaceWith(block);
  }
  function photo(line, name, number) {
    const picture = line.querySelector("img");
    Object.assign(picture, { alt: picture.alt.replace("NUMBER", number), src: `/photos/${name}.jpg` });
    line.querySelector("button").value = name;
    return line;
  }
  function noted(place, told, line) {
    place.open = true;
    place.querySelector("textarea").value = told.note;
    for (const [at, name] of told.photos.split(" ").filter(Boolean).entries()) {
      if (line) place.querySelector(".photos").append(photo(line.cloneNode(true), name, at + 1));
    }
  }
  function filled(look) {
    const name = look.dataset.look, form = look.firstElementChild;
    if (form.querySelector(".turn")) return;
    form.setAttribute("action", strip.getAttribute("action"));
    Object.assign(form, { method: "post", noValidate: true }).querySelector("h2").id = `ask-${name}`;
    const token = document.querySelector("meta[name=csrf-token]").content;
    for (const [key, value] of [["csrf_token", token], ["check", name]]) form.append(element("input", { type: "hidden", name: key, value }));
    look.setAttribute("aria-labelledby", `ask-${name}`);
    const rest = further.content.cloneNode(true);
    for (const one of rest.querySelectorAll("*")) for (const at of one.attributes) at.value = at.value.replace("THIS", name);
    for (const button of form.querySelectorAll("button[popovertarget]")) Object.assign(button, { type: "button", className: "word" });
    for (const place of form.querySelectorAll(".careful[data-cautions]")) place.replaceWith(careful(place.dataset));
    form.querySelectorAll(".sheets[data-size]").forEach(sheets);
    for (const own of form.querySelectorAll(".typing:empty")) typing(own, rest.querySelector(".typing"));
    const last = rest.querySelector(".answers"), own = look.querySelector(":scope > form > .answers");
    const folds = element("div", { className: "folds" }, rest.querySelector(".noted"));
    const kept = form.querySelector(".folds");
    if (kept) noted(folds.firstElementChild, kept.dataset, rest.querySelector(".photo"));
    kept?.remove();
    if (own) own.append(...last.children); else form.append(last);
    form.append(folds, rest.querySelector(".turn"));
    if (!form.querySelector(".waits")) form.querySelector("h2").after(rest.querySelector(".waits"));
    if (!form.querySelector(".wrong:not(.photo-wrong)")) form.querySelector(".typing, .marks, .by-eye, .answers").before(rest.querySelector(".wrong"));
    for (const button of form.querySelectorAll(".answers button:not([name])")) {
      button.className = button.value === "cannot_tell" ? "answer quiet" : "answer";
      button.name = `q-${name}`;
      if (!button.hasAttribute("aria-pressed")) button.setAttribute("aria-pressed", String(button.value === "cannot_tell" && "untold" in look.dataset));
    }
  }
  real.forEach(filled);

  // How one looks and what the answers mean is fetched once, behind the looks themselves.
  async function tell() {
    const { looks: told, meanings } = await (await fetch(visit.dataset.told, { credentials: "same-origin" })).json();
    const parsed = (html) => [...new DOMParser().parseFromString(html, "text/html").body.childNodes];
    for (const look of real) {
      const folds = look.querySelector(".folds");
      if (folds.children.length === 1) folds.prepend(...parsed(told[look.dataset.look] || ""));
    }
    for (const one of parsed(meanings)) if (one.id && !document.getElementById(one.id)) visit.after(one);
  }
  tell().catch(() => { /* without a net the looks themselves are there */ });

  visit.classList.add("over");  // the strip with "Undo" lies over the page, for a breath
  let breath = 0;
  function breathe() {
    clearTimeout(breath);
    breath = setTimeout(() => { if (!strip.contains(document.activeElement)) strip.hidden = true; }, 8000);
  }

  // The question without the term behind it; words in it may be buttons.
  const question = (look) => [...look.querySelector("h2").childNodes].filter((one) => one.nodeName !== "EM").map((one) => one.textContent).join("").trim();

  const signed = () => (by ? by.value.trim() : "");
  if (by) by.value = localStorage.getItem("looker") || "";
  if (by) by.addEventListener("change", () => localStorage.setItem("looker", by.value.trim()));

  const named = (name) => real.find((look) => look.dataset.look === name);
  const counts = (look) => !applies || applies.has(look.dataset.look) || "answered" in look.dataset;
  const shown = () => real.filter(counts);

  // What was answered without a net, and by a page that was since closed, stands here again.
  const mine = [...waiting.sentSince(visit.dataset.answers, version), ...waiting.read().filter((one) => one.url === visit.dataset.answers)];
  for (const one of mine) mark(named(one.check), one.answer);

  function mark(look, answer) {
    if (!look) return;
    const said = answer.outcome || answer.reading;
    if (said) look.dataset.answered = ""; else delete look.dataset.answered;
    for (const button of look.querySelectorAll("button.answer")) button.setAttribute("aria-pressed", String(button.value === (answer.outcome || answer.reading)));
  }

  // What was answered too late is not lost: it is said here, to be put in by hand.
  function aside() {
    const lines = waiting.notTaken(visit.dataset.answers).map((one) => {
      const look = named(one.check), button = look && look.querySelector(`button[value="${CSS.escape(one.answer.outcome || "")}"]`);
      const ask = look ? question(look) : one.check;
      return `${ask} ${button ? button.textContent.trim() : one.answer.reading || one.answer.outcome}`;
    });
    return lines.length ? ` Not put in, and kept on this phone: ${lines.join("; ")}.` : "";
  }

  function minutes(value) {
    return value < 0.75 ? "half a minute" : `${Math.round(value)} minute${Math.round(value) === 1 ? "" : "s"}`;
  }

  function go(name, focus = true) {
    here = name;
    const list = shown();
    for (const look of looks) look.hidden = look.dataset.look !== name;
    for (const [at, tick] of visit.querySelectorAll(".track i").entries()) {
      tick.className = real[at].dataset.look === name ? "here" : "answered" in real[at].dataset ? "done" : "";
      tick.hidden = !counts(real[at]);
    }
    const left = list.filter((look) => !("answered" in look.dataset)).reduce((sum, look) => sum + Number(look.dataset.minutes), 0);
    const title = visit.querySelector(".where");
    title.textContent = name ? `Look ${list.findIndex((look) => look.dataset.look === name) + 1} of ${list.length}` : `All ${list.length} looked at`;
    visit.querySelector(".left").textContent = name ? `about ${minutes(Math.max(left, 0.5))}` : "";
    document.title = `${title.textContent}${document.title.replace(/^[^:]*/, "")}`;
    if (!name) again();
    if (!focus) return;
    window.scrollTo(0, 0);
    const heading = (named(name) || done).querySelector("h2");
    heading.tabIndex = -1;
    heading.focus({ preventScroll: true });
  }

  function again() {
    const untold = real.filter((look) => "answered" in look.dataset && look.querySelector('button[value=cannot_tell][aria-pressed=true]'));
    const place = done.querySelector(".untold"), list = place.querySelector("ul");
    place.hidden = !untold.length;
    list.replaceChildren(...untold.map((look) => {
      const line = document.createElement("li"), link = document.createElement("a");
      link.href = `?at=${look.dataset.look}`;
      link.dataset.at = look.dataset.look;
      link.textContent = question(look);
      line.append(link);
      return line;
    }));
  }

  function next(name) {
    const list = shown(), at = list.findIndex((look) => look.dataset.look === name);
    const round = [...list.slice(at + 1), ...list.slice(0, at + 1)];
    const open = round.filter((look) => !("answered" in look.dataset));
    return open.length ? open[0].dataset.look : "";
  }

  function visited(look, state) {
    history.pushState({ look }, "", look ? `?at=${look}` : location.pathname);
    if (state !== false) go(look);
  }

  function answered(look, answer, said) {
    const name = look.dataset.look;
    mark(look, answer);
    waiting.add({ url: visit.dataset.answers, check: name, answer, version });
    last = answer.outcome || answer.reading ? name : "";
    const field = look.querySelector("input[data-standard]");
    words.textContent = last ? `Kept: ${said}.${field && answer.reading ? ` The standard is ${field.dataset.standard}.` : ""}${look.querySelector(".waits").hidden ? "" : " It counts for now, and is asked again later."}` : "";
    strip.hidden = !last;
    breathe();
  }

  visit.addEventListener("submit", (event) => {
    const form = event.target, button = event.submitter;
    if (form === strip) {
      event.preventDefault();
      const look = named(last || form.elements.check.value);
      answered(look, {}, "");
      visited(look.dataset.look);
      return;
    }
    const look = form.closest("section.look");
    if (!look || !look.dataset.look || !button || button.hasAttribute("formaction")) return;
    event.preventDefault();
    const name = look.dataset.look;
    if (button.value === "later") { strip.hidden = true; visited(next(name) === name ? "" : next(name)); return; }
    const sent = new FormData(form), note = (sent.get(`n-${name}`) || "").trim(), answer = {};
    if (button.name.startsWith("q-")) answer.outcome = button.value;
    else if (button.name.startsWith("r-")) answer.reading = button.value;
    else {
      answer.reading = (sent.get(`r-${name}`) || "").trim();
      if (!answer.reading) { form.elements[`r-${name}`].focus(); return; }
      for (const [letter, key] of [["u", "unit"], ["t", "tool"]]) if (sent.get(`${letter}-${name}`)) answer[key] = sent.get(`${letter}-${name}`);
    }
    if (note) answer.note = note;
    if (signed()) answer.by = signed();
    answer.at = new Date().toISOString().slice(0, 19) + "Z";
    wrong(look, "");
    const most = button.name.startsWith("r-") && look.querySelector(".row-of").children.length;
    answered(look, answer, most ? `${answer.reading} of ${most}` : answer.reading ? `${answer.reading} ${answer.unit || ""}`.trim() : button.textContent.trim());
    visited(next(name));
  });

  visit.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-at]"), key = event.target.closest("button[data-key]");
    if (link) { event.preventDefault(); visited(link.dataset.at); }
    if (!key) return;
    const field = key.closest(".typed").querySelector("input");
    field.setRangeText(key.dataset.key, field.selectionStart, field.selectionEnd, "end");
    field.focus();
  });
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href]");
    if (!link || link.dataset.at || event.defaultPrevented || event.ctrlKey || event.metaKey || !waiting.read().length) return;
    event.preventDefault();
    waiting.settled().then(() => { location.href = link.href; });
  });
  visit.addEventListener("change", (event) => {
    const keys = event.target.matches("select[aria-label=Unit]") && event.target.parentElement.querySelector(".keys");
    if (keys) keys.hidden = event.target.value !== "in";
  });
  window.addEventListener("popstate", () => go(new URLSearchParams(location.search).get("at") || visit.dataset.here));

  function wrong(look, text) {
    const line = look.querySelector(".wrong"), field = look.querySelector("input[name^=r-]");
    line.textContent = text;
    line.hidden = !text;
    if (field) field.toggleAttribute("aria-invalid", Boolean(text));
  }

  // A photo is sent as soon as it is chosen; without a net it waits on this phone like an answer.
  for (const button of visit.querySelectorAll(".send-photo")) button.hidden = true;
  visit.addEventListener("change", async (event) => {
    const field = event.target;
    if (!field.dataset.photo || !field.files.length) return;
    const look = field.closest("section.look"), place = look.querySelector(".photos");
    const picture = document.createElement("img");
    picture.alt = "The photo that you took";
    picture.src = URL.createObjectURL(field.files[0]);
    place.append(picture);
    await photosWaiting.add({ url: field.dataset.photo, file: field.files[0], by: signed() });
    field.value = "";
  });
  photosWaiting.listen((url, problem, names) => {
    const field = [...visit.querySelectorAll("[data-photo]")].find((one) => one.dataset.photo === url);
    if (!field) return;
    const look = field.closest("section.look"), line = look.querySelector(".photo-wrong");
    line.textContent = problem;
    line.hidden = !problem;
    const place = look.querySelector(".photos"), shown = place.querySelector(":scope > img"), name = (names || []).at(-1);
    if (!problem && name) {
      const line = further.content.querySelector(".photo").cloneNode(true), button = line.querySelector("button");
      button.setAttribute("formaction", button.getAttribute("formaction").replace("THIS", look.dataset.look));
      place.append(photo(line, name, place.querySelectorAll(".photo").length + 1));
    }
    shown?.remove();
  });

  waiting.listen(({ left, offline, told, url, say }) => {
    const line = visit.querySelector(".waiting");
    line.hidden = !(left && offline) && !say;
    if (say) line.textContent = say + aside();
    else line.textContent = left === 1 ? "1 answer waits for the net. It is kept on this phone." : `${left} answers wait for the net. They are kept on this phone.`;
    if (!told || url !== visit.dataset.answers) return;
    if (told.version) version = told.version;
    if (told.looks) applies = new Set(told.looks);
    if (told.waits) for (const look of real) {
      const line = look.querySelector(".waits"), text = told.waits[look.dataset.look] || "";
      line.textContent = text;
      line.hidden = !text;
    }
    for (const one of told.told || []) {
      const look = named(one.check);
      if (one.beside) { line.hidden = false; line.textContent = "Somebody else answered this too. Both answers are kept, and the result shows them side by side."; }
      if (!look || !one.problem) continue;
      wrong(look, one.problem);
      delete look.dataset.answered;
      strip.hidden = true;
      if (here !== one.check) visited(one.check);
    }
    go(here && named(here) && !counts(named(here)) ? next(here) : here, false);
  });

  if (here && named(here) && "answered" in named(here).dataset && !new URLSearchParams(location.search).get("at")) here = next(here);
  history.replaceState({ look: here }, "", location.href);
  go(here, false);

  // Where the address is secure the visit opens again without a net; elsewhere the browser allows no such thing.
  if (window.isSecureContext && navigator.serviceWorker) {
    navigator.serviceWorker.register("/worker.js").then(() => navigator.serviceWorker.ready).then((ready) => {
      const shown = [...document.querySelectorAll("script[src], link[rel=stylesheet], link[rel=icon], .visit img")];
      const paths = [...shown.map((one) => new URL(one.src || one.href).pathname), visit.dataset.told].filter((path) => !path.startsWith("/photos/"));
      ready.active.postMessage({ keep: [...new Set([location.pathname, ...paths])] });
    }).catch(() => { /* a browser that forbids it: all else works */ });
  }
})();
