// A set of problems: its names and marks, and the set file, written and read. What there is stands in class_bank.js.
// A question is {family, level, number, marks}; marks are null where the problem's own mark scheme tells them.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const bank = Steadyrail.classBank;
  const MOST_LETTERS = 120; // of a title
  const NAME = /^([a-z][a-z0-9-]*):([0-9]+):([0-9]+)(?:@([0-9]+))?$/;
  const families = new Map(bank.families.map((family) => [family.id, family]));

  const levelOf = (question) => families.get(question.family).levels.find((level) => level.level === question.level);
  const kindOf = (question) => `${question.family}:${question.level}`;
  const nameOf = (question) => `${kindOf(question)}:${question.number}`;
  const wholeName = (question) => `${nameOf(question)}@${families.get(question.family).edition}`;
  const derivedMarks = (question) => levelOf(question).marks[question.number - 1];
  const marksOf = (question) => (question.marks === null ? derivedMarks(question) : question.marks);
  const inMarks = (count) => `${count} ${count === 1 ? "mark" : "marks"}`;

  function quoted(text) {
    return `"${text.replace(/[\\"]/g, "\\$&").replace(/[\u0000-\u001f\u007f]/g, " ")}"`;
  }

  // The text of a set.
  function written(set) {
    const lines = [`# A set of problems, written by Steadyrail ${bank.version}`];
    lines.push(`title = ${quoted(set.title || "Problems")}`);
    for (const question of set.questions) {
      lines.push("", "[[questions]]", `problem = ${quoted(wholeName(question))}`);
      if (question.marks !== null) lines.push(`marks = ${question.marks}`);
    }
    return `${lines.join("\n")}\n`;
  }

  // Reads what is written here; what this site does not have, or does not know of, is left out and told.
  function read(text) {
    const found = { title: "", questions: [] };
    const strange = [];
    let current = null; // the question whose lines these are; none where its problem is not here
    for (const line of text.split(/\r?\n/)) {
      const pair = /^\s*([a-z]+)\s*=\s*(?:"((?:[^"\\]|\\["\\])*)"|([0-9]{1,3}))\s*(?:#.*)?$/.exec(line);
      if (/^\s*\[\[questions\]\]\s*(?:#.*)?$/.test(line)) current = null;
      if (/^\s*(?:#.*|\[\[questions\]\]\s*(?:#.*)?)?$/.test(line)) continue;
      const [, key, quotedText, digits] = pair || [];
      const words = quotedText === undefined ? null : quotedText.replace(/\\(["\\])/g, "$1");
      const question = key === "problem" && words !== null ? questionOf(words) : null;
      if (question) {
        current = question;
        found.questions.push(question);
      } else if (key === "title" && words !== null) found.title = words.slice(0, MOST_LETTERS);
      else if (key === "marks" && current && Number(digits) > 0) current.marks = Number(digits);
      else strange.push(line.trim());
    }
    return { found, strange };
  }

  // The question of a name; null where this site does not have it, or has another edition of it.
  function questionOf(name) {
    const found = NAME.exec(name.trim());
    const family = found && families.get(found[1]);
    const level = family && family.levels.find((item) => item.level === Number(found[2]));
    if (!level || Number(found[3]) < 1 || Number(found[3]) > level.count) return null;
    if (found[4] !== undefined && Number(found[4]) !== family.edition) return null;
    return { family: family.id, level: level.level, number: Number(found[3]), marks: null };
  }

  Steadyrail.classSet = { families, kindOf, nameOf, wholeName, derivedMarks, marksOf, inMarks, written, read };
})();
