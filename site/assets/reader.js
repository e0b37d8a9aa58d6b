// Reads one line of a learner's working: the counterpart of tutor/working/read.py, function for function. A line is
// what tutor/working/tree_data.py makes of Python's; columns are [first, past), from 1, in code points. Nothing is
// evaluated and nothing is raised: a line that does not read is a line that says so.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const reader = (Steadyrail.reader = Steadyrail.reader || {});
  const RISING = "<≤";
  const FALLING = ">≥";
  const RULED = "-=_*.~#+";
  const SEPARATORS = ["comma", "colon", "break", "so", "stop", "tick", "question"];

  function lineOf(kind, more) {
    const line = { kind: kind, members: [], relations: [], continued: false, choice: false };
    return Object.assign(line, { label: "", words: "", misread: null }, more);
  }

  // The text as typed of the tokens from `first` to before `past`.
  function typed(scope, first, past) {
    if (past <= first) return "";
    return scope.points.slice(scope.tokens[first].first, scope.tokens[past - 1].past).join("");
  }

  function joined(...pieces) {
    return pieces.filter((piece) => piece !== "").join(" ");
  }

  function note(scope) {
    return lineOf("note", { words: typed(scope, 0, scope.tokens.length) });
  }

  function read(scope) {
    if (scope.tokens.length === 0) return lineOf("blank");
    if (isRuled(scope) || reader.isQuestion(scope, 0)) return note(scope);
    let start = reader.pastMarker(scope, 0);
    if (reader.givesUp(scope, start)) return lineOf("release", { words: typed(scope, 0, scope.tokens.length) });
    let label = typed(scope, 0, start);
    for (;;) {
      const first = reader.pastOpenings(scope, start);
      if (isCase(scope, first) || pastChoice(scope, first) > first) {
        start = first;
        break;
      }
      start = reader.pastColon(scope, first);
      if (start === first) start = reader.pastComma(scope, first);
      if (start === first) break;
      label = joined(label, typed(scope, first, start - 1));
    }
    if (start >= scope.tokens.length || reader.isQuestion(scope, start)) return note(scope);
    if (isCase(scope, start)) return caseOf(scope, start, label);
    const chosen = pastChoice(scope, start);
    if (chosen > start) return choiceOf(scope, start, chosen, label);
    return statement(scope, start, label);
  }

  // Whether the line is a rule drawn with one character: -----.
  function isRuled(scope) {
    const drawn = scope.points.filter((char) => char !== " ");
    return drawn.length > 2 && RULED.includes(drawn[0]) && drawn.every((char) => char === drawn[0]);
  }

  function isCase(scope, place) {
    return reader.pastPhrase(scope, place, "hypotheses") > place;
  }

  // The place after a verb of choosing and its words; the same place when what follows is a law or a label.
  function pastChoice(scope, place) {
    const verb = reader.pastChooser(scope, place);
    if (verb === place) return place;
    const chosen = reader.pastChosen(scope, verb);
    if (scope.isWord(chosen) && !(scope.isEnd(chosen) && scope.isSymbol(chosen + 1))) return place;
    return chosen;
  }

  // A chain with the words before and after it; without a relation, often a note.
  function statement(scope, start, label) {
    if (!reader.hasRelation(scope, start)) return unrelated(scope, start, label);
    if (scope.isListed(start) && scope.says(start, "strictOperators")) throw scope.broken("word-for-sign", start, start);
    const first = reader.pastLeading(scope, start);
    return chainLine(scope, chainAt(scope, first), joined(label, typed(scope, start, first)));
  }

  // A line without a relation: one member alone, or a note to oneself.
  function unrelated(scope, start, label) {
    let worded = false;
    for (let at = start; at < scope.tokens.length; at += 1) {
      const word = scope.isWord(at) && Array.from(scope.word(at)).length > 1;
      if (word || scope.isKind(at, "question", "tick")) worded = true;
    }
    if (scope.says(start + 1, "is") && scope.isKind(start, "run") && isWhole(scope, start + 2)) {
      throw scope.broken("word-for-sign", start + 1, start + 1);
    }
    if (worded && !isWhole(scope, start)) return note(scope);
    return chainLine(scope, chainAt(scope, start), label);
  }

  // Whether one member reads from a place to the end.
  function isWhole(scope, place) {
    try {
      const past = reader.memberAt(scope, place, 0)[1];
      return scope.tokens.slice(past).every((one) => one.kind === "stop");
    } catch (stopped) {
      if (!stopped.broken) throw stopped;
      return false;
    }
  }

  // A hypothesis: words that name a region, or a chain that is assumed.
  function caseOf(scope, start, label) {
    let first = reader.pastPhrase(scope, start, "hypotheses");
    if (scope.isKind(first, "colon", "comma")) first += 1;
    let past = scope.tokens.length;
    while (past > first && scope.isKind(past - 1, "stop")) past -= 1;
    if (first >= past) return note(scope);
    if (!reader.hasRelation(scope, first)) {
      return lineOf("hypothesis", { label: label, words: typed(scope, first, past) });
    }
    const then = scope.said.slice(first, past).includes("then");
    if (then || reader.pastColon(scope, first) > first || reader.pastComma(scope, first) > first) {
      throw scope.broken("case-and-chain", start, past - 1);
    }
    const chain = reader.pastLeading(scope, first);
    const line = chainLine(scope, chainAt(scope, chain), label);
    if (line.kind === "note") return line;
    return Object.assign(line, { kind: "hypothesis", words: joined(typed(scope, first, chain), line.words) });
  }

  // A value chosen: choose R = 150 Ω, choose 150 ohm for R, choose a 1 W zener.
  function choiceOf(scope, start, chosen, label) {
    if (reader.hasRelation(scope, chosen)) {
      const chain = chainAt(scope, chosen);
      const left = chain.members[0];
      const defines = left !== undefined && left.node === "name" && left.standing === "unknown";
      const line = chainLine(scope, chain, label);
      return Object.assign(line, { choice: line.kind === "chain" && !defines });
    }
    if (scope.isSymbol(chosen)) {
      const [name, past] = reader.memberAt(scope, chosen, 0);
      let after = past;
      while (scope.says(after, "chosenAs")) after += 1;
      if (after > past && name.node === "name") {
        const [value, end] = reader.memberAt(scope, after, 0);
        return chosenLine(scope, name, value, [past, after], end, label);
      }
      if (scope.isKind(past - 1, "number") || name.node !== "name") throw scope.broken("choice", start, past - 1);
      return note(scope);
    }
    const typeName = scope.runKind(chosen + 1) === "strange" && scope.isJoined(chosen + 1);
    if (!reader.beginsFactor(scope, chosen) || typeName) return note(scope);
    const [value, past] = reader.memberAt(scope, chosen, 0);
    let after = past;
    while (scope.isWord(after) && !scope.says(after, "chosenFor")) after += 1;
    if (scope.says(after, "chosenFor") && scope.isSymbol(after + 1)) {
      const [name, end] = reader.memberAt(scope, after + 1, 0);
      if (name.node === "name") return chosenLine(scope, name, value, [past, after + 1], end, label);
    }
    const alone = { members: [value], relations: [], continued: false, first: chosen, past: past };
    return Object.assign(chainLine(scope, alone, label), { choice: true });
  }

  // `name = value`, from the words between them.
  function chosenLine(scope, name, value, between, end, label) {
    const relation = { columns: scope.columns(between[0], between[1] - 1), sign: "=" };
    const chain = { members: [name, value], relations: [relation], continued: false, first: between[0], past: end };
    return Object.assign(chainLine(scope, chain, label), { choice: true });
  }

  // The members and relations from a place on, as far as they go.
  function chainAt(scope, first) {
    const chain = { members: [], relations: [], continued: scope.isKind(first, "relation"), first: first, past: first };
    for (;;) {
      if (scope.isKind(chain.past, "relation")) {
        refuseTurn(scope, chain.relations, chain.past);
        if (isOpenSide(scope, chain.past + 1)) return chain;
        chain.relations.push({ columns: scope.columns(chain.past, chain.past), sign: scope.tokens[chain.past].text });
        chain.past += 1;
      } else if (chain.past > first) {
        return chain;
      }
      const defined = chain.past === first ? definedAt(scope, first) : null;
      const [node, past] = defined || reader.memberAt(scope, chain.past, 0);
      chain.members.push(node);
      chain.past = reader.pastRemarks(scope, past);
    }
  }

  function refuseTurn(scope, relations, place) {
    const sign = scope.tokens[place].text;
    const against = RISING.includes(sign) ? FALLING : FALLING.includes(sign) ? RISING : "";
    if (relations.some((relation) => against.includes(relation.sign))) throw scope.broken("directions", place, place);
  }

  // Whether a side is left open, as in I_Z = ? or I_Z = …; the line then ends without a further relation.
  function isOpenSide(scope, place) {
    const leftOpen = scope.isKind(place, "question", "stop") && scope.tokens[place].text !== ".";
    return leftOpen && !reader.hasRelation(scope, place);
  }

  // A new symbol alone on the left of =, := or ≈; broken when its name is taken by something else.
  function definedAt(scope, place) {
    const changed = reader.isChange(scope, place) && !scope.isSymbol(place);
    const last = changed ? place + 1 : place;
    const kind = scope.runKind(last);
    const relation = scope.at(reader.pastRemarks(scope, last + 1));
    if (kind === null || kind === "symbol" || relation === null || relation.kind !== "relation") return null;
    const token = scope.tokens[last];
    const name = changed ? "Δ" + token.text : token.text;
    if (!"=≈".includes(relation.text) || reader.resolve(scope.vocabulary, name).standing !== "unknown") return null;
    const unit = kind === "unit" && !Steadyrail.tables.lines.collisions.neverUnder.includes(token.text);
    if (unit || kind === "function" || kind === "constant" || reader.words("changes").has(token.text)) {
      throw scope.broken("reserved", place, last);
    }
    const points = Array.from(name);
    const odd = !reader.isLetter(points[0]) || points.some((char) => reader.isForeign(char));
    if (kind === "listed" || odd || scope.says(last, "notFinite")) throw scope.unknown(last);
    return [{ node: "name", columns: scope.columns(place, last), name: name, standing: "unknown" }, last + 1];
  }

  // The chain as a line, once nothing but words is left beside it.
  function chainLine(scope, chain, label) {
    const aside = [];
    for (let at = chain.first; at < chain.past; at += 1) {
      const named = scope.isSymbol(at - 1) && scope.isEnd(at + 1);
      if (scope.isRemark(at) && !named) aside.push(typed(scope, at + 1, scope.tokens[at].partner));
    }
    if (scope.isKind(chain.past, "relation")) {
      if (chain.members.length < 2 && chain.relations.length === 0) return note(scope);
      aside.push(typed(scope, chain.past, scope.tokens.length));
    } else {
      aside.push(afterChain(scope, chain.past, chain.relations.length > 0));
    }
    return lineOf("chain", {
      members: chain.members,
      relations: chain.relations,
      continued: chain.continued,
      label: label,
      words: joined(...aside),
    });
  }

  // The words after a chain; broken when more than words is left.
  function afterChain(scope, first, chained) {
    let past = first;
    while (scope.isKind(past, ...SEPARATORS)) {
      if (scope.isKind(past, "colon")) reader.refuseRatio(scope, past);
      past += 1;
    }
    const stopped = past > first || scope.tokens[past - 1].text.endsWith(".");
    if (!stopped && past < scope.tokens.length && !scope.isListed(past)) throw scope.unfit(past);
    reader.refuseHiddenChain(scope, past, chained);
    if (!stopped) reader.refuseHiddenSigns(scope, past);
    let begin = first;
    while (begin < past && scope.isKind(begin, "comma", "colon", "break", "so", "stop")) begin += 1;
    return typed(scope, begin, scope.tokens.length);
  }

  // The sentence about a line as typed, with its columns.
  function misreadOf(found, points) {
    let sentence = Steadyrail.tables.lines.sentences[found.broken];
    sentence = sentence.split("{near}").join(found.near);
    sentence = sentence.split("{found}").join(points.slice(found.first, found.past).join(""));
    return { fault: found.broken, sentence: sentence, columns: [found.first + 1, found.past + 1] };
  }

  // One line as it reads. A vocabulary is {symbols, aliases, own, decimalComma}.
  Steadyrail.readLine = function (text, vocabulary) {
    const points = Array.from(text);
    try {
      return read(reader.scopeOf(points, vocabulary));
    } catch (stopped) {
      if (!stopped.broken) throw stopped;
      return lineOf("unread", { misread: misreadOf(stopped, points) });
    }
  };
})();
