// Writes into the contents and the pages of topics what was done when, what is due, and what comes next.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const record = Steadyrail.record;
  const words = Steadyrail.recordWords;
  const topic = document.querySelector(".topic");
  const dueToday = document.getElementById("due-today");

  function say(place, sentence) {
    place.textContent = sentence;
    place.hidden = sentence === "";
  }

  function write() {
    const now = new Date();
    const states = record.states();
    for (const place of document.querySelectorAll(".dates")) say(place, words.dates(states, place.dataset.family, now));
    for (const place of document.querySelectorAll(".next-step")) {
      say(place, words.next(states, place.dataset.family, place.dataset.levels.split(" ").map(Number)));
    }
    for (const place of document.querySelectorAll("[data-number]")) {
      place.textContent = words.madeOf(record.entries(), topic.dataset.kind, Number(place.dataset.number), now);
    }
    if (!dueToday) return;
    const due = record.due(now).length;
    if (due) dueToday.textContent = `${words.count(due)} kind${due === 1 ? "" : "s"} of problem due`;
  }

  if (topic) {
    const kind = topic.dataset.kind;
    const hasSeen = (what) => record.states().has(kind) && record.states().get(kind).seen.has(what);
    if (!hasSeen("lesson")) record.seen({ kind: kind, what: "lesson" });
    const pass = () => {
      if (!hasSeen("example")) record.seen({ kind: kind, what: "example" });
    };
    // The worked problem counts as read when its last step is uncovered, or when a reader goes on to a part-worked one.
    const example = topic.querySelector(".worked-example");
    example.addEventListener("click", () => {
      if (!example.querySelector(".covered")) pass();
    });
    for (const link of topic.querySelectorAll(".part-worked a")) link.addEventListener("click", pass);
  }
  write();
  document.addEventListener("steadyrail:recorded", write);
  window.addEventListener("storage", write);
  window.addEventListener("pageshow", write); // come back to from a problem, with more on record
})();
