// Does a line follow from what the learner wrote before, though it is not the true value? The counterpart of
// tutor/working/follow.py, function for function.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.follow;
  const PLAINLY = { words: "", case: null, supplied: false, place: null, scaling: null };

  // Where a chain is right with the learner's own values and relations, as a truth, or null.
  checker.follows = function (asked, ground, past, others) {
    // With a wrong value of the learner's a slip's may be the right one.
    const question = past.slipped ? { ...asked, slips: [] } : asked;
    if (!checker.linksOf(question).every((link) => linkStands(link, ground, past, others))) return null;
    if (question.members.every((member) => checker.kindOf(member) === "symbols")) return PLAINLY;
    if (past.values.size > 0 || past.relations.size > 0) {
      const head = question.members[0].node === "name" ? question.members[0].name : "";
      let relations = past.relations;
      for (const statement of checker.statementsOf(question)) {
        relations = checker.merged(relations, ownRelation(statement, ground, past));
      }
      const own = { ...past, relations: relations };
      for (const without of past.values.has(head) ? ["", head] : [""]) {
        const found = checker.trueHere(question, ground, checker.overlayOf(own, true, without));
        if (found !== null) return found;
      }
      // A calculator keeps the figures that a line leaves out: a value that was right goes on unrounded.
      const untrue = [...past.values].filter(([name, value]) => past.wrong.includes(value) && name !== head);
      if (untrue.length > 0 && untrue.length < past.values.size) {
        const kept = { ...own, values: new Map(untrue) };
        const found = checker.trueHere(question, ground, checker.overlayOf(kept, true));
        if (found !== null) return found;
      }
    }
    return copyFollows(question, ground, past) || substitutionFollows(question, ground, past);
  };

  // What a statement itself says of its head: I_L = V_O/R_L = …, to be worked out with the learner's V_O.
  function ownRelation(question, ground, past) {
    const head = question.members[0];
    for (const [relation, , member] of checker.linksOf(question)) {
      if (!checker.equates(relation.sign)) break;
      const names = checker.namesIn([member]);
      if (head.node === "name" && names.length > 0 && !names.includes(head.name)) {
        // Numbers beside symbols are not looked at by `linkStands`: what they say must be so in the circuit.
        const link = checker.question([head, member], [relation]);
        const symbols = checker.kindOf(member) === "symbols";
        const sound = symbols || hasWrong(member, past) || checker.trueHere(link, ground) !== null;
        return new Map(sound ? [[head.name, member]] : []);
      }
    }
    return new Map();
  }

  // Whether a relation between symbols alone is true, or the learner's own; other links are judged by number.
  function linkStands([relation, left, right], ground, past, others) {
    const sign = relation.sign;
    if (checker.kindOf(left) !== "symbols" || checker.kindOf(right) !== "symbols") return true;
    if (checker.trueOfCircuit(left, right, sign, ground) !== null) return true;
    const compared = checker.question([left, right], [relation]);
    if (checker.approximationTold(compared, ground, others)) return true;
    if (past.relations.size > 0) {
      const overlay = checker.overlayOf(past, false);
      if (checker.trueOfCircuit(left, right, sign, ground, overlay) !== null) return true;
      for (const [name, own] of past.relations) {
        const put = [left, right].map((side) => withRelation(side, own, name));
        const changed = !checker.sameTree(put[0], left) || !checker.sameTree(put[1], right);
        if (changed && checker.trueOfCircuit(put[0], put[1], sign, ground) !== null) return true;
      }
    }
    // Two values of the learner's own compared: R_MIN > R_MAX.
    return !checker.equates(sign) && checker.trueHere(compared, ground, checker.overlayOf(past, true)) !== null;
  }

  // The tree with the learner's expression for a symbol read back as the symbol.
  function withRelation(node, own, name) {
    if (sameShape(node, own)) return checker.name(node.columns, name);
    return checker.rebuilt(
      node,
      checker.parts(node).map((part) => withRelation(part, own, name)),
    );
  }

  // Whether two trees are alike but for their columns.
  function sameShape(a, b) {
    if (a.node !== b.node) return false;
    if (a.node === "literal") return checker.sameMeanings(a.meanings, b.meanings);
    if (a.node === "name") return a.name === b.name;
    const [inner, other] = [checker.parts(a), checker.parts(b)];
    return inner.length === other.length && inner.every((part, at) => sameShape(part, other[at]));
  }

  // Whether a line gives a symbol the learner's value of another that equals it in the circuit: V_O that of V_Z.
  function copyFollows(question, ground, past) {
    const [head, value] = question.members;
    if (question.members.length !== 2 || head.node !== "name" || value.node !== "literal") return null;
    if (!checker.equates(question.relations[0].sign)) return null;
    for (const [tree, written] of checker.waysToRead(value, ground, past)[0][1]) {
      const own = tree.node === "name" && tree.name !== head.name && past.values.get(tree.name) === written;
      if (own && checker.trueOfCircuit(head, tree, "=", ground) !== null) return PLAINLY;
    }
    return null;
  }

  // Whether the numbers of a line stand for the learner's own values in a relation that is true.
  function substitutionFollows(question, ground, past) {
    for (let index = 0; index < question.relations.length; index += 1) {
      const [left, right] = question.members.slice(index, index + 2);
      if (checker.isNumbers(left) || !checker.isNumbers(right) || right.node === "literal") continue;
      const members = question.members.slice(index + 1);
      const rest = checker.question(members, question.relations.slice(index + 1), question.exact);
      if (!checker.addsUp(rest)) return null;
      const result = checker.valueMember(question);
      const effort = new checker.Effort(limits.MOST_PLACES);
      const sign = question.relations[index].sign;
      for (const guess of checker.symbolised(right, checker.waysToRead(right, ground, past), past)) {
        if (comesOut(guess, result) && checker.borneOut(left, guess, sign, ground, past, effort)) return PLAINLY;
      }
      return null;
    }
    return null;
  }

  // Whether the numbers, as they are meant, give the result of the line as written.
  function comesOut(guess, result) {
    if (guess.comesTo === null || result.node !== "literal") return guess.comesTo !== null;
    const meaning = result.meanings[0];
    const steps = [checker.rounding(guess.comesTo, meaning.step), checker.rounding(meaning.value, meaning.step)];
    return Math.abs(guess.comesTo - meaning.value) <= Math.max(...steps);
  }

  // Whether a line of numbers alone uses a value of the learner's that was not true.
  checker.restsOnWrong = function (question, past) {
    return question.members.slice(0, -1).some((member) => hasWrong(member, past));
  };

  // Whether a number of a side is a value of the learner's that was not true.
  function hasWrong(node, past) {
    return checker.literalsIn(node).some((literal) => {
      if (checker.isCoefficient(literal)) return false;
      const { value, step } = literal.meanings[0];
      return past.wrong.some((wrong) => {
        return Math.abs(value - wrong) <= Math.min(checker.rounding(wrong, step), 0.006 * Math.abs(wrong));
      });
    });
  }
})();
