"use strict";
(() => {
  // The matrix fills on the desk; the page looks again while nobody is busy with it.
  if (document.querySelector("[data-filling]")) {
    let busy = false;
    ["input", "pointerdown", "keydown"].forEach((kind) => addEventListener(kind, () => { busy = true; }));
    setInterval(() => { if (!busy) location.reload(); busy = false; }, 4000);
  }

  // Moving a group: every drop presses the button that the group's own list of drawers has for that drawer.
  const look = document.querySelector(".look");
  const lists = [...document.querySelectorAll("[data-move]")];
  if (!look || !lists.length) return;

  const told = Object.assign(document.createElement("p"), { className: "moving-told note" });
  told.setAttribute("role", "status");
  const HINT = matchMedia("(pointer: coarse)").matches ? "Choose a drawer to move what lies in it."
    : "Drag a group to another drawer. By keyboard: Tab to its drawer, M, arrow keys, Enter.";
  told.textContent = HINT;
  look.before(told);

  const links = [...look.querySelectorAll("svg a")];
  const nameOf = (link) => {
    const box = link && link.querySelector(".box");
    return box ? box.dataset.above || box.dataset.drawer : undefined;
  };
  const row = (list, drawer) => [...list.querySelectorAll("li[data-drawer]")].find((one) => one.dataset.drawer === drawer);
  const button = (list, drawer) => row(list, drawer)?.querySelector("button");
  const strong = (words) => Object.assign(document.createElement("b"), { textContent: words });
  let list = null;

  const say = (drawer) => {
    const at = drawer && row(list, drawer);
    const takes = at && at.querySelector("button");
    const count = list.querySelectorAll("li[data-drawer] button").length;
    const more = lists.filter((one) => one.dataset.from === list.dataset.from).length > 1 ? " M again: the next group in it." : "";
    const here = !at ? `${count} drawers take it. Escape puts it back.${more}`
      : `drawer ${drawer}: ${takes ? "" : "does not take it, "}${at.dataset.told}.`;
    told.replaceChildren(strong(list.dataset.move), `: ${here}`);
  };
  const pick = (chosen) => {
    drop();
    list = chosen;
    look.classList.add("moving");
    look.querySelectorAll("[data-group]").forEach((one) => {
      one.classList.toggle("picked", one.dataset.group === list.dataset.move);
    });
    links.forEach((link) => {
      const name = nameOf(link);
      link.classList.add(name === list.dataset.from ? "from" : button(list, name) ? "takes" : "refuses");
    });
    say();
  };
  const drop = () => {
    list = null;
    look.classList.remove("moving");
    links.forEach((link) => link.classList.remove("from", "takes", "refuses", "over"));
    look.querySelectorAll(".picked").forEach((one) => one.classList.remove("picked"));
    told.textContent = HINT;
  };
  const place = (drawer) => {
    const press = button(list, drawer);
    if (!press) return false;
    told.textContent = `Working out the plan with ${list.dataset.move} in drawer ${drawer}.`;
    press.click();
    return true;
  };

  // By pointer.
  let start = null;
  let ghost = null;
  const under = (event) => document.elementsFromPoint(event.clientX, event.clientY);
  const linkUnder = (event) => under(event).map((one) => one.closest(".look svg a")).find(Boolean);
  const listUnder = (event) => {
    const group = under(event).map((one) => one.dataset && one.dataset.group).find(Boolean);
    const drawer = nameOf(linkUnder(event));
    return lists.find((one) => (group ? one.dataset.move === group : one.dataset.from === drawer));
  };
  const stop = () => {
    start = null;
    if (ghost) ghost.remove();
    ghost = null;
  };
  look.addEventListener("dragstart", (event) => event.preventDefault());
  look.addEventListener("pointerdown", (event) => {
    const chosen = event.button === 0 && event.pointerType !== "touch" && linkUnder(event) && listUnder(event);
    if (chosen) start = { chosen, x: event.clientX, y: event.clientY };
  });
  addEventListener("pointermove", (event) => {
    if (!start) return;
    if (!ghost) {
      if (Math.hypot(event.clientX - start.x, event.clientY - start.y) < 6) return;
      pick(start.chosen);
      ghost = Object.assign(document.createElement("div"), { className: "ghost", textContent: list.dataset.move });
      document.body.append(ghost);
    }
    ghost.style.left = `${event.clientX}px`;
    ghost.style.top = `${event.clientY}px`;
    const drawer = nameOf(linkUnder(event));
    links.forEach((link) => link.classList.toggle("over", nameOf(link) === drawer && link.classList.contains("takes")));
    say(drawer === list.dataset.from ? undefined : drawer);
  });
  addEventListener("pointerup", (event) => {
    const dragged = Boolean(ghost);
    const drawer = dragged && nameOf(linkUnder(event));
    stop();
    if (!dragged) return;
    addEventListener("click", (click) => { if (click.isTrusted) { click.preventDefault(); click.stopPropagation(); } },
      { capture: true, once: true });
    if (!place(drawer)) drop();
  });
  addEventListener("pointercancel", () => { stop(); if (list) drop(); });

  // By keyboard: M picks up what lies in the drawer, again M the next group in it.
  addEventListener("keydown", (event) => {
    const link = event.target.closest(".look svg a");
    if (event.altKey || event.ctrlKey || event.metaKey || (!list && !link)) return;
    const act = {
      m: () => {
        const here = lists.filter((one) => one.dataset.from === (list ? list.dataset.from : nameOf(link)));
        if (here.length) pick(here[(here.indexOf(list) + 1) % here.length]);
        else told.textContent = "Nothing lies in this drawer to be moved.";
      },
      Escape: () => { if (ghost) stop(); drop(); },
      Enter: () => { if (link) place(nameOf(link)); },
      ArrowRight: () => step(1), ArrowDown: () => step(1), ArrowLeft: () => step(-1), ArrowUp: () => step(-1),
    }[event.key === "M" ? "m" : event.key];
    if (!act || (!list && event.key.toLowerCase() !== "m")) return;
    event.preventDefault();
    event.stopPropagation();
    act();
  }, { capture: true });
  const step = (by) => {
    const svg = (document.activeElement.closest(".look svg") || look.querySelector("svg.front"));
    const takers = links.filter((link) => link.closest("svg") === svg && link.classList.contains("takes"));
    if (!takers.length) return;
    const at = takers.indexOf(document.activeElement);
    const next = takers.at(((at < 0 && by < 0 ? 0 : at) + by) % takers.length);
    next.focus();
    say(nameOf(next));
  };
})();
