"use strict";
// Point at a mark, a row or a sentence: all that belongs together lights up, and the manual's words stand at the foot of the screen.
(() => {
  const saying = document.getElementById("saying");
  const all = (name, value) => document.querySelectorAll(`[data-${name}="${CSS.escape(value)}"]`);
  let held = "";

  const clear = () => {
    document.querySelectorAll(".on").forEach((node) => node.classList.remove("on"));
    saying.hidden = true;
    held = "";
  };

  const words = (place) => {
    const row = document.getElementById(`row-${place}`);
    if (!row) return "";
    const quotes = new Set();
    row.querySelectorAll("tr").forEach((line) => {
      const link = line.querySelector("[data-step]");
      const quote = line.querySelector("q");
      if (link && quote) quotes.add(`${link.textContent}: “${quote.textContent}”`);
    });
    return [...quotes].join("  ");
  };

  const show = (node) => {
    const place = node.dataset.place;
    const step = node.dataset.step;
    const key = place ? `place ${place}` : `step ${step}`;
    if (key === held) return;
    clear();
    held = key;
    if (place) {
      all("place", place).forEach((other) => other.classList.add("on"));
      const text = words(place);
      saying.textContent = text;
      saying.hidden = !text;
      return;
    }
    all("step", step).forEach((other) => {
      other.classList.add("on");
      const row = other.closest("[data-place]");
      if (row) all("place", row.dataset.place).forEach((mark) => mark.classList.add("on"));
    });
  };

  const owner = (event) => (event.target instanceof Element ? event.target.closest("[data-place], [data-step]") : null);
  for (const kind of ["pointerover", "focusin"]) {
    document.addEventListener(kind, (event) => {
      const node = owner(event);
      if (node) show(node);
    });
  }
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") clear();
  });
  // The drawing for narrow screens has marks of its own: go to the one that can be seen.
  document.addEventListener("click", (event) => {
    const link = event.target instanceof Element ? event.target.closest('a.sign[href^="#mark-"]') : null;
    const place = link && link.closest("[data-place]").dataset.place;
    if (!place) return;
    const mark = [...all("place", place)].find((node) => node.matches("svg .mark") && node.getClientRects().length > 0);
    if (!mark) return;
    event.preventDefault();
    mark.focus();
    mark.scrollIntoView({ block: "center" });
  });
})();
