// Tells the record what happens on a problem's page: verdicts on its answers, the solution opened, the last line right.
// It hears of a verdict by the event `steadyrail:judged`, which comes up from the answer line with { key, outcome, slip,
// typed }; the article's `data-help` (0 to 3), where there is one, says the most help taken on this problem. An article
// that is marked as `data-tried` is one whose page tells the record itself.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const record = Steadyrail.record;
  const JUDGED = ["right", "wrong", "slip", "units"]; // a near miss and what does not read tell nothing yet
  const visits = new WeakMap(); // article -> what happened to it since it came onto the page
  if (!record) return;

  function visitOf(article) {
    if (!visits.has(article)) visits.set(article, { right: new Set(), typed: new Map(), isTried: false, isOver: false });
    return visits.get(article);
  }

  // "zener-resistor:2:17" is problem 17 of the kind zener-resistor:2.
  function told(article) {
    const found = /^([a-z0-9-]+:[0-9]):([0-9]+)/.exec(article.dataset.name || "");
    const help = Math.min(3, Math.max(0, Number(article.dataset.help) || 0));
    return found ? { kind: found[1], number: Number(found[2]), help: help } : null;
  }

  function asked(article) {
    return Array.from(article.querySelectorAll(".answer")).filter((line) => !line.hidden && line.dataset.given !== "yes");
  }

  function hear(line, { key, outcome, slip, typed }) {
    const article = line.closest("article.problem");
    const name = article && told(article);
    if (!name || article.dataset.tried || !JUDGED.includes(outcome)) return;
    const visit = visitOf(article);
    if (visit.typed.get(key) === typed) return; // the same line checked twice
    visit.typed.set(key, typed);
    const isRight = outcome === "right";
    if (isRight) visit.right.add(key);
    else visit.right.delete(key);
    if (visit.isOver) return;
    visit.isTried = true;
    const remark = slip && line.querySelector(`.remark[data-part="${CSS.escape(slip)}"] .slip-name`);
    record.attempt({ ...name, key: key, right: isRight, slip: slip || "", words: remark ? remark.textContent : "" });
    if (asked(article).every((one) => visit.right.has(one.dataset.part))) {
      visit.isOver = true;
      record.finished({ ...name, right: true });
    }
  }

  // Heard once the page has said its own: then it is marked, where it tells the record itself.
  document.addEventListener("steadyrail:judged", (event) => {
    const { target, detail } = event;
    queueMicrotask(() => hear(target, detail));
  });

  // Who looks the solution up after trying has not finished it; who reads it first has read an example.
  document.addEventListener(
    "toggle",
    (event) => {
      const solution = event.target;
      const article = solution.open && solution.matches("details.solution") && solution.closest("article.problem");
      const name = article && told(article);
      if (!name || article.dataset.tried || visitOf(article).isOver) return;
      const visit = visitOf(article);
      visit.isOver = true;
      if (visit.isTried) record.finished({ ...name, right: false });
      else if (record.seen) record.seen({ kind: name.kind, what: "example" });
    },
    true,
  );
})();
