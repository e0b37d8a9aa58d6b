// The margin of the working sheet: a finding in plain words with a small sign, and a finding that is disputed as a
// file.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { element } = Steadyrail;

  // A sign and plain words for each code. The signs are those of logic and algebra and differ in shape; they are never
  // alone and are not read aloud.
  const SAID = new Map([
    ["holds", ["≡", "true of the circuit"]],
    ["holds-here", ["=", "true here"]],
    ["follows", ["∴", "it follows"]],
    ["fails", ["≠", "not so"]],
    ["units", ["[ ]", "the units clash"]],
    ["unread", ["?", "cannot be read"]],
    ["defines", [":=", "a symbol of your own"]],
    ["choice-ok", ["∈", "a choice that fits"]],
    ["choice-bad", ["∉", "a choice that does not fit"]],
    ["note", ["–", "noted"]],
  ]);
  const MOST_HEARD = 60;
  const WRONG = new Set(["fails", "units", "choice-bad"]);
  const NAME = /([A-Za-zΔ]+(?:_[A-Za-z0-9]+)+)/;
  const BEFORE_UNIT = /([0-9]) (?=[pnµumkMG]?[VAWΩFKs%](?![A-Za-z0-9]))/g; // a value stays beside its unit
  // What a sentence quotes from the line stays as it was typed.
  const QUOTED = /((?:^|[\s(])'[^']+'(?=$|[\s,.;:)?]))/;

  // V_I_MIN as an italic V with an upright subscript I(min), as the rest of the page sets it.
  function letter(name) {
    const [main, ...rest] = name.split("_");
    const set = element("span", "letter-symbol");
    const change = /^D[A-Z]$/.test(main);
    if (change) set.append("Δ");
    set.append(element("i", "", change ? main[1] : main));
    let lowered = "";
    for (const word of rest) {
      if (!/^(MIN|MAX|NOM)$/.test(word)) lowered += /^[0-9]$/.test(word) || !lowered ? word : "," + word;
      else lowered += lowered ? `(${word.toLowerCase()})` : word.toLowerCase();
    }
    if (lowered) set.append(element("sub", "", lowered));
    return set;
  }

  // A sentence with its letter symbols set as such and its quotation marks and apostrophes curved.
  function sentence(text, place) {
    text.split(QUOTED).forEach((piece, at) => {
      if (at % 2 === 1) {
        place.append(piece.replace("'", "‘").replace(/'$/, "’"));
        return;
      }
      const curved = piece.replace(/([A-Za-z])'(?=[a-z])/g, "$1’").replace(BEFORE_UNIT, "$1\u00a0");
      curved.split(NAME).forEach((part, odd) => place.append(odd % 2 === 1 ? letter(part) : part));
    });
  }

  function joined(words, why) {
    if (!why) return words;
    if (words === "it follows" && why.startsWith("from ")) return `${words} ${why}`;
    return why.toLowerCase().startsWith(words.toLowerCase()) ? why : `${words}: ${why}`;
  }

  // What is read aloud of the text pointed at.
  function shortened(text) {
    const points = Array.from(text);
    return points.length > MOST_HEARD ? `${points.slice(0, MOST_HEARD).join("")}…` : text;
  }

  // The words of a finding in one sentence, for the live region.
  Steadyrail.findingWords = function (finding) {
    const said = SAID.get(finding.code) || ["", "a finding"];
    return joined(said[1], finding.why);
  };

  Steadyrail.isWrong = function (finding) {
    return WRONG.has(finding.code);
  };

  // Whether a finding asks for a change, so that a line still being written is better left alone for a moment.
  Steadyrail.isComplaint = function (finding) {
    return WRONG.has(finding.code) || finding.code === "unread";
  };

  // Writes a finding into the margin. `pointed` is the text it points at, '' for none; `disagree` is called by its
  // button.
  Steadyrail.writeFinding = function (place, finding, pointed, disagree) {
    const [sign, words] = SAID.get(finding.code) || ["", "a finding"];
    const told = element("p", "found");
    if (sign) {
      const shown = element("span", "sign", `${sign} `);
      shown.setAttribute("aria-hidden", "true");
      told.append(shown);
    }
    const whole = joined(words, finding.why);
    const apart = whole.toLowerCase().startsWith(words.toLowerCase());
    if (apart) told.append(element("span", "found-word", whole.slice(0, words.length)));
    const rest = element("span", "found-why");
    sentence(apart ? whole.slice(words.length) : whole, rest);
    told.append(rest);
    if (pointed) told.append(element("span", "heard", `, at “${shortened(pointed)}”`));
    place.replaceChildren(told);
    if (!Steadyrail.isComplaint(finding)) return;
    const button = element("button", "disagree", "I disagree");
    button.type = "button";
    button.title = "save this line and its finding as a small file for your lecturer";
    button.addEventListener("click", disagree);
    told.append(" ", button);
  };

  // A sentence of prose: what stands between dollar signs is a formula, most often one letter symbol.
  function prose(text, place) {
    text.split("$").forEach((piece, odd) => {
      if (odd % 2 === 1 && /^[A-Za-z]+(_[A-Za-z0-9]+)*$/.test(piece)) place.append(letter(piece));
      else sentence(piece, place);
    });
  }

  // The table of the learner's own design: each demand at its worst corner, whether it holds and by how much. Without
  // a choice made there is none.
  Steadyrail.writeDesign = function (place, margins) {
    place.hidden = margins.length === 0;
    const rows = margins.map(({ text, holds, margin }) => {
      const row = element("tr", holds ? "" : "missed");
      const asked = element("td");
      prose(text, asked);
      const tied = margin.replace(BEFORE_UNIT, "$1\u00a0");
      row.append(asked, element("td", "", holds ? "yes" : "no"), element("td", "", tied));
      return row;
    });
    place.querySelector("tbody").replaceChildren(...rows);
  };

  // The text of a line between two columns, and what stands before and after; columns count code points from 1.
  Steadyrail.cutAt = function (text, columns) {
    const points = Array.from(text);
    const first = Math.min(Math.max(columns[0] - 1, 0), points.length);
    const past = Math.min(Math.max(columns[1] - 1, first), points.length);
    return [points.slice(0, first).join(""), points.slice(first, past).join(""), points.slice(past).join("")];
  };

  // Saves a disputed finding as a small file for the lecturer, and gives the file's name.
  Steadyrail.saveDisagreement = function (problem, number, finding, working) {
    const record = {
      kind: "disagreement",
      version: 1,
      problem: problem,
      ...(Steadyrail.givenHere ? { given: Steadyrail.givenHere() } : {}), // somebody's own numbers, as typed
      line: { number: number, text: working[number - 1] },
      finding: {
        code: finding.code,
        words: Steadyrail.findingWords(finding),
        why: finding.why,
        columns: finding.columns,
        slip: finding.slip,
      },
      working: working,
    };
    const name = `disagreement-${problem.replace(/[^A-Za-z0-9.]+/g, "-")}-line-${number}.json`;
    Steadyrail.saveFile(name, JSON.stringify(record, null, 2) + "\n", "application/json");
    return name;
  };
})();
