// The lecturer's page: a set of problems chosen from the banks, shown as sheet and key, printed, written as a set file.
// What there is to choose from comes from class_bank.js; pages of problems come from their banks when asked for.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { element } = Steadyrail;
  const { families, kindOf, nameOf, derivedMarks, marksOf, inMarks, read } = Steadyrail.classSet;
  const { onSheet, inKey } = Steadyrail.classSheet;
  const written = () => Steadyrail.classSet.written(set);
  const article = document.querySelector(".for-class");
  const part = (id) => document.getElementById(id);
  const KEPT = "steadyrail:set";
  const MOST = 100; // questions in a set: each is on the page twice
  let set = { title: "", questions: [] }; // questions: {family, level, number, marks: number or null (derived)}
  let turn = 0; // of showing the set; an older one that still waits for a bank gives way

  // Choosing

  function chosenLevel() {
    const family = families.get(part("choose-family").value);
    return { family, level: family.levels[part("choose-level").selectedIndex] };
  }

  function offerLevels() {
    const family = families.get(part("choose-family").value);
    part("choose-level").replaceChildren(
      ...family.levels.map((level) => element("option", "", `${level.level}: ${level.about}`)),
    );
    tellNumbers();
  }

  function tellNumbers() {
    const { level } = chosenLevel();
    part("numbers-told").textContent =
      `Such as 3, or 1, 4-6; there are ${level.count}. Left empty: the next one that is not in the set.`;
  }

  // The numbers meant by what was typed, or a sentence that says what is wrong with it.
  function numbersOf(typed, kind, count) {
    if (!typed.trim()) {
      const taken = new Set(set.questions.filter((question) => kindOf(question) === kind).map((item) => item.number));
      for (let number = 1; number <= count; number += 1) if (!taken.has(number)) return [number];
      return count === 1 ? "The one of this kind is in the set." : `All ${count} of this kind are in the set.`;
    }
    const numbers = [];
    const pieces = typed.replace(/\s*[-–]\s*/g, "-").split(/[\s,;]+/);
    for (const piece of pieces.filter((one) => one !== "")) {
      const found = /^([0-9]{1,4})(?:-([0-9]{1,4}))?$/.exec(piece);
      if (!found) return `“${piece}” is no number; write them as in 1, 4-6.`;
      const first = Number(found[1]);
      const last = found[2] === undefined ? first : Number(found[2]);
      if (first < 1 || last > count || last < first) {
        return `“${piece}” is not here; the numbers go from 1 to ${count}.`;
      }
      for (let number = first; number <= last; number += 1) numbers.push(number);
    }
    return numbers.length > 0 ? numbers : `“${typed.trim()}” names no number; write them as in 1, 4-6.`;
  }

  function choose() {
    const { family, level } = chosenLevel();
    const said = part("chosen");
    const kind = `${family.id}:${level.level}`;
    const numbers = numbersOf(part("choose-numbers").value, kind, level.count);
    if (typeof numbers === "string") {
      said.textContent = numbers;
      part("choose-numbers").focus();
      return;
    }
    const there = new Set(set.questions.map(nameOf));
    const fresh = [...new Set(numbers)].filter((number) => !there.has(`${kind}:${number}`));
    if (set.questions.length + fresh.length > MOST) {
      said.textContent = `A set here holds at most ${MOST} problems; ${set.questions.length} are in it.`;
      return;
    }
    for (const number of fresh) set.questions.push({ family: family.id, level: level.level, number, marks: null });
    const already = numbers.length > fresh.length ? " What was in the set already stays once." : "";
    said.textContent = fresh.length
      ? `Put in: ${fresh.map((number) => `${kind}:${number}`).join(", ")}.${already}`
      : "These are in the set already.";
    part("choose-numbers").value = "";
    changed();
  }

  // The list of what is chosen

  function listed(question, at) {
    const item = element("li", "class-item");
    const words = element("span", "class-what", families.get(question.family).title);
    words.append(" ", element("code", "", nameOf(question)));
    const label = element("label", "class-marks", "marks ");
    const field = element("input");
    field.type = "text";
    field.inputMode = "numeric";
    field.autocomplete = "off";
    field.size = 3;
    field.id = `marks-${at}`;
    label.htmlFor = field.id;
    field.value = String(marksOf(question));
    field.addEventListener("change", () => {
      const typed = field.value.trim();
      const marks = Number(typed);
      if (typed === "") question.marks = null;
      else if (/^[0-9]{1,3}$/.test(typed) && marks >= 1) {
        question.marks = marks === derivedMarks(question) ? null : marks;
      } else part("chosen").textContent = `Marks are a whole number from 1 to 999; “${typed}” is none.`;
      field.value = String(marksOf(question));
      told(); // the list stays as it is, for the reading place has moved on in it
    });
    label.append(field);
    const buttons = element("span", "class-moves");
    const moves = [
      ["up", at > 0, () => move(at, at - 1)],
      ["down", at < set.questions.length - 1, () => move(at, at + 1)],
      ["out", true, () => take(at)],
    ];
    for (const [act, able, pressed] of moves) {
      const button = element("button", "", act);
      button.type = "button";
      button.dataset.act = act;
      button.append(element("span", "heard", ` ${nameOf(question)}`));
      button.disabled = !able;
      button.addEventListener("click", pressed);
      buttons.append(button);
    }
    item.append(words, label, buttons);
    return item;
  }

  function move(from, to) {
    const [question] = set.questions.splice(from, 1);
    set.questions.splice(to, 0, question);
    changed({ act: to < from ? "up" : "down", at: to });
  }

  function take(at) {
    set.questions.splice(at, 1);
    changed({ act: "out", at: Math.min(at, set.questions.length - 1) });
  }

  // Puts the reading place back where it was: the same button of the same question, or what is nearest to it.
  function focusAgain({ act, at }) {
    const item = part("set-list").children[at];
    if (!item) {
      part("choose-family").focus();
      return;
    }
    const wanted = item.querySelector(`[data-act="${act}"]`);
    (wanted.disabled ? item.querySelector('[data-act="out"]') : wanted).focus();
  }

  function changed(focus) {
    part("set-list").replaceChildren(...set.questions.map(listed));
    if (focus) focusAgain(focus);
    told();
  }

  // Everything that follows from the set, the list of it apart.
  function told() {
    const questions = set.questions;
    const total = questions.reduce((sum, question) => sum + marksOf(question), 0);
    part("set-empty").hidden = questions.length > 0;
    part("set-clear").hidden = questions.length === 0;
    part("set-sum").textContent = questions.length
      ? `${questions.length} ${questions.length === 1 ? "problem" : "problems"}, ${inMarks(total)}.`
      : "";
    for (const id of ["print-sheet", "print-key", "print-both", "file-copy", "file-save"]) {
      part(id).disabled = questions.length === 0;
    }
    part("set-file").textContent = written();
    keep();
    show(total);
  }

  // Sheet and key

  function show(total) {
    const mine = (turn += 1);
    const kinds = [...new Set(set.questions.map(kindOf))];
    let left = kinds.length;
    for (const id of ["sheet", "key"]) part(id).hidden = set.questions.length === 0;
    if (!left) return;
    const arrived = (missing) => {
      if (missing) {
        part("chosen").textContent = `The bank of ${missing} could not be fetched; look for the folder named bank.`;
      }
      left -= 1;
      if (left === 0 && mine === turn) lay(total);
    };
    for (const kind of kinds) {
      Steadyrail.withBank(kind, `bank/${kind.replace(":", "-")}.js`, () => arrived(""), () => arrived(kind));
    }
  }

  function lay(total) {
    const sheets = [];
    const keys = [];
    const cautions = new Map();
    set.questions.forEach((question, at) => {
      let page;
      try {
        page = Steadyrail.pageOf(kindOf(question), question.number);
      } catch {
        return; // its bank is missing, which has been said
      }
      sheets.push(onSheet(question, at + 1, page));
      keys.push(inKey(question, at + 1, page));
      for (const caution of page.querySelectorAll(".cautions li")) cautions.set(caution.textContent, caution);
    });
    part("sheet").querySelector(".class-problems").replaceChildren(...sheets);
    part("key").querySelector(".class-problems").replaceChildren(...keys);
    const minded = part("sheet").querySelector(".class-cautions");
    minded.hidden = cautions.size === 0;
    minded.querySelector("ul").replaceChildren(...[...cautions.values()].map(Steadyrail.copied));
    for (const id of ["sheet", "key"]) part(id).querySelector(".class-total").textContent = `${inMarks(total)} in all`;
    entitle();
  }

  function entitle() {
    part("sheet").querySelector(".class-title").textContent = set.title || "Problems";
    part("key").querySelector(".class-title").textContent = `Key: ${set.title || "Problems"}`;
  }

  // The set file

  function say(words) {
    part("filed").textContent = words;
  }

  function copy() {
    const picked = () => {
      const range = document.createRange();
      range.selectNodeContents(part("set-file"));
      const chosen = window.getSelection();
      chosen.removeAllRanges();
      chosen.addRange(range);
      say("This browser does not let a page copy; the text is selected, copy it with the keyboard.");
    };
    if (!navigator.clipboard) picked();
    else navigator.clipboard.writeText(written()).then(() => say("The set file is copied."), picked);
  }

  function save() {
    const stem = set.title.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "").slice(0, 60) || "set";
    Steadyrail.saveFile(`${stem}.toml`, written(), "text/plain");
    say(`The set file is saved as ${stem}.toml.`);
  }

  function open(file) {
    if (file.size > 100000) {
      say(`${file.name} is too large to be a set file.`);
      return;
    }
    file.text().then((text) => {
      const { found, strange } = read(text);
      if (!found.questions.length) {
        say(`${file.name} names no problem of this site.`);
        return;
      }
      const seen = new Set();
      const once = found.questions.filter((item) => !seen.has(nameOf(item)) && seen.add(nameOf(item)));
      found.questions = once.slice(0, MOST);
      set = found;
      part("set-title").value = set.title;
      const more = strange.length > 3 ? " and more" : "";
      const left = strange.length ? ` Left out: ${strange.slice(0, 3).join("; ")}${more}.` : "";
      changed();
      const count = found.questions.length;
      say(`${count === 1 ? "One problem is" : `${count} problems are`} read from ${file.name}.${left}`);
    }, () => say(`${file.name} cannot be read.`));
  }

  // What is kept in the browser

  function keep() {
    try {
      window.localStorage.setItem(KEPT, JSON.stringify({ form: 1, text: written() }));
    } catch {
      // A browser that keeps nothing for pages from disk: the set lasts as long as the page.
    }
  }

  function kept() {
    try {
      const found = JSON.parse(window.localStorage.getItem(KEPT) || "null");
      if (found && found.form === 1) set = read(String(found.text)).found;
    } catch {
      set = { title: "", questions: [] };
    }
    if (set.title === "Problems") set.title = "";
  }

  function print(what) {
    article.dataset.printing = what;
    window.print();
  }

  part("choose-family").addEventListener("change", offerLevels);
  part("choose-level").addEventListener("change", tellNumbers);
  part("choose").addEventListener("submit", (event) => {
    event.preventDefault();
    choose();
  });
  part("set-title").addEventListener("input", () => {
    set.title = part("set-title").value;
    part("set-file").textContent = written();
    entitle();
    keep();
  });
  part("set-clear").addEventListener("click", () => {
    set.questions = [];
    changed();
    part("choose-family").focus();
  });
  part("print-paper").addEventListener("change", () => {
    article.classList.toggle("paper-a4", part("print-paper").value === "a4");
    article.classList.toggle("paper-letter", part("print-paper").value === "letter");
  });
  part("print-room").addEventListener("change", () => {
    article.dataset.room = part("print-room").value;
  });
  for (const what of ["sheet", "key", "both"]) part(`print-${what}`).addEventListener("click", () => print(what));
  part("file-copy").addEventListener("click", copy);
  part("file-save").addEventListener("click", save);
  part("file-open").addEventListener("change", (event) => {
    const [file] = event.target.files;
    if (file) open(file);
    event.target.value = "";
  });
  article.dataset.room = part("print-room").value;
  for (const hidden of document.querySelectorAll(".scripted-only")) hidden.hidden = false;
  kept();
  part("set-title").value = set.title;
  offerLevels();
  changed();
})();
