// One chain judged: does it hold whatever the numbers, hold here, follow from what stood before, or fail? The
// counterpart of tutor/working/judge.py, function for function. A stand is { ground, past, ownDimensions, doubtful,
// others }, what is judged { code, why, columns, slip, members, relations, value }.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.judge;
  const boundEnds = new Map(Object.entries(limits.BOUND_ENDS));
  const { LEFT_OUT } = Steadyrail.tables.checking.dimensions;
  const ORDER = ["fails", "follows", "holds-here", "holds"];

  // The dimension of a symbol of the circuit or of the learner's own.
  checker.standDimension = function (stand) {
    return (name) => {
      const own = stand.ownDimensions.get(name);
      return own === undefined ? checker.exponentsOf(stand.ground, name) : own;
    };
  };

  // The finding on a chain, own symbols already put in. Of several readings the one that makes it true is taken.
  checker.judgeChain = function (members, relations, stand) {
    let worst = null;
    for (const reading of readingsOf(members)) {
      const clash = checker.clashIn(reading, relations, checker.standDimension(stand));
      let found = null;
      if (clash !== null) {
        const question = checker.question(reading, relations);
        const value = resultOf(question, null);
        found = { ...judged("units", clash.sentence, question, value), columns: clash.columns };
      } else {
        const pure = checker.arePure(reading, relations, checker.standDimension(stand));
        found = judgeReading(pure ? reading : checker.withUnitsLeftOut(reading), relations, stand);
      }
      if (found.code !== "fails" && found.code !== "units") return found;
      if (worst === null || (worst.code === "units" && found.code === "fails")) worst = found;
    }
    return worst;
  };

  // The members with one meaning for each number, every way.
  function readingsOf(members) {
    const unsure = members.flatMap(checker.literalsIn).filter((item) => item.meanings.length > 1);
    if (unsure.length === 0) return [members];
    const ways = checker.combinations(
      unsure.map((item) => item.meanings),
      limits.MOST_READINGS,
    );
    return [...ways].map((picked) => {
      const chosen = new Map(unsure.map((item, at) => [item.columns.join(), picked[at]]));
      return members.map((member) => withMeanings(member, chosen));
    });
  }

  function withMeanings(node, chosen) {
    return checker.withLeaves(node, (item) => {
      const meaning = item.node === "literal" ? chosen.get(item.columns.join()) : undefined;
      return meaning === undefined ? item : { ...item, meanings: [meaning] };
    });
  }

  // A chain with inequalities on both sides of a symbol is judged as two.
  function judgeReading(members, relations, stand) {
    const middle = members.findIndex((member, index) => {
      const inside = index > 0 && index < members.length - 1 && member.node === "name";
      return inside && boundEnds.has(relations[index - 1].sign) && boundEnds.has(relations[index].sign);
    });
    if (middle < 0) return judgePart(members, relations, stand);
    const first = judgePart(members.slice(0, middle + 1), relations.slice(0, middle), stand);
    const second = judgePart(members.slice(middle), relations.slice(middle), stand);
    return ORDER.indexOf(second.code) < ORDER.indexOf(first.code) ? second : first;
  }

  function judgePart(members, relations, stand) {
    const found = judgeBound(members, relations, stand);
    if (found.code !== "holds" && found.code !== "holds-here") return found;
    return endsFail(members, relations, stand) || turnedFails(members, relations, stand) || found;
  }

  // X = 9.1 V ± 5 % says X_MIN and X_MAX as well: how it fails where the problem gives other ends, else null.
  function endsFail(members, relations, stand) {
    const [head, last] = [members[0], members[members.length - 1]];
    const { given } = stand.ground.sheet;
    const equal = relations.every((relation) => checker.equates(relation.sign));
    if (last.node !== "spread" || head.node !== "name" || !equal) return null;
    const signs = [
      ["_MIN", checker.minus(last.share.columns, last.share)],
      ["_MAX", last.share],
    ];
    for (const [end, share] of signs) {
      const sum = checker.sum(last.columns, [checker.literal(last.columns, 1), share]);
      const value = checker.multiplied(last.columns, [last.base, sum]);
      const name = head.name + end;
      const chain = checker.question([{ ...head, name: name }, value], relations.slice(-1));
      if (!given.has(name) || checker.trueHere(chain, stand.ground) !== null) continue;
      const [low, high] = ["_MIN", "_MAX"].map((each) => {
        const key = head.name + each;
        return given.has(key) ? checker.write(given.get(key), checker.unitOf(stand.ground, key) || "", 4) : "?";
      });
      const why = checker.say("other-spread", { name: head.name, low: low, high: high });
      return { ...judged("fails", why, checker.question(members, relations)), columns: last.columns };
    }
    return null;
  }

  // R_L ≤ x where x is the least R_L that will do: the bound itself, turned round; null when it is no such thing.
  function turnedFails(members, relations, stand) {
    const [head, last] = [members[0], members[members.length - 1]];
    if (head.node !== "name" || !boundEnds.has(relations[0].sign) || !checker.isNumbers(last)) return null;
    const sign = limits.TURNED[relations[0].sign];
    const turned = [{ ...relations[0], sign: sign }, ...relations.slice(1)];
    if (asBound(members, relations, stand.ground) !== null) return null;
    if (asBound(members, turned, stand.ground) === null) return null;
    if (judgeBound(members, turned, stand).code !== "holds-here") return null;
    const why = checker.say("bound-turned", { name: head.name, sign: sign });
    const found = judged("fails", why, checker.question(members, relations));
    return { ...found, columns: last.columns, slip: ["bound-turned"] };
  }

  function judgeBound(members, relations, stand) {
    const bounded = asBound(members, relations, stand.ground);
    const found = judgeAs(bounded || [members, relations], stand);
    if (bounded === null || found.code !== "fails") return found;
    // A bound on the nominal value leaves room for the tolerance of the part.
    const inner = judgeAs(withTolerance(bounded, stand.ground), stand);
    if (inner.code !== "fails") return inner;
    if (!mayBePlain(members, relations, stand.ground)) return found;
    const plain = judgeAs([members, relations], stand);
    return plain.code !== "fails" ? plain : found;
  }

  // Whether an inequality between symbols may be meant as it stands: V_I ≥ V_O + V_CE_SAT is true, bound or not. Of a
  // part to be chosen it is always read as the bound.
  function mayBePlain(members, relations, ground) {
    const chosen = ground.sheet.choices.map((item) => item.quantity);
    return checker.linksOf({ members: members, relations: relations }).every(([relation, left, right]) => {
      if (!boundEnds.has(relation.sign)) return true;
      const sides = [left, right];
      return sides.every((side) => {
        return checker.kindOf(side) === "symbols" && !(side.node === "name" && chosen.includes(side.name));
      });
    });
  }

  // `R ≤ …` as R_MAX = … where a bound of that quantity is asked for: [members, relations]; null where there is none.
  function asBound(members, relations, ground) {
    const bounds = ground.around.recipe.asks.filter((ask) => ask.relation).map((ask) => ask.key);
    const [head, tail] = [members[0], members[members.length - 1]];
    const [first, last] = [relations[0], relations[relations.length - 1]];
    if (head.node === "name" && boundEnds.has(first.sign)) {
      const key = head.name + boundEnds.get(first.sign);
      if (bounds.includes(key)) {
        return [
          [{ ...head, name: key }, ...members.slice(1)],
          [{ ...first, sign: "=" }, ...relations.slice(1)],
        ];
      }
    }
    if (tail.node === "name" && boundEnds.has(last.sign)) {
      const key = tail.name + boundEnds.get(limits.TURNED[last.sign]);
      if (bounds.includes(key)) {
        return [
          [...members.slice(0, -1), { ...tail, name: key }],
          [...relations.slice(0, -1), { ...last, sign: "=" }],
        ];
      }
    }
    return null;
  }

  // A chain that speaks of a bound (R_MAX) put as one on the nominal value: R_MAX/(1 + tolerance).
  function withTolerance([members, relations], ground) {
    const spreads = new Map(ground.around.recipe.tolerances);
    function put(node) {
      const key = node.node === "name" ? spreads.get(node.name.slice(0, -4)) : undefined;
      if (key === undefined) return node;
      const spread = checker.name(node.columns, key);
      const signed = node.name.endsWith("_MIN") ? checker.minus(node.columns, spread) : spread;
      const one = checker.literal(node.columns, 1);
      return checker.quotient(node.columns, node, checker.sum(node.columns, [one, signed]));
    }
    return [[put(members[0]), ...members.slice(1, -1), put(members[members.length - 1])], relations];
  }

  // Whether a side speaks of symbols, with no numbers beside them but pure ones.
  function isOfSymbols(node) {
    const pure = (item) => item.bare && item.meanings.length === 1 && item.meanings[0].unit !== LEFT_OUT;
    return checker.literalsIn(node).every(pure) && checker.namesIn([node]).length > 0;
  }

  function judgeAs([members, relations], stand) {
    const ground = stand.ground;
    const exact = checker.exactValues(ground.sheet.given, ground.choices);
    const question = checker.question(members, relations, exact, slipsNear(members, ground));
    const symbols = members.every((member) => checker.kindOf(member) === "symbols");
    if (symbols) return judgeSymbols(question, stand);
    const whole = (member) => member.node === "literal" && checker.isCoefficient(member);
    if (members.every((member) => whole(member) || isOfSymbols(member))) {
      // Pure numbers may belong to a relation between symbols: (V_I − V_Z)/(I_R R) = 1, and I_SEC = 1.8 I_L.
      const places = checker.linksOf(question).map(([relation, left, right]) => {
        return checker.trueOfCircuit(left, right, relation.sign, ground);
      });
      if (places.every((place) => place !== null)) {
        return judged("holds", at(ground, places[0]), question, resultOf(question, null));
      }
    }
    const pure = checker.pureBesideSymbols(members, checker.standDimension(stand));
    return judgeNumbers({ ...question, pure: pure }, stand);
  }

  function judgeSymbols(question, stand) {
    const { ground, past, others } = stand;
    const places = checker.linksOf(question).map(([relation, left, right]) => {
      return checker.trueOfCircuit(left, right, relation.sign, ground);
    });
    if (places.every((place) => place !== null)) return judged("holds", at(ground, places[0]), question);
    const near = checker.approximationTold(question, ground, others);
    if (near) return judged("holds-here", near, question);
    // Each link is true of the circuit or compares two quantities, as I_Z > 2 I_L does: so with some numbers.
    const compares = question.relations.every((relation, at) => places[at] !== null || !checker.equates(relation.sign));
    const here = compares ? checker.trueHere(question, ground) : null;
    if (here !== null) return judged("holds-here", told(here), question);
    if (checker.follows(question, ground, past, others) !== null) {
      return judged("follows", checker.say("own-relation"), question);
    }
    return failed(question, stand);
  }

  function judgeNumbers(question, stand) {
    const { ground, past, others } = stand;
    const truth = symbolsTrue(question, stand, ground) ? checker.trueHere(question, ground) : null;
    if (truth !== null) {
      const value = resultOf(question, truth.scaling);
      if (question.members.every(checker.isNumbers) && checker.restsOnWrong(question, past)) {
        return judged("follows", checker.say("own-values"), question, value);
      }
      if (stand.doubtful && truth.case.taken) {
        return judged("follows", checker.say("chosen-value"), question, value);
      }
      return judged("holds-here", told(truth), question, value);
    }
    for (const [convention, other] of others) {
      if (!convention.approximate || !symbolsTrue(question, stand, other)) continue;
      const bent = checker.trueHere(question, other);
      const error = bent === null ? "" : checker.valueErrorTold(question, convention, ground, other, bent);
      if (error) return judged("holds-here", error, question, resultOf(question, null));
    }
    const follow = checker.follows(question, ground, past, others);
    if (follow !== null) {
      return judged("follows", checker.say("own-values"), question, resultOf(question, follow.scaling));
    }
    return failed(question, stand);
  }

  // Whether the links between symbols alone are true whatever the numbers; fitting these numbers is not enough.
  function symbolsTrue(question, stand, ground) {
    return checker.linksOf(question).every(([relation, left, right]) => {
      if (checker.kindOf(left) !== "symbols" || checker.kindOf(right) !== "symbols") return true;
      if (checker.trueOfCircuit(left, right, relation.sign, ground) !== null) return true;
      const link = checker.question([left, right], [relation]);
      return checker.approximationTold(link, stand.ground, stand.others) !== "";
    });
  }

  function failed(question, stand) {
    const reason = checker.reasonFor(question, stand.ground, stand.past, stand.others);
    const found = judged("fails", reason.why, question, resultOf(question, null));
    return { ...found, columns: reason.columns, slip: reason.slip };
  }

  function judged(code, why, question, value) {
    return {
      code: code,
      why: why,
      columns: null,
      slip: [],
      members: question.members,
      relations: question.relations,
      value: value === undefined ? null : value,
    };
  }

  // What a chain comes to in SI: its last member (before an inequality) worked out when that is a number.
  function resultOf(question, scaling) {
    const last = checker.valueMember(question);
    if (!checker.isNumbers(last)) return null;
    const amount = checker.workOut(last, checker.noValue, checker.plainAmount);
    if (amount === null) return null;
    const power = scaling === null ? 0 : last.node === "literal" ? scaling.last : scaling.whole;
    const bare = checker.literalsIn(last).every((item) => item.bare);
    return power && bare ? amount.value * Number(`1e${power}`) : amount.value;
  }

  function told(truth) {
    let words = truth.words;
    if (words && !words.startsWith(checker.say("with", { told: "" }))) words = checker.say("at", { words: words });
    return [words, truth.supplied ? checker.say("write-units") : ""].filter((item) => item !== "").join("; ");
  }

  // The corner at which symbols are true, where it matters.
  function at(ground, place) {
    const worlds = ground.around.near;
    if (place === null || place.other >= 0 || worlds.length === 0) return "";
    if (place.situation >= worlds[0].situations.length) return "";
    const words = worlds[0].situations[place.situation].words;
    return place.situation && words ? checker.say("at", { words: words }) : "";
  }

  // The known slips of the quantity a chain speaks of: its true value beside each slip's.
  function slipsNear(members, ground) {
    const { slips, choices } = ground.sheet;
    const keys = keysOf(members, ground);
    const known = slips.filter((slip) => keys.includes(slip.key));
    if (known.length === 0) return [];
    const view = ground.once("model", () => {
      return ground.worldWith(new Map(choices.map((item) => [item.key, item.model]))).views[0];
    });
    return known.filter((slip) => view.has(slip.key)).map((slip) => [view.get(slip.key), slip.value]);
  }

  // Under which keys the head of a chain may be asked: itself, or one of its bounds.
  function keysOf(members, ground) {
    const head = members.map(checker.unsigned).find((node) => node.node === "name");
    if (head === undefined) return [];
    const keys = new Set([...ground.sheet.slips.map((slip) => slip.key), ...ground.sheet.asked]);
    return [...keys].filter((key) => [head.name, `${head.name}_MAX`, `${head.name}_MIN`].includes(key));
  }
})();
