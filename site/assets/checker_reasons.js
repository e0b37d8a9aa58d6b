// Why a line fails, where that is known: a slip of the problem, another convention, or an ordinary slip of the trade.
// The counterpart of tutor/working/reasons.py, function for function; a reason is { why, columns, slip }.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.reasons;
  const { LEFT_OUT } = Steadyrail.tables.checking.dimensions;
  const { RESULT_BAND } = Steadyrail.tables.checking.truth;

  function reason(why, columns, slip) {
    return { why: why, columns: columns, slip: slip || [] };
  }

  // The likeliest reason for a failed chain; of several statements that of the first which fails by itself.
  checker.reasonFor = function (question, ground, past, others) {
    const statements = checker.statementsOf(question);
    if (statements.length > 1) {
      const failing = statements.find((statement) => !stands(statement, ground, past, others));
      if (failing !== undefined) return checker.reasonFor(failing, ground, past, others);
      return plainly(compared(question, statements), ground);
    }
    const shown = namedSlip(question, ground) || arithmetic(question);
    if (shown !== null) return shown;
    for (const [convention, other] of others) {
      if (!rightUnder(question, other)) continue;
      const why = checker.say("other-convention", { title: checker.plain(convention.title) });
      return reason(why, lastOf(question.members).columns, [`${convention.id}=${convention.value}`]);
    }
    return (
      general(question, ground) ||
      edited(question, ground, past) ||
      copied(question, ground, past) ||
      plainly(question, ground)
    );
  };

  // Whether a statement alone is true, or right with the learner's own values; a symbol alone says nothing wrong.
  function stands(statement, ground, past, others) {
    if (statement.relations.length === 0) return true;
    const symbols = statement.members.every((member) => checker.kindOf(member) === "symbols");
    const sound = untrueRelation(statement, ground) === null;
    if (sound && (symbols || checker.trueHere(statement, ground) !== null)) return true;
    return checker.follows(statement, ground, past, others) !== null;
  }

  // What a chain of several statements compares: their heads, in their order.
  function compared(question, statements) {
    const heads = statements.map((statement) => headOf(statement));
    let place = 0;
    const between = statements.slice(0, -1).map((statement) => {
      place += statement.members.length;
      return question.relations[place - 1];
    });
    return checker.question(heads, between);
  }

  function lastOf(items) {
    return items[items.length - 1];
  }

  function* firstOf(items, most) {
    let count = 0;
    if (most > 0) {
      for (const item of items) {
        yield item;
        count += 1;
        if (count === most) return;
      }
    }
  }

  function rightUnder(question, other) {
    if (question.members.every((member) => checker.kindOf(member) === "symbols")) {
      const names = checker.namesIn(question.members);
      const world = other.around.near[0];
      return checker.linksOf(question).every(([relation, left, right]) => {
        const place = checker.trueOfCircuit(left, right, relation.sign, other);
        // Where the convention makes a symbol nothing, whatever is said of it would be right.
        return place !== null && !(world && names.some((name) => checker.valueIn(world, place, name) === 0));
      });
    }
    const found = checker.trueHere(question, other);
    if (found === null || !checker.isBetweenSymbols(question, other)) return found !== null;
    const { world } = found.case;
    return !checker.namesIn(question.members).some((name) => checker.valueIn(world, found.place, name) === 0);
  }

  function headOf(question) {
    return question.members.map(checker.unsigned).find((inner) => inner.node === "name") || null;
  }

  // The sides that are numbers alone, worked out, the last first.
  function resultsOf(question) {
    const found = [];
    for (const member of [...question.members].reverse()) {
      if (!checker.isNumbers(member)) continue;
      const amount = checker.workOut(member, checker.noValue, checker.plainAmount);
      if (amount !== null) found.push([member, amount]);
    }
    return found;
  }

  function namedSlip(question, ground) {
    const head = headOf(question);
    if (head === null) return null;
    const keys = [head.name, `${head.name}_MAX`, `${head.name}_MIN`];
    const slips = ground.sheet.slips.filter((slip) => keys.includes(slip.key));
    for (const [member, amount] of resultsOf(question)) {
      let met = slips.filter((slip) => near(amount.value, slip.value, limits.SLIP_BAND));
      if (met.length === 0 && question.relations.some((relation) => relation.sign === "≈")) {
        // With ≈ what lies nearer a slip than the truth is that slip.
        const truths = [...checker.valuesOf(ground, head.name)];
        met = slips.filter((slip) => {
          const nearer = (value) => Math.abs(amount.value - slip.value) < Math.abs(amount.value - value);
          return near(amount.value, slip.value, RESULT_BAND) && truths.every(nearer);
        });
      }
      const exact = met.filter((slip) => slip.key === head.name);
      const found = exact.length > 0 ? exact : met;
      if (found.length > 0) return slipReason(found, member.columns);
    }
    return null;
  }

  function slipReason(slips, columns) {
    const ids = [...new Set(slips.map((slip) => slip.id))];
    if (ids.length > 1) {
      const names = [...new Set(slips.map((slip) => checker.plain(slip.name)))].join("; ");
      return reason(checker.say("one-of", { names: names }), columns, ids);
    }
    const slots = { name: checker.plain(slips[0].name), why: checker.plain(slips[0].why) };
    return reason(checker.say("named-slip", slots).replace(/\.+$/, ""), columns, ids);
  }

  // Prose without the marks that set formulas.
  checker.plain = function (prose) {
    return prose.split("$").join("");
  };

  function near(value, other, share) {
    return Math.abs(value - other) <= share * Math.abs(other);
  }

  // Two sides of numbers that differ: the line's own arithmetic.
  function arithmetic(question) {
    for (const [relation, left, right] of checker.linksOf(question)) {
      if (!checker.isNumbers(left) || !checker.isNumbers(right) || !checker.equates(relation.sign)) continue;
      const link = checker.question([left, right], [relation]);
      if (checker.addsUp(link)) continue;
      const a = checker.workOut(left, checker.noValue, checker.plainAmount);
      const b = checker.workOut(right, checker.noValue, checker.plainAmount);
      if (a === null || b === null) continue;
      const unit = right.node === "literal" ? right.meanings[0].unit.replace(LEFT_OUT, "") : "";
      const comes = { value: checker.write(a.value, unit, 4) };
      if (powerBetween(b.value, a.value)) {
        return reason(checker.say("power-on-left", comes), right.columns, ["power-of-ten"]);
      }
      if (near(a.value, -b.value, limits.GENERAL_BAND)) {
        return reason(checker.say("sign-lost", comes), right.columns, ["sign"]);
      }
      return reason(checker.say("arithmetic", comes), right.columns, ["arithmetic"]);
    }
    return null;
  }

  // The power of ten by which a value misses a goal, 0 when it is not that.
  function powerBetween(value, goal) {
    if (!goal) return 0;
    return limits.POWERS.find((power) => near(value, goal * Number(`1e${power}`), limits.GENERAL_BAND)) || 0;
  }

  // What the result alone shows beside the true values of the quantity: a power of ten, the sign, a wrong corner.
  function general(question, ground) {
    const head = headOf(question);
    const results = resultsOf(question);
    const first = question.members[0].node;
    if (head === null || results.length === 0 || (first !== "name" && first !== "minus")) return null;
    const [member, { value }] = results[0];
    const truths = [...new Set(checker.valuesOf(ground, head.name))];
    const stem = checker.withoutExtreme(head.name);
    const corner = stem !== head.name ? otherCorner(value, stem, ground) : null;
    for (const goal of truths) {
      if (!goal) continue;
      const power = powerBetween(value, goal);
      if (power && (corner === null || off(value, goal * Number(`1e${power}`)) <= corner[0])) {
        return reason(checker.say("prefixes", { name: head.name }), member.columns, ["power-of-ten"]);
      }
      if (near(value, -goal, limits.GENERAL_BAND)) {
        return reason(checker.say("sign-not-right"), member.columns, ["sign"]);
      }
    }
    if (corner !== null) {
      return reason(checker.say("other-corner", { name: stem, words: corner[1] }), member.columns, ["corner"]);
    }
    for (const [factor, saying, slip] of [
      [2, "out-by-two", "factor-two"],
      [0.5, "out-by-two", "factor-two"],
      [limits.ROOT_TWO, "out-by-root-two", "rms-crest"],
      [1 / limits.ROOT_TWO, "out-by-root-two", "rms-crest"],
    ]) {
      if (truths.some((goal) => near(value, factor * goal, limits.SLIP_BAND / 2))) {
        return reason(checker.say(saying), member.columns, [slip]);
      }
    }
    if (truths.some((goal) => goal && near(value * goal, 1, limits.SLIP_BAND / 2))) {
      return reason(checker.say("result-reciprocal"), member.columns, ["inverted"]);
    }
    return null;
  }

  // How far a value is from that of a symbol at the corner where it comes nearest, and the corner's words.
  function otherCorner(value, stem, ground) {
    let found = null;
    for (const [words, other] of elsewhere(ground, stem)) {
      if (!words || !near(value, other, limits.GENERAL_BAND)) continue;
      if (found === null || off(value, other) < found[0]) found = [off(value, other), words];
    }
    return found;
  }

  // By what share of a goal a value misses it.
  function off(value, goal) {
    return goal !== 0 ? Math.abs(value - goal) / Math.abs(goal) : Math.abs(value);
  }

  function* elsewhere(ground, stem) {
    for (const item of ground.cases) {
      for (const situation of checker.plainSituations(item.world)) {
        if (situation.values.has(stem)) yield [situation.words, situation.values.get(stem)];
      }
    }
  }

  // The single edit that would make the line true, tried on its symbols or on those its numbers stand for.
  function edited(question, ground, past) {
    const effort = new checker.Effort(limits.MOST_PLACES);
    const dimensionOf = (name) => checker.exponentsOf(ground, name);
    const first = ground.cases.slice(0, 1).flatMap((item) => item.world.situations.slice(0, 1));
    const names = new Set([...ground.sheet.env.keys()].filter((name) => dimensionOf(name) !== null));
    for (const situation of first) for (const name of situation.values.keys()) names.add(name);
    for (const name of ground.sheet.asked) names.add(name);
    for (const [relation, left, right] of checker.linksOf(question)) {
      // An inequality almost any edit would make true.
      if (checker.isNumbers(left) || right.node === "literal" || !checker.equates(relation.sign)) continue;
      const placeOf = (tree) => checker.trueOfCircuit(left, tree, relation.sign, ground, null, effort);
      let trees = [right];
      if (checker.isNumbers(right)) {
        const guesses = checker.symbolised(right, checker.waysToRead(right, ground, past), past);
        trees = [...firstOf(guesses, 3)].map((guess) => guess.tree);
      }
      if (trees.some((tree) => placeOf(tree) !== null)) continue;
      for (const tree of trees) {
        for (const edit of firstOf(checker.editsOf(tree, [...names], dimensionOf), limits.MOST_EDITS)) {
          const saysNothing = edit.tree.node === "name" && left.node === "name" && edit.tree.name === left.name;
          const place = saysNothing ? null : placeOf(edit.tree);
          if (place !== null && !isOfNothing(left, place, ground)) return reason(edit.words, edit.columns, [edit.kind]);
        }
      }
    }
    return null;
  }

  // Whether all that a side names is nought at a place: where nothing flows, any relation of it is right.
  function isOfNothing(node, place, ground) {
    const names = checker.namesIn([node]);
    const world = ground.around.near[0];
    return world !== undefined && names.length > 0 && names.every((name) => checker.valueIn(world, place, name) === 0);
  }

  // One number that is no value of anything here, where a given would make the line's relation true.
  function copied(question, ground, past) {
    const effort = new checker.Effort(limits.MOST_PLACES);
    for (const [relation, left, right] of checker.linksOf(question)) {
      if (checker.isNumbers(left) || !checker.isNumbers(right)) continue;
      if (right.node === "literal") return misquoted(left, right, ground);
      if (!checker.equates(relation.sign)) continue;
      const ways = checker.waysToRead(right, ground, past);
      for (const number of checker.literalsIn(right)) {
        for (const [name, value] of ground.sheet.given) {
          if (near(number.meanings[0].value, value, 1e-6)) continue;
          const guesses = checker.symbolised(right, checker.withOneAs(ways, number, name), past);
          for (const guess of firstOf(guesses, 4)) {
            const put = guess.put.filter(([tree]) => !checker.sameColumns(tree.columns, number.columns));
            if (checker.borneOut(left, { ...guess, put: put }, relation.sign, ground, past, effort)) {
              const slots = { name: name, value: told(value, name, ground) };
              return reason(checker.say("copied", slots), number.columns, ["copied"]);
            }
          }
        }
      }
    }
    return null;
  }

  function told(value, name, ground) {
    return checker.write(value, checker.unitOf(ground, name) || "", 4);
  }

  function misquoted(left, right, ground) {
    const value = left.node === "name" ? ground.sheet.given.get(left.name) : undefined;
    if (value === undefined) return null;
    const slots = { name: left.name, value: told(value, left.name, ground) };
    return reason(checker.say("misquoted", slots), right.columns, ["copied"]);
  }

  // Whether a single inequality would be true the other way round.
  function isTurned(question, ground) {
    const { TURNED, BOUND_ENDS } = Steadyrail.tables.checking.judge;
    const [first, ...others] = question.relations;
    if (others.length > 0 || BOUND_ENDS[first.sign] === undefined) return false;
    const turned = [{ ...first, sign: TURNED[first.sign] }];
    return checker.trueHere({ ...question, relations: turned }, ground) !== null;
  }

  // No reason known: what does not agree, and whether it is too large or too small.
  function plainly(question, ground) {
    const head = headOf(question);
    const results = resultsOf(question);
    if (head !== null && isTurned(question, ground)) {
      return reason(checker.say("other-way-round"), lastOf(question.members).columns);
    }
    if (head !== null && results.length > 0) {
      const [member, { value }] = results[0];
      const truths = [...checker.valuesOf(ground, head.name)];
      if (truths.some((goal) => near(value, goal, limits.SLIP_BAND / 2))) {
        // The value is right: what is wrong is the relation it is said to come from.
        const untrue = untrueRelation(question, ground);
        if (untrue !== null) return reason(checker.say("not-true"), untrue.columns);
      }
      const alike = truths.length > 0 && truths.every((goal) => goal * value > 0);
      let saying = "not-the-value";
      if (alike && truths.every((goal) => Math.abs(value) > Math.abs(goal))) saying = "too-large";
      else if (alike && truths.every((goal) => Math.abs(value) < Math.abs(goal))) saying = "too-small";
      return reason(checker.say(saying, { name: head.name }), member.columns);
    }
    const saying = checker.namesIn(question.members).length > 0 ? "not-true" : "not-equal";
    return reason(checker.say(saying), lastOf(question.members).columns);
  }

  // The first side that says a relation which does not hold of the circuit; null where every relation holds.
  function untrueRelation(question, ground) {
    for (const [relation, left, right] of checker.linksOf(question)) {
      const symbols = checker.kindOf(left) === "symbols" && checker.kindOf(right) === "symbols";
      if (symbols && checker.trueOfCircuit(left, right, relation.sign, ground) === null) return right;
    }
    return null;
  }
})();
