  // A drawing is made larger by the wheel or by two fingers and moved by dragging; a double click shows all of it again.
  // The wheel goes on scrolling the page that it has just scrolled, and at both ends of the zoom.
  const NEAREST = 12;
  let scrolled = -1000;
  addEventListener("scroll", () => { scrolled = performance.now(); }, { passive: true });
  document.querySelectorAll("svg.poster, svg.inside:not(.key)").forEach((svg) => {
    const whole = svg.getAttribute("viewBox").split(" ").map(Number);
    const fingers = new Map();
    let [left, top, width, height] = whole;
    let moved = false;
    let waiting = 0;
    const spot = ({ clientX, clientY }) => new DOMPoint(clientX, clientY).matrixTransform(svg.getScreenCTM().inverse());
    const look = (x, y, share) => {
      [width, height] = [share * whole[2], share * whole[3]];
      left = Math.min(Math.max(x, whole[0]), whole[0] + whole[2] - width);
      top = Math.min(Math.max(y, whole[1]), whole[1] + whole[3] - height);
      svg.setAttribute("viewBox", `${left} ${top} ${width} ${height}`);
      svg.classList.toggle("near", share < 1);
    };
    const zoom = (by, at) => {
      const share = Math.min(1, Math.max(1 / NEAREST, width / whole[2] / by));
      const grown = share * whole[2] / width;
      look(at.x - (at.x - left) * grown, at.y - (at.y - top) * grown, share);
    };
    const spread = () => {
      const [one, other] = [...fingers.values()];
      return Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY);
    };
    const middle = () => {
      const [one, other] = [...fingers.values()];
      return spot({ clientX: (one.clientX + other.clientX) / 2, clientY: (one.clientY + other.clientY) / 2 });
    };
    svg.addEventListener("wheel", (event) => {
      const all = !svg.classList.contains("near");
      if (all && (event.deltaY > 0 || (!event.ctrlKey && performance.now() - scrolled < 400))) return;
      event.preventDefault();
      zoom(Math.exp(-event.deltaY / (event.ctrlKey ? 100 : 400)), spot(event));
    }, { passive: false });
    svg.addEventListener("pointerdown", (event) => {
      fingers.set(event.pointerId, event);
      moved = false;
    });
    svg.addEventListener("pointermove", (event) => {
      if (!fingers.has(event.pointerId)) return;
      if (fingers.size === 2) {
        const before = spread();
        fingers.set(event.pointerId, event);
        zoom(spread() / before, middle());
      } else if (svg.classList.contains("near")) {
        const [from, to] = [spot(fingers.get(event.pointerId)), spot(event)];
        look(left + from.x - to.x, top + from.y - to.y, width / whole[2]);
        fingers.set(event.pointerId, event);
      } else return;
      moved = moved || fingers.size === 2 || Math.abs(event.movementX) + Math.abs(event.movementY) > 2;
    });
    ["pointerup", "pointercancel", "pointerleave"].forEach((end) => {
      svg.addEventListener(end, (event) => fingers.delete(event.pointerId));
    });
    // On a drawing made larger a click waits for a second one, which shows all of it again.
    svg.addEventListener("click", (event) => {
      clearTimeout(waiting);
      const held = svg.classList.contains("near") && event.detail > 0;
      if (!held && !moved) return;
      event.preventDefault();
      event.stopPropagation();
      const link = event.target.closest("a");
      if (moved || event.detail > 1 || !link) return;
      waiting = setTimeout(() => link.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true })), 300);
    });
    addEventListener("beforeprint", () => look(whole[0], whole[1], 1));
    svg.addEventListener("dblclick", () => look(whole[0], whole[1], 1));
    svg.addEventListener("dragstart", (event) => event.preventDefault());
  });
