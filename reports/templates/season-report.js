// Touch or point at a mark: its words appear, it is marked, and its rig stands out in every chart.
(() => {
  const tip = document.getElementById("tip");
  const marks = [...document.querySelectorAll(".chart [aria-label]")].filter(
    (mark) => /^(point|rule|tick|bar) /.test(mark.getAttribute("aria-roledescription") + " ")
      || mark.getAttribute("aria-roledescription") === "rect mark");
  const rigOf = (mark) => mark.getAttribute("aria-label").split(":")[0];
  const show = (mark) => {
    tip.textContent = mark.getAttribute("aria-label");
    tip.hidden = false;
    const rig = rigOf(mark);
    for (const other of marks) {
      other.classList.toggle("dim", rigOf(other) !== rig);
      other.classList.toggle("touched", other.getAttribute("aria-label") === tip.textContent);
    }
  };
  const clear = () => {
    tip.hidden = true;
    for (const mark of marks) mark.classList.remove("dim", "touched");
  };
  for (const mark of marks) {
    mark.addEventListener("pointerenter", () => show(mark));
    mark.addEventListener("pointerleave", (event) => { if (event.pointerType === "mouse") clear(); });
    mark.addEventListener("click", (event) => { event.stopPropagation(); show(mark); });
  }
  // By keyboard: a chart is one stop, and the arrows go from mark to mark in it.
  const steps = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };
  for (const chart of document.querySelectorAll(".chart")) {
    const own = marks.filter((mark) => chart.contains(mark));
    if (!own.length) continue;
    let at = -1;
    chart.tabIndex = 0;
    chart.setAttribute("role", "group");
    chart.setAttribute("aria-label", chart.closest("figure").querySelector("h3").textContent);
    chart.addEventListener("keydown", (event) => {
      const step = steps[event.key];
      if (!step) return;
      event.preventDefault();
      at = (Math.max(at, step < 0 ? 0 : -1) + step + own.length) % own.length;
      show(own[at]);
    });
    chart.addEventListener("blur", clear);
  }
  // A link into what is folded unfolds it.
  const unfold = () => {
    const target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    for (const each of [target?.closest("details"), target?.querySelector(":scope > .folded")])
      if (each) each.open = true;
  };
  addEventListener("hashchange", unfold);
  unfold();
  document.addEventListener("click", clear);
  document.addEventListener("keydown", (event) => { if (event.key === "Escape") clear(); });
})();
