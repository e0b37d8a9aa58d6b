// The mixed set of the day as a printed list: from what was worked, or from the stage that the address names.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { record, recordRules, recordWords, mixed, path } = Steadyrail;
  const list = document.getElementById("mixed-set");

  function doneToday(problem, now) {
    const today = recordRules.dayOf(now.getTime());
    const same = (entry) => entry.kind === problem.kind && entry.number === problem.number;
    return record.entries().some((entry) => entry.done && same(entry) && recordRules.dayOf(entry.at) === today);
  }

  function write() {
    const now = new Date();
    const named = /^#stage-([0-9]+)$/.exec(window.location.hash);
    const stage = named && path.stages.some((item) => item.number === Number(named[1])) ? Number(named[1]) : null;
    const set = mixed.setOf(path, record.entries(), now, stage);
    const source = set.from === "worked" ? "from what you have worked" : `from the whole of stage ${set.from}`;
    document.getElementById("dateline").textContent = `For ${recordWords.date(now, now)}, ${source}.`;
    const lineOf = (problem) => Steadyrail.problemLine(problem, doneToday(problem, now) ? "finished today" : "");
    list.replaceChildren(...set.problems.map(lineOf));
    document.getElementById("of-the-day").hidden = false;
  }

  write();
  document.addEventListener("steadyrail:recorded", write);
  for (const event of ["hashchange", "storage", "pageshow"]) window.addEventListener(event, write);
})();
