// Today's page: what is due, mixed, as a printed list; what holds and what does not, in words; the record saved and
// read.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { record, recordRules, recordWords, mixed, path } = Steadyrail;
  const at = (id) => document.getElementById(id);
  const families = new Map(path.families.map((family) => [family.id, family]));

  function titleOf(kind) {
    const { family, level } = recordRules.partsOf(kind);
    return families.has(family) ? `${families.get(family).title}, level ${level}` : `${family}, level ${level}`;
  }

  function titleLink(kind) {
    const { family, level } = recordRules.partsOf(kind);
    const here = families.get(family);
    if (!here || !here.levels.some((item) => item.level === level)) return document.createTextNode(titleOf(kind));
    const link = document.createElement("a");
    link.href = `topics/${family}.html`;
    link.textContent = titleOf(kind);
    return link;
  }

  // A term and what is said of it.
  function entry(kind, sentence) {
    const term = document.createElement("dt");
    term.append(titleLink(kind));
    const told = document.createElement("dd");
    told.textContent = sentence;
    return [term, told];
  }

  function fill(id, entries) {
    at(id).replaceChildren(...entries.flat());
    at(`${id}-part`).hidden = entries.length === 0;
  }

  function slipWords(state) {
    const slip = recordWords.commonSlip(state);
    if (!slip) return "";
    const often = slip.times === 2 ? "twice" : `${recordWords.count(slip.times)} times`;
    return ` One slip came ${often}: ${slip.name}.`;
  }

  // What comes back after today, by its day.
  function later(states, now) {
    const today = recordRules.dayOf(now.getTime());
    const days = new Map();
    for (const coming of recordRules.comings(states)) {
      if (recordRules.dayOf(coming.since.getTime()) <= today) continue;
      const day = recordWords.date(coming.since, now);
      days.set(day, (days.get(day) || []).concat([titleOf(coming.kind)]));
    }
    return [...days].map(([day, titles]) => {
      const term = document.createElement("dt");
      term.textContent = day;
      const told = document.createElement("dd");
      told.textContent = `${titles.join("; ")}.`;
      return [term, told];
    });
  }

  function write() {
    const now = new Date();
    const states = record.states();
    const worked = [...states.values()].filter((state) => state.attempts || state.done);
    worked.sort((one, other) => other.last - one.last);
    at("dateline").textContent = `${recordWords.date(now, now)} ${now.getFullYear()}`;
    const due = mixed.dueOf(path, record.entries(), now);
    at("due").replaceChildren(
      ...due.map((item) =>
        Steadyrail.problemLine(
          item,
          `last done on ${recordWords.date(item.last, now)}; due since ${recordWords.date(item.since, now)}`,
        ),
      ),
    );
    at("due").hidden = due.length === 0;
    at("due-none").hidden = due.length > 0;
    at("due-none").textContent = worked.length
      ? "Nothing is due today."
      : "Nothing is on record yet: what you work will come back here from the next day on.";
    const firm = worked.filter(recordWords.holds);
    const open = worked.filter((state) => !recordWords.holds(state));
    fill("holds", firm.map((state) => entry(state.kind, recordWords.standing(state, now))));
    fill("not-yet", open.map((state) => entry(state.kind, recordWords.standing(state, now) + slipWords(state))));
    fill("later", later(states, now));
    const aside = record.setAside().length;
    const troubles = [];
    if (!record.isKept()) {
      troubles.push("This browser keeps nothing once the page is closed: save the record as a file before you leave.");
    }
    if (aside) {
      troubles.push(
        "Something that stood in the place of the record could not be read. It was not thrown away: " +
          "it is set aside in this browser, and can be saved.",
      );
    }
    at("record-trouble").textContent = troubles.join(" ");
    at("record-trouble").hidden = troubles.length === 0;
    at("save-aside").hidden = aside === 0;
    at("of-today").hidden = false;
  }

  function save(text, name) {
    Steadyrail.saveFile(name, text, "application/json");
    at("record-news").textContent = `Saved as ${name}.`;
  }

  function today() {
    const now = new Date();
    const two = (number) => String(number).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }

  at("save-record").addEventListener("click", () => save(record.exported(), `steadyrail-record-${today()}.json`));
  at("save-aside").addEventListener("click", () => save(record.setAside().join("\n"), `set-aside-${today()}.txt`));
  at("read-record").addEventListener("change", (event) => {
    const [file] = event.target.files;
    if (!file) return;
    const reader = new FileReader();
    reader.addEventListener("load", () => {
      const found = record.readBack(String(reader.result));
      if (found.why) at("record-news").textContent = found.why;
      else if (found.taken === 0) at("record-news").textContent = "Everything in this file is on the record already.";
      else {
        const entries = found.taken === 1 ? "One entry was" : `${found.taken} entries were`;
        at("record-news").textContent = `${entries} added to the record from ${file.name}.`;
      }
      event.target.value = "";
    });
    reader.addEventListener("error", () => {
      at("record-news").textContent = `${file.name} could not be opened; choose it again.`;
    });
    reader.readAsText(file);
  });
  write();
  document.addEventListener("steadyrail:recorded", write);
  for (const event of ["storage", "pageshow"]) window.addEventListener(event, write);
})();
