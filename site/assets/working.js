// The working sheet of a problem: keeps what is written, has it checked as it is written or at the end, writes the
// findings in the margin, and reads the one that matters aloud. `Steadyrail.checkWorking(sheet, text)` and
// `Steadyrail.sheetFor(slot)` do the checking, `Steadyrail.checkWords(asked, sheet, text)` where lines answer in words;
// without them the sheet is ruled paper to write and print on.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  const KEPT = "steadyrail:working:";
  const VERSION = 1;
  // Milliseconds of rest: then lines are checked; then the line in hand may be complained of; then it is read aloud.
  const CHECK_AFTER = 300;
  const COMPLAIN_AFTER = 1200;
  const SAY_AFTER = 1600;
  const NO_SHEET = Object.freeze({}); // a problem that asks for words alone: its answer lines say it all
  const held = new Map(); // the workings of this visit, for when storage is shut
  let live = null; // the sheet on the page

  function stored(key) {
    try {
      return window.localStorage.getItem(key);
    } catch (error) {
      return null; // storage is shut: the page works without it
    }
  }

  function store(key, text) {
    try {
      window.localStorage.setItem(key, text);
      return true;
    } catch (error) {
      return false;
    }
  }

  function checksAtTheEnd() {
    return Steadyrail.settings.get("checking") === "at-the-end";
  }

  function linesIn(data) {
    const lines = data && typeof data === "object" && !Array.isArray(data) ? data.lines || data.text : data;
    const found = typeof lines === "string" ? lines.split("\n") : lines;
    return Array.isArray(found) && found.every((line) => typeof line === "string") ? found : null;
  }

  // What is kept of a problem's working: its lines, and whatever else another version kept beside them. Text that no
  // version of ours wrote is set aside under its own key, never written over.
  function read(name) {
    const text = stored(KEPT + name);
    if (text === null) return { lines: held.get(name) || [], rest: {} };
    let data = null;
    try {
      data = JSON.parse(text);
    } catch (error) {
      data = null;
    }
    const lines = linesIn(data);
    if (lines === null) store(`${KEPT}${name}:set-aside`, text);
    return { lines: lines || [], rest: lines && !Array.isArray(data) && typeof data === "object" ? data : {} };
  }

  function makeSheet(section, name) {
    const part = (picked) => section.querySelector(picked);
    const [sum, news, heard] = [part(".working-sum"), part(".working-news"), part(".working-heard")];
    const [checkAll, toFirst, putBack] = [part(".check-all"), part(".to-first"), part(".put-back")];
    const inWords = section.dataset.words; // whether lines answer in words: "alone", "among" relations, or not at all
    const timers = new Set();
    const findings = new Map(); // line -> finding
    let { rest } = read(name);
    let hand = null; // the line being written: not complained of before the writer rests
    let firstWrong = null; // the line
    let last = null; // the line last written in, the only one that is read aloud
    let taken = null; // the line last taken out
    let said = "";
    let asked = null; // what the problem asks for, where lines answer in words
    let marks = null; // what words alone have won
    const before = new Set(); // lines that stood here when the page was opened
    let isBroken = false; // the checker failed: nothing more is asked of it on this page

    function later(wait, act) {
      const timer = window.setTimeout(() => {
        timers.delete(timer);
        act();
      }, wait);
      timers.add(timer);
    }

    function quiet() {
      timers.forEach((timer) => window.clearTimeout(timer));
      timers.clear();
    }

    function say(sentence) {
      if (sentence === said) return;
      said = sentence;
      heard.textContent = sentence;
    }

    function tell(sentence) {
      news.textContent = sentence;
      say(sentence);
    }

    function keep() {
      const texts = lines.texts();
      held.set(name, texts);
      if (!store(KEPT + name, JSON.stringify({ ...rest, version: VERSION, lines: texts }))) {
        news.textContent = "This browser keeps nothing once the page is closed: print your working before you leave.";
      }
    }

    // Why nothing here can be checked, in a sentence; '' where lines are checked.
    function whyUnchecked() {
      if (isBroken || !isWhole()) {
        const what = "a script of this page is missing or fails; see the folder named assets.";
        return `Your lines are kept but not checked: ${what}`;
      }
      if (sheetData()) return "";
      return Steadyrail.whyUnchecked ? Steadyrail.whyUnchecked(section.dataset.slot) : "";
    }

    // Whether the scripts that check lines are here.
    function isWhole() {
      if (inWords && !Steadyrail.checkWords) return false;
      return inWords === "alone" || Boolean(Steadyrail.checkWorking && Steadyrail.sheetFor);
    }

    function sheetData() {
      if (isBroken || !isWhole()) return null;
      return inWords === "alone" ? NO_SHEET : Steadyrail.sheetFor(section.dataset.slot);
    }

    function atTheEnd() {
      return part('input[value="end"]').checked;
    }

    function writeMargin(line) {
      const at = lines.all.indexOf(line);
      let finding = findings.get(line) || null;
      if (finding && line === hand && Steadyrail.isComplaint(finding)) finding = null;
      const pointing = finding && (line === firstWrong || finding.code === "unread") && finding.columns;
      const shown = finding ? JSON.stringify([finding, Boolean(pointing), line === firstWrong]) : "";
      if (shown === line.shown && Boolean(pointing) === Boolean(line.columns)) return;
      line.shown = shown;
      lines.point(line, pointing || null);
      line.item.classList.toggle("wrong", Boolean(finding) && Steadyrail.isWrong(finding));
      line.item.classList.toggle("unread", Boolean(finding) && finding.code === "unread");
      line.item.classList.toggle("first-wrong", Boolean(finding) && line === firstWrong);
      if (finding && Steadyrail.isComplaint(finding)) line.field.setAttribute("aria-invalid", "true");
      else line.field.removeAttribute("aria-invalid");
      if (!finding) line.finding.replaceChildren();
      else {
        const pointed = pointing ? Steadyrail.cutAt(lines.texts()[at], finding.columns)[1] : "";
        Steadyrail.writeFinding(line.finding, finding, pointed, () => disagree(line));
      }
    }

    function writeSum() {
      if (firstWrong && firstWrong === hand) return;
      const numbers = lines.all.flatMap((line, at) => (findings.has(line) ? [[at + 1, findings.get(line)]] : []));
      const unread = numbers.find(([, finding]) => finding.code === "unread");
      toFirst.hidden = !firstWrong;
      if (firstWrong) sum.textContent = `The first line to look at is line ${lines.all.indexOf(firstWrong) + 1}.`;
      else if (!numbers.length || (unread && lines.all[unread[0] - 1] === hand)) sum.textContent = "";
      else if (unread) sum.textContent = `Nothing is wrong so far, but line ${unread[0]} cannot be read.`;
      else sum.textContent = "Nothing is wrong so far.";
      if (marks && numbers.length) {
        sum.textContent += ` Marks ${marks.filter((mark) => mark.got).length} of ${marks.length}.`;
      }
      const most = Steadyrail.tables ? Steadyrail.tables.checking.check.MOST_LINES : Infinity;
      if (lines.all.length > most) sum.textContent += ` Only the first ${most} lines are checked.`;
    }

    function write() {
      lines.all.forEach(writeMargin);
      writeSum();
      // On a page of own numbers there are no answers to tell.
      if (hand || findings.size === 0 || !Steadyrail.tellOfWorking) return;
      const pairs = Array.from(findings, ([line, finding]) => [line.field.value, finding]);
      Steadyrail.tellOfWorking(section.closest("article"), pairs, before);
    }

    // The working checked; null where the checker itself fails, which is told and left in the browser's own report.
    function checked(sheet) {
      try {
        const text = lines.texts().join("\n");
        if (!inWords) return Steadyrail.checkWorking(sheet, text);
        asked = asked || Steadyrail.askedIn(section.closest("article"));
        return Steadyrail.checkWords(asked, sheet === NO_SHEET ? null : sheet, text);
      } catch (error) {
        isBroken = true;
        forget(0);
        offer();
        if (window.reportError) window.reportError(error);
        return null;
      }
    }

    // Has the whole working checked and the margin written.
    function check() {
      const sheet = sheetData();
      if (!sheet) return;
      findings.clear();
      const found = checked(sheet);
      if (!found) return;
      Steadyrail.writeDesign(part(".working-design"), found.margins || []);
      for (const finding of found.findings) findings.set(lines.all[finding.number - 1], finding);
      firstWrong = found.firstWrong === null ? null : lines.all[found.firstWrong - 1];
      marks = inWords === "alone" ? found.marks : null;
      write();
    }

    // Takes the findings from line `at` on out of the margin: what is written there has changed since the check.
    function forget(at) {
      lines.all.slice(at).forEach((line) => findings.delete(line));
      for (const line of findings.keys()) if (!lines.all.includes(line)) findings.delete(line);
      if (firstWrong && !findings.has(firstWrong)) firstWrong = null;
      marks = null;
      Steadyrail.writeDesign(part(".working-design"), []);
      write();
      if (!firstWrong) sum.textContent = "";
    }

    function sayLine(line) {
      const at = lines.all.indexOf(line);
      if (at >= 0 && findings.has(line)) say(`Line ${at + 1}: ${Steadyrail.findingWords(findings.get(line))}.`);
    }

    function changed(line, at) {
      keep();
      quiet();
      if (!sheetData()) return;
      if (atTheEnd()) {
        forget(at);
        return;
      }
      hand = line;
      last = line || last;
      later(CHECK_AFTER, check);
      later(COMPLAIN_AFTER, () => {
        hand = null;
        write();
      });
      later(SAY_AFTER, () => sayLine(last));
    }

    function disagree(line) {
      const texts = lines.texts();
      const number = lines.all.indexOf(line) + 1;
      const file = Steadyrail.saveDisagreement(name, number, findings.get(line), texts);
      tell(`Line ${number} and its finding are saved as ${file}. Hand the file to your lecturer.`);
    }

    const lines = Steadyrail.makeLines(part(".working-lines"), {
      edited: (line, at) => {
        news.textContent = "";
        putBack.hidden = true;
        changed(line, at);
      },
      arranged: (at) => changed(null, at),
      taken: (text, at) => {
        taken = { text: text, at: at };
        putBack.hidden = false;
        tell(`Line ${at + 1} is taken out.`);
      },
      entered: (line) => {
        if (!hand || line === hand) return;
        hand = null; // the writer has gone on to another line
        if (!atTheEnd()) check();
      },
    });

    checkAll.addEventListener("click", () => {
      quiet();
      hand = null;
      check();
      const all = lines.all.filter((line) => findings.has(line));
      if (!all.length) sum.textContent = "Nothing is written yet.";
      const more = firstWrong ? ` ${Steadyrail.findingWords(findings.get(firstWrong))}.` : "";
      said = "";
      say(sum.textContent + more);
    });
    toFirst.addEventListener("click", () => {
      const at = lines.all.indexOf(firstWrong);
      if (at < 0) return;
      const { columns } = findings.get(firstWrong);
      const before = columns ? Steadyrail.cutAt(lines.texts()[at], columns)[0].length : 0;
      lines.focus(at, before);
    });
    putBack.addEventListener("click", () => {
      const blank = lines.all.length === 1 && lines.texts()[0] === "";
      if (blank) lines.set([taken.text]);
      else lines.put(Math.min(taken.at, lines.all.length), taken.text);
      putBack.hidden = true;
      news.textContent = "";
      lines.focus(blank ? 0 : Math.min(taken.at, lines.all.length - 1), taken.text.length);
      changed(null, blank ? 0 : taken.at);
    });

    // Whether the checker is here decides what the sheet offers; it may arrive after the page.
    function offer() {
      const able = Boolean(sheetData());
      part(".working-unchecked").textContent = able ? "" : whyUnchecked();
      part(".when").hidden = !able;
      checkAll.hidden = !able || !atTheEnd();
    }

    for (const choice of section.querySelectorAll(".when input")) {
      choice.checked = choice.value === (checksAtTheEnd() ? "end" : "typing");
      choice.addEventListener("change", () => {
        Steadyrail.settings.set("checking", choice.value === "end" ? "at-the-end" : "at-once");
        quiet();
        hand = null;
        offer();
        if (atTheEnd()) forget(0);
        else check();
      });
    }

    function restore() {
      const kept = read(name);
      rest = kept.rest;
      findings.clear();
      firstWrong = null;
      lines.set(kept.lines);
      kept.lines.forEach((text) => before.add(text));
      offer();
      if (!atTheEnd()) check();
    }

    // The checker or its data have come, gone or changed: the lines stay as they are, the caret where it is.
    function recheck() {
      quiet();
      forget(0);
      offer();
      if (atTheEnd() || !sheetData()) return;
      check();
      if (hand) {
        later(COMPLAIN_AFTER, () => {
          hand = null;
          write();
        });
      }
    }

    for (const shown of section.querySelectorAll(".scripted")) shown.hidden = false;
    Steadyrail.prepareKeys(section, lines);
    restore();
    return { name: name, section: section, quiet: quiet, restore: restore, recheck: recheck };
  }

  // Puts the sheet of a problem's page to work; the one before it falls silent.
  Steadyrail.prepareWorking = function (article) {
    if (live) live.quiet();
    const section = article.querySelector(".working");
    live = section ? makeSheet(section, article.dataset.name) : null;
  };

  // To be called when the checker or the data of this page arrive late.
  Steadyrail.recheckWorking = function () {
    if (live) live.recheck();
  };

  // The same problem open in another window: this one follows unless it is being written in.
  window.addEventListener("storage", (event) => {
    if (live && event.key === KEPT + live.name && !live.section.contains(document.activeElement)) live.restore();
  });
})();
