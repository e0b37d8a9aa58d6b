// Stands in for the checker in the tests of the working sheet: a line names its own finding, as in `R = 5 [fails]`.
// Columns are those of the word HERE in it, in code points. Later scripts cannot put another checker in its place.
(function () {
  "use strict";
  const WRONG = ["fails", "units", "choice-bad"];

  function findingOf(line, number) {
    const named = /\[([a-z-]+)\]$/.exec(line);
    const code = named ? named[1] : /=\s*$/.test(line) ? "unread" : "holds";
    const at = line.indexOf("HERE");
    const first = at < 0 ? 0 : Array.from(line.slice(0, at)).length + 1;
    return {
      number: number,
      text: line,
      code: code,
      why: code === "holds" ? "" : `the reason of ${number}, about I_L_MAX`,
      columns: at < 0 ? null : [first, first + 4],
      slip: code === "fails" ? ["no-zener-current"] : [],
      key: "R",
      value: null,
    };
  }

  const standIn = {
    checkWorking: (sheet, text) => {
      if (!sheet.problem) throw new Error("the sheet of the problem shown was not handed over");
      const findings = [];
      text.split("\n").forEach((line, at) => {
        if (line.trim()) findings.push(findingOf(line, at + 1));
      });
      const wrong = findings.find((finding) => WRONG.includes(finding.code));
      return { findings: findings, firstWrong: wrong ? wrong.number : null };
    },
    sheetFor: (slot) => ({ problem: slot }),
  };
  window.Steadyrail = {};
  for (const name of Object.keys(standIn)) {
    Object.defineProperty(window.Steadyrail, name, { get: () => (window.withoutChecker ? undefined : standIn[name]), set: () => {} });
  }
})();
