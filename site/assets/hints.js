// Hints beside an answer line: three, each more direct than the one before, given one at a time when they are asked
// for. The page holds them, hidden; tutor/solution/hints.py made them. How many were given is told to the record.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  const WHICH = ["", ", the second", ", the third"];

  function isOff() {
    const settings = Steadyrail.settings;
    return Boolean(settings) && settings.get("help") === "off";
  }

  // Whether help may be offered: a reader may have turned it off.
  Steadyrail.helpIsOn = function () {
    return !isOff();
  };

  // How many hints of a line were given.
  Steadyrail.hintsGiven = function (line) {
    return Number(line.dataset.hinted || 0);
  };

  function told(text) {
    const made = document.createElement("p");
    made.textContent = text;
    return made;
  }

  // The line on whose answer these hints lean, when that is not settled yet; its answer would stand in them.
  function unsettled(line, store) {
    const after = store.dataset.after;
    if (!after) return null;
    const other = line.parentNode.querySelector(`.answer[data-part="${after}"]`);
    return other && other.dataset.settled !== "yes" ? other : null;
  }

  // A letter symbol from its main letter and its subscript: V|I(min).
  function letter(parts) {
    const [main, lowered] = parts.split("|");
    const bare = main.replace(/^Δ/, "");
    const made = document.createElement("span");
    made.className = "letter-symbol";
    const face = document.createElement(bare.length > 1 ? "span" : "i");
    face.textContent = bare;
    made.append(bare === main ? "" : "Δ", face);
    if (lowered) made.append(Object.assign(document.createElement("sub"), { textContent: lowered }));
    return made;
  }

  // Sets the letters of a hint's words, and puts in a line that it has from the worked solution.
  function set(hint, line) {
    for (const words of hint.querySelectorAll(".to-set")) {
      const pieces = words.textContent.split("$");
      words.replaceChildren(...pieces.map((piece, odd) => (odd % 2 === 1 ? letter(piece) : piece)));
    }
    for (const chain of hint.querySelectorAll(".of-step")) {
      const steps = Array.from(line.closest("article").querySelectorAll(".solution .steps > .step"));
      const step = steps.find((one) => one.dataset.part.endsWith(` ${chain.dataset.part}`));
      const worked = step ? step.querySelector(".chain") : null;
      if (worked) chain.replaceChildren(...Array.from(worked.childNodes, (node) => node.cloneNode(true)));
    }
    return hint;
  }

  function prepare(line) {
    const store = line.querySelector(".hints");
    if (!store || line.querySelector(".hint-button")) return;
    const hints = Array.from(store.children);
    const place = document.createElement("div");
    place.className = "hinted";
    place.setAttribute("role", "status");
    const button = document.createElement("button");
    button.type = "button";
    button.className = "hint-button";
    const about = document.createElement("span");
    about.className = "heard";

    function name() {
      const given = Steadyrail.hintsGiven(line);
      about.textContent = `${WHICH[Math.min(given, WHICH.length - 1)]} for this line`;
      button.replaceChildren("a hint", about);
      button.hidden = given >= hints.length || isOff();
    }

    function give() {
      const given = Steadyrail.hintsGiven(line);
      if (given >= hints.length) return;
      if (unsettled(line, store)) {
        const first = told("The hints here rest on a line above: settle that one first.");
        first.className = "hint-later";
        if (!place.querySelector(".hint-later")) place.append(first);
        return;
      }
      place.querySelectorAll(".hint-later").forEach((note) => note.remove());
      place.append(set(hints[given].cloneNode(true), line));
      line.dataset.hinted = String(given + 1);
      name();
      if (button.hidden) line.querySelector(".check").focus();
    }

    button.addEventListener("click", give);
    line.querySelector(".check").after(button);
    store.after(place);
    line.addEventListener("help-changed", name);
    name();
  }

  Steadyrail.prepareHints = function (article) {
    article.querySelectorAll(".answer").forEach(prepare);
  };

  if (Steadyrail.settings) {
    Steadyrail.settings.whenChanged(() => {
      document.querySelectorAll(".answer").forEach((line) => line.dispatchEvent(new CustomEvent("help-changed")));
    });
  }
})();
