// A chain as it is tried: its members, what each is made of, the numbers and symbols in it, what it says. The counterpart
// of tutor/working/chain.py, function for function. A question is { members, relations, exact, slips, pure }; kinds are
// "symbols", "numbers", "mixed".
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});

  checker.question = function (members, relations, exact, slips) {
    return { members: members, relations: relations, exact: exact || [], slips: slips || [], pure: [] };
  };

  // What a chain says, one by one: V_Z = 11 V < V_TH = 13.6 V says two things and compares them. A sign of order parts
  // what has a symbol at its head on both sides: R ≤ 155 Ω is one statement, as is 5 mA < I_Z.
  checker.statementsOf = function (question) {
    const { members, relations } = question;
    const runs = [[0, 1]];
    relations.forEach((relation, at) => {
      if (checker.equates(relation.sign)) runs[runs.length - 1][1] = at + 2;
      else runs.push([at + 1, at + 2]);
    });
    const found = [];
    for (const [first, past] of runs) {
      const before = found[found.length - 1];
      const headed = (from, to) => checker.headName(members.slice(from, to)) !== "";
      if (before !== undefined && !(headed(...before) && headed(first, past))) before[1] = past;
      else found.push([first, past]);
    }
    if (found.length === 1) return [question];
    return found.map(([first, past]) => ({
      ...question,
      members: members.slice(first, past),
      relations: relations.slice(first, past - 1),
      pure: question.pure ? question.pure.slice(first, past) : question.pure,
      slips: first === 0 ? question.slips : [],
    }));
  };

  // The member that says what a chain comes to: of its first statement the last one before an inequality, where the
  // chain begins with =.
  checker.valueMember = function (question) {
    const first = checker.statementsOf(question)[0];
    let found = first.members[0];
    for (const [relation, , member] of checker.linksOf(first)) {
      if (!checker.equates(relation.sign)) break;
      found = member;
    }
    return found !== first.members[0] ? found : first.members[first.members.length - 1];
  };

  // What a chain comes to in SI, as a number with its unit says; null for bare numbers, which may mean others.
  checker.valueWithUnit = function (question) {
    const last = checker.valueMember(question);
    if (!checker.isNumbers(last) || checker.literalsIn(last).every((item) => item.bare)) return null;
    const amount = checker.workOut(last, checker.noValue, checker.plainAmount);
    return amount === null ? null : amount.value;
  };

  // Symbols in some trees, each once, in order of first use.
  function namesIn(nodes) {
    const found = new Set();
    const pending = [...nodes].reverse();
    while (pending.length > 0) {
      const node = pending.pop();
      if (node.node === "name") found.add(node.name);
      const inner = checker.parts(node);
      for (let at = inner.length - 1; at >= 0; at -= 1) pending.push(inner[at]);
    }
    return [...found];
  }
  checker.namesIn = namesIn;

  // The relations of a chain, each with the members beside it: [relation, left, right].
  checker.linksOf = function (question) {
    const count = Math.min(question.relations.length, question.members.length - 1);
    const { relations, members } = question;
    return relations.slice(0, count).map((relation, at) => [relation, members[at], members[at + 1]]);
  };

  // The numbers in a tree, left to right.
  function literalsIn(node) {
    return node.node === "literal" ? [node] : checker.parts(node).flatMap(literalsIn);
  }
  checker.literalsIn = literalsIn;

  const kinds = new WeakMap(); // trees are never changed, so what they are made of is found once

  // What a member is made of.
  function kindOf(node) {
    if (!kinds.has(node)) {
      const numbered = literalsIn(node).some((item) => !checker.isCoefficient(item));
      const named = namesIn([node]).length > 0;
      const nought = checker.isCoefficient(node) && node.meanings[0].value === 0;
      const plain = nought ? "symbols" : "numbers";
      kinds.set(node, named ? (numbered ? "mixed" : "symbols") : plain);
    }
    return kinds.get(node);
  }
  checker.kindOf = kindOf;
  checker.isNumbers = (node) => kindOf(node) === "numbers";

  // The symbol a chain speaks of: the first member that is one; '' when none is.
  checker.headName = function (members) {
    const head = members.map(checker.unsigned).find((inner) => inner.node === "name");
    return head === undefined ? "" : head.name;
  };
})();
