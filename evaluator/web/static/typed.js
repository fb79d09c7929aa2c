// Shows beside a field how what is typed there is read ("1.450 read as 1,450.00 USD"). The service reads it: the page
// asks for it, so that there is one reader. Without this file the next page shows it.
"use strict";
const at = document.currentScript.dataset.at || "/understood.json";
for (const field of document.querySelectorAll("input[data-reads]")) {
  const place = document.getElementById(`read-${field.id}`);
  if (!place) continue;
  let timer = 0, asked = 0;
  const ask = async () => {
    const mine = ++asked;
    const { reads: kind, least, most, currency, above } = field.dataset;
    const money = currency || document.getElementById(field.dataset.currencyOf || "")?.value;
    const wanted = Object.entries({ kind, least, most, above, currency: money, text: field.value });
    const query = new URLSearchParams(wanted.filter(([, value]) => value !== undefined));
    try {
      const answer = await fetch(`${at}?${query}`);
      if (!answer.ok || mine !== asked) return;
      const told = await answer.json();
      // What is wrong is told when the field is left, not while it is still being typed.
      place.textContent = told.say ?? (field === document.activeElement ? "" : told.wrong);
      place.classList.toggle("wrong", told.say === undefined && place.textContent !== "");
    } catch { /* The next page tells it. */ }
  };
  field.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(ask, 300); });
  field.addEventListener("change", () => { clearTimeout(timer); ask(); });
  const unit = document.getElementById(field.dataset.currencyOf || "");
  if (unit) unit.addEventListener("change", () => ask());
}
