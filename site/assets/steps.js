// Shows the steps of a worked solution or a derivation one at a time. Without this script all steps stand open.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});

  function button(words) {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = words;
    return made;
  }

  // Covers all steps but the first of one `.stepwise` block and puts the two buttons under them.
  function prepare(block) {
    const steps = Array.from(block.querySelectorAll(":scope > .steps > .step"));
    const closing = block.querySelector(":scope > .closing");
    const parts = closing ? steps.concat([closing]) : steps;
    if (parts.length < 2 || block.dataset.prepared) return;
    block.dataset.prepared = "yes";
    let shown = 1;
    const row = document.createElement("p");
    row.className = "step-buttons";
    const next = button("next step");
    const all = button("all steps");
    const said = document.createElement("span");
    said.className = "count";
    said.setAttribute("role", "status");
    row.append(next, all, said);
    block.querySelector(":scope > .steps").after(row);
    if (closing) row.before(closing);

    function show() {
      parts.forEach((part, place) => part.classList.toggle("covered", place >= shown));
      const stepsShown = Math.min(shown, steps.length);
      said.textContent =
        shown > steps.length ? "The solution and its checks are whole." : `Step ${stepsShown} of ${steps.length}`;
      if (!closing && shown === steps.length) said.textContent = `All ${steps.length} steps are shown.`;
      const left = parts.length - shown;
      next.textContent = closing && shown === steps.length ? "the checks" : "next step";
      next.hidden = left === 0;
      all.hidden = left < 2;
    }

    next.addEventListener("click", () => {
      shown += 1;
      show();
      if (next.hidden) focusOn(parts[shown - 1]);
      row.scrollIntoView({ block: "nearest" });
    });
    all.addEventListener("click", () => {
      const from = shown;
      shown = parts.length;
      show();
      focusOn(parts[from]);
    });
    show();
  }

  // Moves the reading place to the heading of a part that was just uncovered.
  function focusOn(part) {
    const heading = part.querySelector("h3") || part;
    heading.setAttribute("tabindex", "-1");
    heading.focus();
  }

  Steadyrail.prepareSteps = function (within) {
    within.querySelectorAll(".stepwise").forEach(prepare);
  };
  Steadyrail.prepareSteps(document);
})();
