// A learner's whole working -> a finding for each line, by any valid route: the counterpart of tutor/working/check.py,
// function for function; with the margins of the learner's own design (checker_margins.js). A finding is
// { number, text, code, why, columns, slip, key, value }; columns are [first, past), from 1, in code points. Nothing a
// learner writes raises an error.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.check;
  const MOST_GROUNDS = 24; // a value being typed passes through many choices
  const kept = new WeakMap(); // sheet -> its grounds, and the lines checked last

  // Grounds by state and choices; what surrounds them is worked out once.
  class Grounds {
    constructor(sheet) {
      this.sheet = sheet;
      this.around = new Map([["", checker.aroundOf(sheet, sheet.recipe)]]);
      this.others = sheet.conventions.map((item) => [item, checker.aroundOf(sheet, item.recipe)]);
      this.grounds = new Map();
    }

    // The ground of a state ('' the problem's own) with the learner's choices, and those of other conventions.
    under(branch, choices) {
      const key = JSON.stringify([branch, ...choices]);
      if (!this.grounds.has(key)) {
        if (!this.around.has(branch)) {
          const { recipe, sets } = this.sheet.branches.find((item) => item.region === branch);
          this.around.set(branch, checker.aroundOf(this.sheet, recipe, sets));
        }
        if (this.grounds.size >= MOST_GROUNDS) this.grounds.clear();
        const others = branch ? [] : this.others.map(([item, around]) => [item, checker.groundOf(around, choices)]);
        this.grounds.set(key, [checker.groundOf(this.around.get(branch), choices), others]);
      }
      return this.grounds.get(key);
    }
  }

  function finding(number, text, code, why, columns) {
    const found = { number: number, text: text, code: code, why: why, columns: columns || null };
    return { ...found, slip: [], key: "", value: null };
  }

  // The findings, one a line that is not blank, and the number of the first line counted wrong (null: none is). Lines
  // up to the first that changed since the last call stand as they were found then.
  Steadyrail.checkWorking = function (sheet, text) {
    if (!kept.has(sheet)) kept.set(sheet, { grounds: new Grounds(sheet), lines: [] });
    const { grounds, lines } = kept.get(sheet);
    const typed = text.replace(/\r\n?/g, "\n").split("\n").slice(0, limits.MOST_LINES);
    let same = 0;
    while (same < lines.length && same < typed.length && lines[same].typed === typed[same]) same += 1;
    lines.length = same;
    for (let at = same; at < typed.length; at += 1) {
      const before = at > 0 ? lines[at - 1].state : checker.firstState;
      const line = Steadyrail.readLine(typed[at], checker.vocabularyOf(before, sheet));
      const [found, after] = judgeLine(line, at + 1, typed[at], before, grounds);
      const wrong = found !== null && checker.isWrong(found.code);
      lines.push({ typed: typed[at], found: found, state: wrong ? { ...after, wrongLine: at + 1 } : after });
    }
    const findings = lines.map((line) => line.found).filter((found) => found !== null);
    const first = findings.find((found) => checker.isWrong(found.code));
    const left = lines.length > 0 ? lines[lines.length - 1].state : checker.firstState;
    const margins = checker.marginsIn(grounds.under("", left.choices)[0]);
    return { findings: findings, firstWrong: first === undefined ? null : first.number, margins: margins };
  };

  function judgeLine(line, number, typed, state, grounds) {
    switch (line.kind) {
      case "blank":
        return [null, { ...state, branch: "", supposed: false, tail: [] }];
      case "unread": {
        const { sentence, columns } = line.misread;
        const found = finding(number, typed, "unread", sentence, columns);
        return [found, allTheSame(line.misread, typed, state, grounds, 0)];
      }
      case "note":
      case "release":
        return note(line, number, typed, state, grounds);
      case "hypothesis":
        return hypothesis(line, number, typed, state, grounds);
      default:
        return chain(line, number, typed, state, grounds);
    }
  }

  // Two statements on one line are asked for one a line, but what they say is not lost to the lines that follow.
  function allTheSame(misread, typed, before, grounds, depth) {
    let state = { ...before, tail: [] };
    if (misread.fault !== "second-chain" || depth > limits.MOST_STATEMENTS) return state;
    const points = Array.from(typed);
    const start = misread.columns[0] - 1;
    const pieces = [points.slice(0, start).join("").replace(/[ ,;]+$/, ""), points.slice(start).join("")];
    for (const piece of pieces) {
      const line = Steadyrail.readLine(piece, checker.vocabularyOf(state, grounds.sheet));
      if (line.misread === null) state = judgeLine(line, 0, piece, state, grounds)[1];
      else if (piece !== typed) state = allTheSame(line.misread, piece, state, grounds, depth + 1);
    }
    return { ...state, tail: [] };
  }

  function note(line, number, typed, state, grounds) {
    const back = line.kind === "release" || checker.stateMeant(line.words, grounds.sheet) !== "";
    const ended = (state.branch !== "" || state.supposed) && back;
    const released = ended ? { ...state, branch: "", supposed: false } : state;
    const left = checker.concluded(line, released, grounds.sheet);
    return [finding(number, typed, "note", checker.say(ended ? "back" : "noted")), left];
  }

  function hypothesis(line, number, typed, state, grounds) {
    const region = checker.regionMeant(line.words || line.label, grounds.sheet);
    if (line.members.length > 0 && !region) {
      const [found, left] = chain(line, number, typed, state, grounds);
      if (!checker.isWrong(found.code)) return [found, left];
      return [{ ...found, code: "note", why: checker.say("assumption"), columns: null, slip: [] }, left];
    }
    const branch = grounds.sheet.branches.find((item) => item.region === region);
    if (branch !== undefined) {
      const why = checker.say("as-if", { words: branch.words });
      return [finding(number, typed, "note", why), { ...state, branch: region, supposed: false, tail: [] }];
    }
    // A state that the sheet does not know: what does not hold of the circuit as it is may hold under it.
    const left = { ...state, branch: "", supposed: true, tail: [] };
    return [finding(number, typed, "note", checker.say("not-held")), left];
  }

  // The columns of a whole line, counted in code points.
  function wholeOf(typed) {
    return [1, Array.from(typed).length + 1];
  }

  function chain(line, number, typed, before, grounds) {
    let state = before;
    let members = line.members;
    const relations = line.relations;
    if (line.continued) {
      if (state.tail.length === 0) {
        return [finding(number, typed, "unread", checker.say("no-line-before"), wholeOf(typed)), state];
      }
      members = [state.tail[state.tail.length - 1], ...members];
    }
    if (checker.outgrows(members, state.past.own)) {
      return [finding(number, typed, "unread", checker.say("outgrown"), wholeOf(typed)), { ...state, tail: [] }];
    }
    const [ground, others] = grounds.under(state.branch, state.choices);
    const stand = {
      ground: ground,
      past: state.past,
      ownDimensions: state.ownDimensions,
      doubtful: state.doubtful,
      others: others,
    };
    const head = members[0];
    if (head.node === "name" && head.standing === "unknown" && relations.length > 0) {
      return definition(head, members, relations, number, typed, state, stand);
    }
    const put = members.map((member) => withOwn(member, state.past.own));
    // What is chosen is built, whatever is supposed for the moment.
    const chosen = choice(line, put, relations, number, typed, state, grounds.under("", state.choices)[0]);
    if (chosen !== null) return chosen;
    if (relations.length === 0) {
      const clash = checker.clashIn(put, [], checker.standDimension(stand));
      if (clash !== null) return [finding(number, typed, "units", clash.sentence, clash.columns), state];
      const left = { ...state, tail: put, head: checker.headName(put), tailTrue: true };
      return [finding(number, typed, "note", checker.say("nothing-said")), left];
    }
    let judged = checker.judgeChain(put, relations, stand);
    if (checker.isWrong(judged.code) && checker.namesIn(members).some((name) => state.ownMeant.has(name))) {
      // By the value that the learner goes on with it fails: what the symbol was set equal to may still make it true.
      const own = new Map([...state.past.own, ...state.ownMeant]);
      const meant = members.map((member) => withOwn(member, own));
      const other = checker.judgeChain(meant, relations, stand);
      if (!checker.isWrong(other.code)) judged = { ...other, members: judged.members };
    }
    [state, judged] = inAnotherState(judged, put, relations, state, stand, grounds);
    if (line.continued && !state.tailTrue && (judged.code === "holds" || judged.code === "holds-here")) {
      judged = { ...judged, code: "follows", why: checker.say("goes-on") };
    }
    if (line.choice && judged.code === "fails" && head.node === "name" && !ground.sheet.given.has(head.name)) {
      judged = { ...judged, code: "note", why: checker.say("your-own"), columns: null };
    }
    if (state.supposed && judged.code === "fails") {
      judged = { ...judged, code: "note", why: checker.say("not-judged"), columns: null, slip: [] };
    }
    let found = findingOf(line.continued ? judged : toldOf(judged, ground.sheet.asked), number, typed, state);
    if (line.continued) found = { ...found, key: state.head };
    const left = { ...checker.after(judged, put, state, ground, line.continued), head: found.key };
    return [found, checker.concluded(line, left, grounds.sheet)];
  }

  // A line that fails is held against the circuit as it is (leaving a hypothesis), or as the learner believes it.
  function inAnotherState(judged, members, relations, state, stand, grounds) {
    if (judged.code !== "fails") return [state, judged];
    if (state.branch) {
      const [ground, others] = grounds.under("", state.choices);
      const other = checker.judgeChain(members, relations, { ...stand, ground: ground, others: others });
      return checker.isWrong(other.code) ? [state, judged] : [{ ...state, branch: "" }, other];
    }
    if (state.believed) {
      const [ground, others] = grounds.under(state.believed, state.choices);
      const other = checker.judgeChain(members, relations, { ...stand, ground: ground, others: others });
      if (!checker.isWrong(other.code)) {
        const { words } = grounds.sheet.branches.find((item) => item.region === state.believed);
        return [state, { ...other, code: "follows", why: checker.say("as-concluded", { words: words }) }];
      }
    }
    return [state, judged];
  }

  function withOwn(node, own) {
    return checker.withLeaves(node, (item) => {
      const meaning = item.node === "name" && item.standing === "own" ? own.get(item.name) : undefined;
      return meaning === undefined ? item : checker.placed(meaning, item.columns);
    });
  }

  // The statement of a chain that its finding is about: the first that gives a value asked for, else the whole.
  // V_Z = 11 V < V_TH = 13.6 V gives what V_TH is, where that is asked.
  function toldOf(judged, asked) {
    const [first, ...others] = checker.statementsOf(checker.question(judged.members, judged.relations));
    const isAsked = (one) => [...asked].includes(checker.headName(one.members));
    if (isAsked(first) && checker.isNumbers(checker.valueMember(first))) return judged;
    const told = others.find((one) => isAsked(one) && checker.valueWithUnit(one) !== null);
    if (told === undefined) return judged;
    return { ...judged, members: told.members, relations: told.relations, value: checker.valueWithUnit(told) };
  }

  function findingOf(judged, number, typed, state) {
    let { code, why } = judged;
    if (state.branch && code === "holds") code = "holds-here";
    if (state.branch && code === "holds-here") {
      why = [why, checker.say("under-assumption")].filter((item) => item !== "").join("; ");
    }
    if (code === "follows" && state.wrongLine > 0) {
      why = why.replace(checker.say("own-values"), checker.say("from-line", { number: state.wrongLine }));
    }
    const found = finding(number, typed, code, why, judged.columns);
    return { ...found, slip: judged.slip, key: checker.headName(judged.members), value: judged.value };
  }

  // A new symbol alone on the left: defined when its own chain is sound.
  function definition(head, members, relations, number, typed, state, stand) {
    const put = members.slice(1).map((member) => withOwn(member, state.past.own));
    if (!checker.equates(relations[0].sign)) {
      const why = checker.say("no-meaning-yet", { name: head.name });
      return [finding(number, typed, "unread", why, head.columns), state];
    }
    const dimensionOf = checker.standDimension(stand);
    const clash = checker.clashIn(put, relations.slice(1), dimensionOf);
    if (clash !== null) return [finding(number, typed, "units", clash.sentence, clash.columns), state];
    let found = finding(number, typed, "defines", checker.say("defined", { name: head.name }));
    if (put.length > 1) {
      const judged = checker.judgeChain(put, relations.slice(1), stand);
      found.value = judged.value;
      if (checker.isWrong(judged.code)) {
        found = { ...found, code: judged.code, why: judged.why, columns: judged.columns, slip: judged.slip };
      }
    }
    // A value that its own working does not give is the value the learner goes on with.
    const last = put[put.length - 1];
    const meaning = found.code === "fails" && last.node === "literal" ? last : put[0];
    const own = new Map(state.past.own).set(head.name, meaning);
    const dimension = checker.dimensionOfMember(meaning, dimensionOf);
    const dimensions = new Map(state.ownDimensions).set(head.name, dimension);
    const parts = found.value === null ? state.past.parts : [...state.past.parts, [meaning, found.value]];
    let past = { ...state.past, own: own, parts: parts };
    if (found.value !== null && meaning !== put[0]) {
      const meant = checker.meantBy(put[0], stand.ground, state.past).map((tree) => [tree, found.value]);
      past = { ...past, parts: [...parts, ...meant], wrong: [...past.wrong, found.value], slipped: true };
    }
    const left = {
      ...state,
      past: past,
      ownDimensions: dimensions,
      ownMeant: meaning === put[0] ? state.ownMeant : new Map(state.ownMeant).set(head.name, put[0]),
      tail: [meaning, last],
      head: "",
      tailTrue: true,
    };
    return [found, left];
  }

  // A line that chooses a part value: said with a verb, or a bare statement of one; null when it does neither.
  function choice(line, members, relations, number, typed, state, ground) {
    if (relations.some((relation) => !checker.equates(relation.sign))) return null;
    const bare = () => relations.length > 0 && isBareChoice(line, members, ground, state.past);
    return line.choice || bare() ? take(members, number, typed, state, ground) : null;
  }

  function take(members, number, typed, state, ground) {
    const found = checker.chosenPart(members, ground.sheet, state.choices);
    if (found === null) return null;
    const [part, value] = found;
    const chosen = checker.judgeChoice(part, value, ground, state.past);
    const fits = chosen.code === "choice-ok";
    const columns = chosen.code === "choice-bad" ? members[members.length - 1].columns : null;
    const past = {
      ...state.past,
      values: new Map(state.past.values).set(part.key, value),
      wrong: fits ? state.past.wrong : [...state.past.wrong, value],
      slipped: state.past.slipped || !fits,
    };
    const left = {
      ...state,
      choices: new Map(state.choices).set(part.key, value),
      doubtful: !fits,
      past: past,
      tail: members,
      head: part.key,
      tailTrue: fits,
    };
    const told = finding(number, typed, chosen.code, chosen.why, columns);
    return [{ ...told, slip: chosen.slip, key: part.key, value: value }, left];
  }

  // `R = 130 Ω` without a verb is a choice, unless it is one of the bounds written down or the part taken before at an
  // end of its tolerance.
  function isBareChoice(line, members, ground, past) {
    const [head, value] = members;
    if (members.length !== 2 || line.continued || head.node !== "name" || value.node !== "literal") return false;
    const part = checker.choiceNamed(ground.sheet, head.name);
    if (part === null) return false;
    const bounds = checker.boundsOf(part, ground);
    const known = [bounds.low, bounds.high, past.values.get(part.low), past.values.get(part.high)];
    const written = value.meanings[0].value;
    if (checker.isEndOfTaken(part, written, ground, past)) return false;
    return !known.some((item) => {
      return item !== null && item !== undefined && Math.abs(written - item) <= 0.01 * Math.abs(item);
    });
  }
})();
