// What stands around a chain: the counterpart of tutor/working/around.py, function for function. Each function takes
// the place where it looks and gives back the place after what it set aside: the same place when there was nothing.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const reader = (Steadyrail.reader = Steadyrail.reader || {});

  const MOST_CONDITION = 8; // tokens of a condition before a colon

  // Whether a relation stands anywhere from a place on, one that is not read here included.
  reader.hasRelation = function (scope, first) {
    return scope.tokens.slice(first).some((one) => one.kind === "relation" || one.fault === "other-relation");
  };

  function spells(scope, place, word) {
    if (scope.isKind(place, "stop")) return scope.tokens[place].text === word;
    return scope.word(place) === word && !scope.isSymbol(place);
  }

  // The place after the longest of these phrases; a symbol is never a word of a phrase.
  reader.pastPhrase = function (scope, place, phrases) {
    for (const phrase of reader.wordMap(phrases).get(scope.word(place)) || []) {
      if (phrase.every((word, at) => spells(scope, place + at, word))) return place + phrase.length;
    }
    return place;
  };

  // So, hence, therefore, ∴, which gives: set aside, with a comma or a colon after them.
  reader.pastOpenings = function (scope, place) {
    for (;;) {
      const past = scope.isKind(place, "so") ? place + 1 : reader.pastPhrase(scope, place, "openings");
      if (past === place) return place;
      place = scope.isKind(past, "comma", "colon") ? past + 1 : past;
    }
  };

  // The number or letter of a line, or a remark in brackets at its start.
  reader.pastMarker = function (scope, place) {
    if (scope.isRemark(place)) return scope.tokens[place].partner + 1;
    const opened = scope.isKind(place, "open");
    const at = opened ? place + 1 : place;
    const small = scope.isKind(at, "run") && reader.words("lettered").has(scope.tokens[at].text);
    const letter = small || (scope.says(at, "lettered") && !scope.isSymbol(at));
    if (!letter && !isSmallNumber(scope, at)) return place;
    if (scope.isKind(at + 1, "close") && (opened || scope.tokens[at + 1].partner < 0)) {
      const goesOn = letter || scope.isKind(at + 2, "run", "so");
      const free = !opened || scope.at(at + 2) === null || (goesOn && standsApart(scope, at + 2));
      return free ? at + 2 : place;
    }
    const pointed = !opened && scope.tokens[at].text.endsWith(".");
    const last = scope.at(at + 1) === null;
    const named = last || scope.isSymbol(at + 1) || scope.isWord(at + 1);
    return pointed && named && (last || scope.isGap(at + 1)) ? at + 1 : place;
  };

  function isSmallNumber(scope, place) {
    const token = scope.at(place);
    if (token === null || token.kind !== "number" || token.numeral.letter) return false;
    const digits = token.numeral.digits;
    return digits.length <= 2 && (token.text === digits || token.text === digits + ".");
  }

  // Whether what follows a marker is set apart from it and goes on with no sign.
  function standsApart(scope, place) {
    const unit = scope.runKind(place) === "unit";
    return scope.isGap(place) && !unit && !scope.isKind(place, "sign", "relation", "power");
  }

  // A label before a colon, the colon included; no relation stands in a label.
  reader.pastColon = function (scope, place) {
    let at = place;
    let related = false;
    while (at < scope.tokens.length) {
      const token = scope.tokens[at];
      if (token.fault === "other-relation") return place;
      related = related || token.kind === "relation";
      if (token.kind === "colon") {
        if (related) {
          const length = at - place;
          const begun = length >= 3 && length <= MOST_CONDITION && scope.tokens[place].kind !== "relation";
          const apart = at + 1 < scope.tokens.length && scope.isJoined(at) && scope.isGap(at + 1);
          return begun && apart && reader.hasRelation(scope, at + 1) ? at + 1 : place;
        }
        reader.refuseRatio(scope, at);
        return at + 1;
      }
      at = Math.max(at, token.partner) + 1;
    }
    return place;
  };

  // 10:1 is a ratio, whatever else a colon may be.
  reader.refuseRatio = function (scope, colon) {
    const before = scope.isKind(colon - 1, "number", "close") || scope.isSymbol(colon - 1);
    const tight = scope.isJoined(colon) && scope.isJoined(colon + 1);
    const loose = scope.isGap(colon) && scope.isKind(colon - 1, "number") && scope.isKind(colon + 1, "number");
    if (before && (tight || loose)) throw scope.broken("ratio", colon - 1, colon + 1);
  };

  // Words before a comma and a chain after it: at full load, I_Z = 5 mA.
  reader.pastComma = function (scope, place) {
    if (!scope.isListed(place) && !isPronoun(scope, place)) return place;
    let at = place;
    while (at < scope.tokens.length && scope.tokens[at].kind !== "relation") {
      if (scope.tokens[at].kind === "comma") return reader.hasRelation(scope, at + 1) ? at + 1 : place;
      at = Math.max(at, scope.tokens[at].partner) + 1;
    }
    return place;
  };

  // Whether the line asks: it begins with ?, or with a question word and ends with ?.
  reader.isQuestion = function (scope, place) {
    let last = scope.tokens.length - 1;
    while (last > place && scope.isKind(last, "stop")) last -= 1;
    const asks = scope.says(place, "questions") && !scope.isSymbol(place);
    return scope.isKind(place, "question") || (asks && scope.isKind(last, "question"));
  };

  // Whether the line gives a hypothesis up: so not, contradiction, hence it is not off.
  reader.givesUp = function (scope, place) {
    if (reader.hasRelation(scope, place)) return false;
    const said = scope.said.slice(place);
    const denied = said.some((word) => reader.words("not").has(word));
    if (said.length > 0 && reader.words("not").has(said[0])) return true;
    if (denied && reader.pastOpenings(scope, place) > place) return true;
    return said.some((word) => reader.words("releases").has(word));
  };

  // The place after choose, take, use, pick, select, let or set, and whoever chooses.
  reader.pastChooser = function (scope, place) {
    let at = place;
    if (scope.word(at) === "let" && scope.word(at + 1) === "us") at += 2;
    while (scope.says(at, "choosers") && !scope.isSymbol(at)) at += 1;
    return scope.says(at, "choices") && !scope.isSymbol(at) ? at + 1 : place;
  };

  // The place after the words between such a verb and what is chosen: a, the nearest E24 value.
  reader.pastChosen = function (scope, place) {
    while (scope.isKind(place, "colon", "comma") || (scope.says(place, "chosen") && !scope.isSymbol(place))) place += 1;
    return place;
  };

  // The place after words that run into a chain; broken where they would swallow a part of it.
  reader.pastLeading = function (scope, first) {
    let at = first;
    while (at < scope.tokens.length) {
      if (scope.isEnd(at) && scope.isSymbol(at + 1)) break;
      const after = pastWord(scope, at, first);
      if (after === at) break;
      at = after;
    }
    if (at > first && scope.isKind(at, "relation")) throw scope.broken("word", first, first);
    if (at > first && scope.says(at - 1, "conditions") && at < scope.tokens.length) {
      const [side, past] = reader.memberAt(scope, at, 0);
      if (side.node !== "name" || !scope.isKind(past, "relation") || runsOn(scope, past + 1)) {
        throw scope.broken("condition", at - 1, at - 1);
      }
    }
    return at;
  };

  // Whether a condition and a chain without anything between look like one: when I_L = 0 I_Z = 5 mA.
  function runsOn(scope, place) {
    if (!reader.beginsFactor(scope, place)) return false;
    const [side, past] = reader.memberAt(scope, place, 0);
    return side.node === "product" && scope.isKind(past, "relation");
  }

  // The place after one more leading word, abbreviation point, hyphen, quotation mark or number of a line.
  function pastWord(scope, at, first) {
    if (scope.says(at, "wordsAndNames") && scope.isSymbol(at) && scope.isKind(at + 1, "run")) {
      if (scope.isSymbol(at + 1) && scope.name(at + 1) !== scope.name(at)) {
        throw scope.broken("two-readings", at, at + 1);
      }
      return scope.isSymbol(at + 1) || scope.isWord(at + 1) ? at + 1 : at;
    }
    if (scope.runKind(at) === "function" && at === first && scope.isKind(at + 1, "relation")) return at;
    if (isPronoun(scope, at) || (at === first ? scope.isListed(at) : scope.isWord(at))) return at + 1;
    if (at === first) return at;
    if (scope.isKind(at, "other") || (scope.isKind(at, "stop") && scope.tokens[at].text === ".")) return at + 1;
    const hyphen = scope.isSign(at, "-") && scope.isJoined(at) && scope.isJoined(at + 1);
    if (hyphen && scope.isWord(at - 1) && scope.isWord(at + 1)) return at + 1;
    const named = scope.word(at - 1) === "" && scope.isKind(at - 1, "stop") ? at - 2 : at - 1;
    const numbers = scope.says(named, "numbered");
    if (numbers && isSmallNumber(scope, at) && reader.beginsFactor(scope, at + 1)) return at + 1;
    const pointed = scope.isKind(at, "open") && isSmallNumber(scope, at + 1) && scope.isKind(at + 2, "close");
    return pointed && (numbers || scope.says(named, "referring")) ? at + 3 : at;
  }

  // `I` before a word is whoever writes.
  function isPronoun(scope, place) {
    return scope.word(place) === "i" && !scope.isSymbol(place) && scope.isWord(place + 1);
  }

  // Broken when what follows a chain is no mere remark: a second statement, or words that stand for signs.
  reader.refuseHiddenChain = function (scope, place, chained) {
    if (place >= scope.tokens.length) return;
    const last = scope.tokens.length - 1;
    const listed = scope.isListed(place);
    if (reader.hasRelation(scope, place)) {
      if (listed && !chained) throw scope.broken("word", place, place);
      throw scope.broken("second-chain", place, last);
    }
    let worded = false;
    for (let at = place; at <= last; at += 1) if (scope.isWord(at) || scope.isKind(at, "tick")) worded = true;
    if (!worded) throw scope.broken("second-chain", place, last);
    const valued = reader.beginsFactor(scope, place + 1);
    if (scope.runKind(place) === "function" && valued) throw scope.broken("no-argument", place, place);
    if (!listed) return;
    if (scope.says(place, "strictOperators") || (valued && scope.says(place, "operators"))) {
      throw scope.broken("word-for-sign", place, place);
    }
    if (valued && scope.says(place, "joiners")) throw scope.broken("second-chain", place, last);
  };

  // Broken when words that follow a chain without a comma go on reckoning: 5 mA each × 2.
  reader.refuseHiddenSigns = function (scope, place) {
    for (let at = place; at < scope.tokens.length; at += 1) {
      const reckons = scope.isKind(at, "sign") && reader.beginsFactor(scope, at + 1);
      if (scope.isKind(at, "power") || reckons) throw scope.broken("word", place, place);
    }
  };
})();
