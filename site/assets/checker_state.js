// What earlier lines of a working leave behind for the later ones: the counterpart of tutor/working/state.py, function
// for function. A state is never changed; a line that is judged leaves a new one.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.state;
  const WRONG = ["fails", "units", "choice-bad"];

  checker.isWrong = (code) => WRONG.includes(code);

  checker.firstState = {
    past: { values: new Map(), relations: new Map(), parts: [], own: new Map(), wrong: [], slipped: false },
    ownDimensions: new Map(),
    ownMeant: new Map(), // where a value that is wrong stands for a symbol of the learner's: what it was
    choices: new Map(),
    doubtful: false,
    branch: "",
    supposed: false, // a hypothesis of which the sheet knows no region
    tail: [], // head and last member of the chain before, for a line that goes on with it
    tailTrue: true,
    head: "", // the symbol that the chain before speaks of
    wrongLine: 0, // the latest line counted wrong, 0 when none is
    believed: "", // the state the learner has concluded the circuit is in, when it is not the true one
  };

  // What names mean on the next line.
  checker.vocabularyOf = function (state, sheet) {
    return {
      symbols: sheet.symbolNames,
      aliases: sheet.aliases,
      own: [...state.past.own.keys()],
      decimalComma: sheet.decimalComma,
    };
  };

  // The region of the circuit that words conclude; '' for none, and for another load, which is only ever supposed.
  checker.stateMeant = function (words, sheet) {
    const region = checker.regionMeant(words, sheet);
    return limits.OTHER_LOADS.includes(region) ? "" : region;
  };

  // What a line's own words conclude: back from a hypothesis, or a state that the learner believes in.
  checker.concluded = function (line, state, sheet) {
    const region = checker.stateMeant(line.words, sheet);
    if (!region) return state;
    return { ...state, branch: "", believed: region === sheet.region ? "" : region };
  };

  // The first expression that a statement sets its head equal to, or bounds it by.
  function setRelation(relations, head, statement) {
    const relation = statement.members.slice(1).find((item) => checker.namesIn([item]).length > 0);
    const own = relation === undefined ? [] : checker.namesIn([relation]);
    if (head.node === "name" && own.length > 0 && !own.includes(head.name)) relations.set(head.name, relation);
  }

  // What a judged line leaves behind: values, relations, parts without a symbol, and what was not true.
  checker.after = function (judged, members, state, ground, continued) {
    const past = state.past;
    const head = continued ? state.tail[0] : judged.members[0];
    const wrong = checker.isWrong(judged.code) || judged.code === "follows";
    const tail = [continued ? head : members[0], members[members.length - 1]];
    // What holds under a hypothesis is not carried out of it.
    if (state.branch) return { ...state, tail: tail, tailTrue: !wrong };
    const [values, relations] = [new Map(past.values), new Map(past.relations)];
    let [parts, untrue] = [past.parts, past.wrong];
    if (judged.value !== null) {
      if (wrong) untrue = [...untrue, judged.value];
      if (head.node === "name") {
        values.delete(head.name);
        values.set(head.name, judged.value);
      } else if (head.node !== "literal") {
        parts = [...parts, ...checker.meantBy(head, ground, past).map((tree) => [tree, judged.value])];
      }
    }
    const [first, ...others] = checker.statementsOf(checker.question(judged.members, judged.relations));
    if (judged.code !== "units") setRelation(relations, head, first);
    for (const other of others) {
      const [symbol, value] = [checker.headName(other.members), checker.valueWithUnit(other)];
      if (value !== null) {
        values.delete(symbol);
        values.set(symbol, value);
        if (wrong) untrue = [...untrue, value];
      }
      if (judged.code !== "units") setRelation(relations, other.members[0], other);
    }
    const slipped = past.slipped || wrong;
    const left = { ...past, values: values, relations: relations, parts: parts, wrong: untrue, slipped: slipped };
    return { ...state, past: left, tail: tail, tailTrue: !wrong };
  };

  // An expression without a symbol of its own as what later lines may use it for: its numbers read as symbols.
  checker.meantBy = function (head, ground, past) {
    if (checker.namesIn([head]).length > 0) return [head];
    const found = [];
    let count = 0;
    for (const guess of checker.symbolised(head, checker.waysToRead(head, ground, past), past)) {
      if (checker.namesIn([guess.tree]).length > 0) found.push(guess.tree);
      count += 1;
      if (count === limits.MOST_MEANT) break;
    }
    return found;
  };
})();
