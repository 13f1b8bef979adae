"use strict";
(() => {
  const make = (tag, attributes = {}, text = "") => {
    const element = Object.assign(document.createElement(tag), { textContent: text });
    Object.entries(attributes).forEach(([name, value]) => element.setAttribute(name, value));
    return element;
  };

  // Drawers: one at a time, the one chosen in the front view; all of them on request.
  const drawers = [...document.querySelectorAll("article.drawer")];
  if (drawers.length > 1) {
    const holder = drawers[0].parentElement;
    const links = [...document.querySelectorAll(".front.main a.cell")];
    const every = make("button", { type: "button", "aria-pressed": "false" }, "Show all drawers");
    drawers[0].before(every);
    holder.classList.add("single");
    const choose = (article) => {
      drawers.forEach((other) => other.classList.toggle("chosen", other === article));
      links.forEach((link) => {
        if (link.getAttribute("href") === `#${article.id}`) link.setAttribute("aria-current", "true");
        else link.removeAttribute("aria-current");
      });
    };
    const follow = (focus) => {
      const article = drawers.find((one) => `#${one.id}` === location.hash);
      if (!article) return;
      choose(article);
      article.scrollIntoView({ block: "nearest" });
      if (focus) article.querySelector("h3").focus({ preventScroll: true });
    };
    every.addEventListener("click", () => {
      const all = holder.classList.toggle("single") === false;
      every.setAttribute("aria-pressed", String(all));
    });
    addEventListener("hashchange", () => follow(true));
    document.addEventListener("click", (event) => {
      const link = event.target.closest('a[href^="#drawer-"]');
      if (link && link.getAttribute("href") === location.hash) follow(true);
    });
    choose(drawers.find((one) => ["used", "cased"].includes(one.dataset.state)) || drawers[0]);
    follow(false);
  }

  // What is long to read is folded until asked for.
  document.querySelectorAll("details.fold").forEach((fold) => { fold.open = false; });

  // Tables: sort by a column, filter by a word and by verdict.
  const value = (row, column) => row.cells[column].textContent.trim();
  const number = (text) => (text === "–" ? -Infinity : Number.parseFloat(text.replace(/,/g, "")));
  document.querySelectorAll("table[data-sortable]").forEach((table, position) => {
    const body = table.tBodies[0];
    const rows = [...body.rows];
    const heads = [...table.tHead.rows[0].cells];
    heads.forEach((head, column) => {
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
})();
