// Answers in words among the lines of a working: the counterpart of tutor/working/word_answers.py, function for
// function. What is asked is read off the answer lines of the page, which hold it once for both.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const LABELLED = /^\s*([\p{L}\p{Nl}\p{No}_][\p{L}\p{N}_]*)\s*[:=≈~]([^]+)$/u;
  const NAME = /[\p{L}\p{N}_]+/gu;
  const SPELLED = /[\p{L}\p{N}_./−+-]+/gu;
  const CUTS = [/;/, /[;,]|-?>|→/, /[;,\s]/];
  const CODES = { right: "holds", unread: "unread", units: "unread" };
  let same = null; // pairs: another word for an option, as a pattern, and the option

  function tables() {
    return Steadyrail.tables.checking.answers;
  }

  // What a text or an attribute was before the settings changed how it is shown.
  function asWritten(node, attribute) {
    if (Steadyrail.settings) return Steadyrail.settings.original(node, attribute);
    return attribute === undefined ? node.data : node.getAttribute(attribute);
  }

  // An author's prose as plain text, from its markup: formulas by their alternative text, typesetting undone.
  function plainOf(node) {
    if (node.nodeType === Node.TEXT_NODE) return asWritten(node).replaceAll("\u00a0", " ").replaceAll("’", "'");
    if (node.localName === "math") return asWritten(node, "alttext");
    return Array.from(node.childNodes, plainOf).join("");
  }

  // What is said of a slip or a wrong option, in plain text.
  function toldOf(remark) {
    const part = (name) => plainOf(remark.querySelector(name));
    const name = remark.dataset.named === "" ? "" : part(".slip-name");
    return { name: name, why: part(".slip-why"), hint: part(".slip-hint") };
  }

  function pointOf(line) {
    const point = Steadyrail.waypointOf(line, toldOf);
    const labels = new Map(Array.from(line.querySelectorAll("input[type=radio]"), (box) => [box.value, box]));
    const options = Array.from(new Set(point.options)); // each place of an arrangement has them again
    const plain = (option) => (option.includes("$") ? plainOf(labels.get(option).nextElementSibling) : option);
    return { ...point, options: options, plain: new Map(options.map((option) => [option, plain(option)])) };
  }

  // What a problem asks for, and how an answer in words is written.
  Steadyrail.askedIn = function (article) {
    const points = Array.from(article.querySelectorAll(".answer"), pointOf);
    return { points: points, how: article.querySelector(".how-written").textContent };
  };

  function isWorded(point) {
    const low = Steadyrail.tables.judging.estimate * point.low;
    return !point.answer || (0 < low && low <= point.high);
  }

  function fold(text) {
    const bare = text.replaceAll("_", "");
    return Array.from(bare).length === 1 ? bare : bare.toLowerCase();
  }

  function wordsOf(text) {
    if (same === null) {
      const apart = (other) => new RegExp(`(^|[^\\p{L}\\p{N}_])${other}(?![\\p{L}\\p{N}_])`, "gu");
      same = tables().sameWords.map(([other, word]) => [apart(other), `$1${word}`]);
    }
    // Capitals first: letters that differ in their small form alone fall together.
    const folded = text.replaceAll("$", "").toUpperCase().toLowerCase();
    const words = (folded.match(SPELLED) || []).join(" ");
    return same.reduce((told, [other, word]) => told.replace(other, word), words);
  }

  function denies(words) {
    return words.split(" ").some((word) => tables().denials.includes(word));
  }

  function isWithin(words, all) {
    return ` ${all} `.includes(` ${words} `);
  }

  // The one option that words name, however it is spelt; '' for none.
  function optionIn(said, point) {
    const words = wordsOf(said);
    const exact = new Map();
    const within = new Map();
    for (const [option, plain] of point.plain) {
      for (const spelt of [wordsOf(option), wordsOf(plain)]) {
        if (spelt === words) exact.set(option, words);
        if (isWithin(spelt, words)) within.set(option, spelt);
      }
    }
    const found = Array.from(exact.size > 0 ? exact : within);
    const longest = found.filter(([, spelt]) => found.every(([, other]) => spelt.includes(other)));
    if (longest.length !== 1 || (exact.size === 0 && denies(words) && !denies(longest[0][1]))) return "";
    return longest[0][0];
  }

  // For an arrangement one option for each place.
  function optionsIn(said, point) {
    if (point.kind !== "arrangement") return optionIn(said, point);
    for (const cut of CUTS) {
      const pieces = said.split(cut).filter((piece) => piece.trim() !== "");
      const options = pieces.map((piece) => optionIn(piece, point));
      if (options.length === point.places && options.every((option) => option !== "")) return options.join("; ");
    }
    return "";
  }

  // The waypoint that a line answers, and the option it says (or the words where it says none); null for neither.
  function meant(line, points, wordsAlone) {
    const labelled = LABELLED.exec(line);
    if (labelled !== null) {
      const point = points.find((one) => fold(one.key) === fold(labelled[1]));
      const said = labelled[2].trim();
      if (point && point.answer) return [point, said.split(/[=≈~]/).pop()];
      if (point) return [point, optionsIn(said, point) || said];
    }
    if (!wordsAlone) return null;
    const names = new Set((line.match(NAME) || []).map(fold));
    const named = points.length > 1 ? points.filter((point) => names.has(fold(point.key))) : points;
    const said = named.length === 1 ? optionsIn(line, named[0]) : "";
    return said ? [named[0], said] : null;
  }

  function finding(number, line, code, why, slip, key) {
    return { number: number, text: line, code: code, why: why, columns: null, slip: slip, key: key, value: null };
  }

  function judged(number, line, point, said) {
    const verdict = Steadyrail.judge(point, said);
    const isRight = verdict.outcome === "right";
    const quoted = point.answer !== null && CODES[verdict.outcome] === "unread"; // as it was typed
    let sentence = verdict.sentence;
    if (!quoted) for (const [option, plain] of point.plain) sentence = sentence.replaceAll(option, () => plain);
    const told = [sentence, verdict.why, verdict.hint].filter((text) => text !== "").join(" ");
    const slip = verdict.slip ? [verdict.slip] : [];
    const code = CODES[verdict.outcome] || "fails";
    return finding(number, line, code, isRight ? "" : told.replace(/\.+$/, ""), slip, point.key);
  }

  // One mark for each waypoint answered in words; the last line on it decides.
  function marksOf(points, answers) {
    return points.map((point) => {
      const last = answers.filter((answer) => answer.key === point.key).pop();
      const isRight = last !== undefined && last.code === "holds";
      return { waypoint: point.key, got: isRight ? 1 : 0, line: last === undefined ? null : last.number };
    });
  }

  // A working on what is asked: answers in words by the problem, all else by its sheet (null: it asks for words alone).
  // Beside the findings stand the marks of what is answered in words.
  Steadyrail.checkWords = function ({ points, how }, sheet, text) {
    const answered = sheet === null ? points : points.filter(isWorded);
    const lines = text.replace(/\r\n?/g, "\n").split("\n").slice(0, Steadyrail.tables.checking.check.MOST_LINES);
    const answers = [];
    lines.forEach((line, at) => {
      const said = line.trim() === "" ? null : meant(line, answered, sheet === null);
      if (said !== null) answers.push(judged(at + 1, line, ...said));
      else if (sheet === null && line.trim() !== "") answers.push(finding(at + 1, line, "unread", how, [], ""));
    });
    const marks = marksOf(answered, answers);
    const taken = new Set(answers.map((answer) => answer.number));
    const others = lines.map((line, at) => (taken.has(at + 1) ? "" : line)).join("\n");
    const rest = sheet === null ? { findings: [], margins: [] } : Steadyrail.checkWorking(sheet, others);
    const findings = [...answers, ...rest.findings].sort((one, other) => one.number - other.number);
    const first = findings.find(Steadyrail.isWrong);
    const firstWrong = first === undefined ? null : first.number;
    return { findings: findings, firstWrong: firstWrong, margins: rest.margins, marks: marks };
  };
})();
