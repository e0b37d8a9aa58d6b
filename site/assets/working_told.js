// What the lines of a working came to, told to the answers of the page, and by them to the record: a line that reaches
// what is asked settles its answer, a wrong one about it is a miss. Lines that stood there when the page was opened
// were told before and only settle; a line that follows from an earlier slip tells nothing, since the slip was told.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  const REACHES = new Set(["holds", "holds-here", "choice-ok"]);

  // How a finding stands as an answer: right, slip, wrong, units, or '' for nothing that an answer is told.
  function outcomeOf(line, finding) {
    if (Steadyrail.isWrong(finding)) {
      if (finding.code === "units") return "units";
      return finding.slip && finding.slip.length ? "slip" : "wrong";
    }
    if (!REACHES.has(finding.code)) return "";
    if (line.dataset.kind !== "value") return "right";
    if (finding.value === null) return ""; // a relation on the way
    return Number(line.dataset.low) <= finding.value && finding.value <= Number(line.dataset.high) ? "right" : "";
  }

  // `pairs` are lines as written with their findings; `before` holds the lines that stood there when the page was
  // opened.
  Steadyrail.tellOfWorking = function (article, pairs, before) {
    if (!Steadyrail.tellAnswer) return;
    for (const [text, finding] of pairs) {
      if (finding.code === "follows") before.add(text); // it fails once the earlier line is mended, and is no new slip
      const line = finding.key && article.querySelector(`.answer[data-part="${CSS.escape(finding.key)}"]`);
      const outcome = line ? outcomeOf(line, finding) : "";
      if (outcome === "") continue;
      const slip = finding.slip && finding.slip.length ? finding.slip.join(" ") : "";
      Steadyrail.tellAnswer(line, { outcome: outcome, slip: slip }, text.trim(), before.has(text));
    }
  };
})();
