"use strict";
(() => {
  const make = (tag, attributes = {}, text = "") => {
    const element = Object.assign(document.createElement(tag), { textContent: text });
    Object.entries(attributes).forEach(([name, value]) => element.setAttribute(name, value));
    return element;
  };

  // The poster: a drawer chosen in it or in the front is shown large beside the front, until it is closed.
  const look = document.querySelector(".look");
  const drawers = [...document.querySelectorAll("article.drawer")];
  if (look && drawers.length) {
    const links = [...look.querySelectorAll("svg a")];
    const bar = make("p", { class: "steps" });
    const step = (by) => {
      const at = drawers.findIndex((one) => one.classList.contains("chosen"));
      location.hash = drawers[(at + by + drawers.length) % drawers.length].id;
    };
    const close = () => {
      const last = drawers.find((one) => one.classList.contains("chosen"));
      history.replaceState(null, "", location.pathname + location.search);
      show(null);
      if (last) look.querySelector(`.front.main a[href="#${last.id}"]`).focus({ preventScroll: true });
    };
    const show = (chosen) => {
      look.classList.toggle("zoomed", Boolean(chosen));
      drawers.forEach((one) => one.classList.toggle("chosen", one === chosen));
      links.forEach((link) => {
        if (chosen && link.getAttribute("href") === `#${chosen.id}`) link.setAttribute("aria-current", "true");
        else link.removeAttribute("aria-current");
      });
      if (chosen) chosen.before(bar);
    };
    const follow = () => {
      const chosen = drawers.find((one) => `#${one.id}` === location.hash);
      if (!chosen) return;
      show(chosen);
      chosen.querySelector("h3").focus({ preventScroll: true });
      look.scrollIntoView();
    };
    [["All drawers", close, "Escape"], ["Previous", () => step(-1), "ArrowLeft"], ["Next", () => step(1), "ArrowRight"]]
      .forEach(([words, act, key]) => {
        const button = make("button", { type: "button", "aria-keyshortcuts": key }, words);
        button.addEventListener("click", act);
        bar.append(button);
      });
    drawers[0].parentElement.classList.add("single");
    addEventListener("hashchange", follow);
    document.addEventListener("click", (event) => {
      const link = event.target.closest('a[href^="#drawer-"]');
      if (link && link.getAttribute("href") === location.hash) follow();
    });
    document.addEventListener("keydown", (event) => {
      const typed = event.target.closest("input, select, textarea, .scroll");
      if (typed || event.altKey || event.ctrlKey || event.metaKey || !look.classList.contains("zoomed")) return;
      const act = { Escape: close, ArrowLeft: () => step(-1), ArrowRight: () => step(1),
        ArrowUp: () => step(-1), ArrowDown: () => step(1) }[event.key];
      if (!act) return;
      event.preventDefault();
      act();
    });
    follow();
  }

{% include "zoom.js" %}

  // What is long to read is folded until asked for or printed.
  const folds = [...document.querySelectorAll("details.fold")];
  const fold = (open) => folds.forEach((one) => { one.open = open; });
  fold(false);
  addEventListener("beforeprint", () => fold(true));
  addEventListener("afterprint", () => fold(false));

  // Tables: sort by a column, filter by a word and by verdict.
  const value = (row, column) => row.cells[column].textContent.trim();
  const number = (text) => (text === "–" ? -Infinity : Number.parseFloat(text.replace(/,/g, "")));
  document.querySelectorAll("table[data-sortable]").forEach((table, position) => {
    const body = table.tBodies[0];
    const rows = [...body.rows];
    const heads = [...table.tHead.rows[0].cells];
    heads.forEach((head, column) => {
      if ("picture" in head.dataset) return;
      const button = make("button", { type: "button", class: "sort" }, head.textContent);
      head.replaceChildren(button);
      button.addEventListener("click", () => {
        const down = head.getAttribute("aria-sort") === "ascending";
        heads.forEach((other) => other.removeAttribute("aria-sort"));
        head.setAttribute("aria-sort", down ? "descending" : "ascending");
        const numeric = head.classList.contains("number");
        const sorted = [...rows].sort((one, other) => {
          const [a, b] = [value(one, column), value(other, column)];
          return numeric ? number(a) - number(b) || 0 : a.localeCompare(b, "en", { numeric: true });
        });
        body.replaceChildren(...(down ? sorted.reverse() : sorted));
      });
    });
    const bar = make("div", { class: "filter" });
    const word = make("input", { type: "search", id: `word-${position}`, autocomplete: "off" });
    const verdict = make("select", { id: `verdict-${position}` });
    ["any", ...new Set(rows.map((row) => row.dataset.verdict))].forEach((name) => {
      verdict.append(make("option", { value: name }, name));
    });
    const told = make("output", { for: `word-${position} verdict-${position}` });
    const sift = () => {
      const asked = word.value.trim().toLowerCase();
      rows.forEach((row) => {
        const fits = row.textContent.toLowerCase().includes(asked);
        row.hidden = !fits || !["any", row.dataset.verdict].includes(verdict.value);
      });
      told.textContent = `${rows.filter((row) => !row.hidden).length} of ${rows.length} shown`;
    };
    word.addEventListener("input", sift);
    verdict.addEventListener("change", sift);
    bar.append(
      make("label", { for: word.id }, "Filter by word"), word, make("label", { for: verdict.id }, "Verdict"), verdict, told,
    );
    table.closest(".scroll").before(bar);
    sift();
  });

  // The trade-off curve and its table are in step: what is pointed at in one shows in the other.
  const steps = [...document.querySelectorAll("[data-first]")];
  steps.forEach((one) => {
    const mark = (on) => steps.filter((other) => other.dataset.first === one.dataset.first)
      .forEach((other) => other.classList.toggle("on", on));
    [["mouseenter", true], ["mouseleave", false], ["focus", true], ["blur", false]].forEach(([event, on]) => {
      one.addEventListener(event, () => mark(on));
    });
  });
})();
