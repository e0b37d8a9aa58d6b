// Any derivation or worked solution full-screen in large type, one step a key press, its circuit beside it.
// Attached to what steps.js prepares. Keys: → Space Page Down (next), ← Page Up Backspace (back), Home, End, Esc
// (leave).
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { element } = Steadyrail;
  const FORWARD = new Set(["ArrowRight", " ", "PageDown", "Enter"]);
  const BACK = new Set(["ArrowLeft", "PageUp", "Backspace"]);
  const ROOMY = 0.85; // a line that would be written smaller than this is given more room first
  const LEAST = 0.5; // how far a wide line is made smaller before it scrolls instead
  let gone = null; // settles when the board that was left last is out of full screen

  function button(words, className, pressed) {
    const made = element("button", className, words);
    made.type = "button";
    made.addEventListener("click", pressed);
    return made;
  }

  // The last drawing before the block; where none stands before it, the first of the page.
  function circuitOf(block) {
    const drawings = Array.from(document.querySelectorAll("main .figure > .drawing > svg"));
    const before = drawings.filter(
      (drawing) => drawing.compareDocumentPosition(block) & Node.DOCUMENT_POSITION_FOLLOWING,
    );
    return before.at(-1) || drawings[0] || null;
  }

  function titleOf(block) {
    const problem = block.closest("article.problem");
    return problem ? problem.querySelector("h1") : block.querySelector("h2, .lead-in") || document.querySelector("h1");
  }

  // What is shown one after another: of a problem its statement first; then the steps; the checks last.
  function panelsOf(block) {
    const panels = [];
    const problem = block.closest("article.problem");
    if (problem) {
      const statement = element("section", "board-statement");
      const heading = element("h3", "", "The problem");
      statement.append(heading);
      for (const part of problem.querySelectorAll(".statement > :not(.figure)")) {
        statement.append(Steadyrail.copied(part));
      }
      panels.push(statement);
    }
    const steps = Array.from(block.querySelectorAll(":scope > .steps > .step"));
    panels.push(...steps.map(Steadyrail.copied));
    const closing = block.querySelector(":scope > .closing");
    if (closing) panels.push(Steadyrail.copied(closing));
    return { panels, before: problem ? 1 : 0, steps: steps.length };
  }

  function present(block, opener) {
    const { panels, before, steps } = panelsOf(block);
    const drawing = circuitOf(block);
    const board = element("div", "presenting");
    board.setAttribute("role", "dialog");
    board.setAttribute("aria-modal", "true");
    board.tabIndex = -1;

    const title = element("h2", "board-title");
    title.id = "board-title";
    title.append(...Steadyrail.copiedInside(titleOf(block)));
    board.setAttribute("aria-labelledby", title.id);
    const circuit = element("div", "board-circuit");
    if (drawing) circuit.append(Steadyrail.copied(drawing));
    else board.classList.add("without-circuit");
    const written = element("div", "board-written");
    written.tabIndex = 0;
    written.setAttribute("role", "region");
    written.setAttribute("aria-label", "What is shown so far");
    const list = element("ol", "steps");
    if (before) written.append(panels[0]);
    list.append(...panels.slice(before, before + steps));
    written.append(list, ...panels.slice(before + steps));
    const foot = element("div", "board-foot");
    const back = button("back", "", () => turn(-1));
    const next = button("next", "", () => turn(1));
    const place = element("span", "board-place");
    foot.append(back, next, place, button("leave", "board-leave", leave));
    board.append(title, circuit, written, foot);

    const page = Array.from(document.body.children).filter((part) => !part.inert);
    let shown = 1;
    let wasFull = false;

    function where() {
      if (before && shown === 1) return "The problem";
      if (shown > before + steps) return "The checks";
      return `Step ${shown - before} of ${steps}`;
    }

    function show() {
      panels.forEach((panel, at) => {
        panel.hidden = at >= shown;
        panel.classList.toggle("now", at === shown - 1);
      });
      list.hidden = shown <= before;
      back.disabled = shown === 1;
      next.disabled = shown === panels.length;
      place.textContent = where();
      const now = panels[shown - 1];
      fit();
      const heading = now.querySelector("h3") || now;
      heading.tabIndex = -1;
      heading.focus({ preventScroll: true });
      const edge = now.offsetHeight > written.clientHeight ? "start" : "end";
      now.scrollIntoView({ block: edge, behavior: Steadyrail.still() ? "instant" : "smooth" });
    }

    // A line wider than its place takes some of the circuit's, then is written smaller; a lecture cannot well scroll
    // sideways. What is too wide even so scrolls, and can be reached by Tab for that.
    function fit() {
      const lines = panels.slice(0, shown).flatMap((panel) => Array.from(panel.querySelectorAll(".chain, .after")));
      for (const line of lines) {
        line.style.fontSize = "";
        line.removeAttribute("tabindex");
      }
      board.classList.remove("wide");
      const now = lines.filter((line) => panels[shown - 1].contains(line));
      board.classList.toggle("wide", now.some((line) => line.clientWidth / line.scrollWidth < ROOMY));
      for (const line of lines) {
        const share = line.clientWidth / line.scrollWidth;
        if (line.clientWidth && share < 1) line.style.fontSize = `${Math.max(LEAST, share * 0.98)}em`;
        if (line.scrollWidth > line.clientWidth + 1) line.tabIndex = 0;
      }
    }

    function turn(by) {
      const wanted = Math.min(panels.length, Math.max(1, shown + by));
      if (wanted === shown) return;
      shown = wanted;
      show();
    }

    function pressed(event) {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const onButton = event.target.closest("button, summary, a");
      if (event.key === "Escape") leave();
      else if (onButton && (event.key === " " || event.key === "Enter")) return;
      else if (event.target.matches(".chain, .after") && event.key.startsWith("Arrow")) return; // it scrolls
      else if (FORWARD.has(event.key)) turn(1);
      else if (BACK.has(event.key)) turn(-1);
      else if (event.key === "Home") turn(-panels.length);
      else if (event.key === "End") turn(panels.length);
      else return;
      event.preventDefault();
    }

    // Outside full screen a browser may keep the Escape key to itself: leaving full screen leaves the board as well.
    function changed() {
      if (document.fullscreenElement === board) wasFull = true;
      else if (wasFull) leave();
    }

    function leave() {
      if (!board.isConnected) return;
      document.removeEventListener("fullscreenchange", changed);
      window.removeEventListener("resize", fit);
      if (document.fullscreenElement === board) gone = document.exitFullscreen().catch(() => {});
      for (const part of page) part.inert = false;
      document.documentElement.classList.remove("is-presenting");
      board.remove();
      opener.focus();
    }

    written.addEventListener("click", (event) => {
      const chosen = String(window.getSelection()).length > 0;
      if (!chosen && !event.target.closest("button, a, summary, input, select")) turn(1);
    });
    board.addEventListener("keydown", pressed);
    document.addEventListener("fullscreenchange", changed);
    window.addEventListener("resize", fit);
    for (const part of page) part.inert = true;
    document.documentElement.classList.add("is-presenting");
    document.body.append(board);
    show();
    // Where full screen is refused the board fills the window all the same. A board that was left a moment ago goes
    // first: its way out would take this one along.
    if (board.requestFullscreen) {
      Promise.resolve(gone)
        .then(() => board.isConnected && board.requestFullscreen())
        .then(fit, () => {});
    }
  }

  Steadyrail.still = function () {
    return window.matchMedia("(prefers-reduced-motion: reduce)").matches;
  };

  function attach(block) {
    if (block.dataset.presented || !block.querySelector(":scope > .steps > .step")) return;
    block.dataset.presented = "yes";
    let row = block.querySelector(":scope > .step-buttons");
    if (!row) {
      row = element("p", "step-buttons");
      block.querySelector(":scope > .steps").after(row);
    }
    const opener = button("full screen", "present", () => present(block, opener));
    opener.title = "In large type, one step a key press";
    row.append(opener);
  }

  const prepare = Steadyrail.prepareSteps;
  Steadyrail.prepareSteps = function (within) {
    prepare(within);
    within.querySelectorAll(".stepwise").forEach(attach);
  };
  document.querySelectorAll(".stepwise").forEach(attach);
})();
