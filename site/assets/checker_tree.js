// Trees of a line and the dimensions of what stands in them: the counterpart of the functions of tutor/working/tree.py
// and of tutor/working/dimension_check.py. A node is what `Steadyrail.readLine` makes; a dimension is an array of
// exponents of volt, ampere, second and kelvin, null where it is open.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.dimensions;
  const PURE = [0, 0, 0, 0];
  checker.PURE = PURE;
  checker.NOWHERE = [0, 0];

  const parts = (node) => Steadyrail.reader.partsOf(node);
  checker.parts = parts;

  // Whether a relation's sign says that its members are equal, exactly or nearly; the others order them.
  checker.equates = (sign) => sign === "=" || sign === "≈";

  checker.literal = (columns, value) => ({
    node: "literal",
    columns: columns,
    meanings: [{ value: value, step: 0, exponents: null, unit: "" }],
    figures: 1,
    power: 0,
    bare: true,
  });
  checker.name = (columns, name) => ({ node: "name", columns: columns, name: name, standing: "circuit" });
  checker.minus = (columns, arg) => ({ node: "minus", columns: columns, arg: arg });
  checker.sum = (columns, terms) => ({ node: "sum", columns: columns, terms: terms });
  checker.multiplied = (columns, factors) => ({ node: "product", columns: columns, factors: factors });
  checker.quotient = (columns, over, under) => ({ node: "quotient", columns: columns, over: over, under: under });
  checker.power = (columns, base, exponent) => ({ node: "power", columns: columns, base: base, exponent: exponent });
  checker.parallel = (columns, left, right) => ({ node: "parallel", columns: columns, left: left, right: right });

  // The same kind of node, in the same columns, over other parts.
  function rebuilt(node, inner) {
    switch (node.node) {
      case "minus":
        return checker.minus(node.columns, inner[0]);
      case "sum":
        return checker.sum(node.columns, inner);
      case "product":
        return checker.multiplied(node.columns, inner);
      case "quotient":
        return checker.quotient(node.columns, inner[0], inner[1]);
      case "power":
        return checker.power(node.columns, inner[0], inner[1]);
      case "parallel":
        return checker.parallel(node.columns, inner[0], inner[1]);
      case "call":
        return { node: "call", columns: node.columns, function: node.function, args: inner };
      case "spread":
        return { node: "spread", columns: node.columns, base: inner[0], share: node.share };
      default:
        return node;
    }
  }
  checker.rebuilt = rebuilt;

  // The name of a symbol without its least or greatest: I_L of I_L_MAX.
  checker.withoutExtreme = function (name) {
    return withoutSuffix(withoutSuffix(name, "_MIN"), "_MAX");
  };

  function withoutSuffix(name, suffix) {
    return name.endsWith(suffix) ? name.slice(0, -suffix.length) : name;
  }

  // The tree with every number and symbol replaced by `leaf(it)`.
  checker.withLeaves = function (node, leaf) {
    if (node.node === "literal" || node.node === "name") return leaf(node);
    return rebuilt(node, parts(node).map((part) => checker.withLeaves(part, leaf)));
  };

  // The tree with every part at the given columns: what was put for a number stands where the number stood.
  checker.placed = function (node, columns) {
    const inner = parts(node).map((part) => checker.placed(part, columns));
    return { ...rebuilt(node, inner), columns: columns };
  };

  // Whether members, with what the learner's own symbols stand for put in, are more than can be judged.
  checker.outgrows = function (members, own) {
    const { MOST_NODES, MOST_NESTED } = Steadyrail.tables.checking.tree;
    const waiting = members.map((member) => [member, 1]);
    for (let count = 1; waiting.length > 0; count += 1) {
      const [node, depth] = waiting.pop();
      const meaning = node.node === "name" && node.standing === "own" ? own.get(node.name) : undefined;
      if (count > MOST_NODES || depth > MOST_NESTED) return true;
      if (meaning !== undefined) waiting.push([meaning, depth]);
      else for (const part of parts(node)) waiting.push([part, depth + 1]);
    }
    return false;
  };

  // The node itself, or what a minus before it stands before.
  checker.unsigned = (node) => (node.node === "minus" ? node.arg : node);

  checker.sameColumns = (a, b) => a[0] === b[0] && a[1] === b[1];

  checker.sameExponents = function (a, b) {
    if (a === null || b === null) return a === b;
    return a[0] === b[0] && a[1] === b[1] && a[2] === b[2] && a[3] === b[3];
  };

  function sameMeaning(a, b) {
    const alike = a.value === b.value && a.step === b.step && a.unit === b.unit;
    return alike && checker.sameExponents(a.exponents, b.exponents);
  }

  checker.sameMeanings = function (a, b) {
    return a.length === b.length && a.every((meaning, at) => sameMeaning(meaning, b[at]));
  };

  // Whether two trees are alike in everything, columns included.
  checker.sameTree = function (a, b) {
    if (a === b) return true;
    if (a.node !== b.node || !checker.sameColumns(a.columns, b.columns)) return false;
    if (a.node === "name") return a.name === b.name && a.standing === b.standing;
    if (a.node === "literal") {
      const alike = a.figures === b.figures && a.power === b.power && a.bare === b.bare;
      return alike && checker.sameMeanings(a.meanings, b.meanings);
    }
    const [inner, other] = [parts(a), parts(b)];
    const alike = inner.length === other.length && (a.node !== "call" || a.function === b.function);
    return alike && inner.every((part, at) => checker.sameTree(part, other[at]));
  };

  // Leaves a walk over dimensions from any depth; caught in this file alone.
  function clashing(sentence, columns) {
    return { clash: { sentence: sentence, columns: columns } };
  }

  function caught(stopped) {
    if (!stopped.clash) throw stopped;
    return stopped.clash;
  }

  // The dimension of one side, null where it is open or its parts clash.
  checker.dimensionOfMember = function (node, dimensionOf) {
    try {
      return measure(node, dimensionOf);
    } catch (stopped) {
      caught(stopped);
      return null;
    }
  };

  // The first place where the units of a chain disagree, { sentence, columns }, or null.
  checker.clashIn = function (members, relations, dimensionOf) {
    let sides = [];
    try {
      sides = members.map((member) => measure(member, dimensionOf));
    } catch (stopped) {
      return caught(stopped);
    }
    let first = null;
    for (let at = 0; at < members.length; at += 1) {
      const side = sides[at];
      if (side === null) continue;
      if (first !== null && !checker.sameExponents(side, first)) {
        const slots = { left: wordsOf(first), right: wordsOf(side) };
        return { sentence: checker.say("sides-differ", slots), columns: members[at].columns };
      }
      first = first || side;
    }
    return null;
  };

  // A dimension in words: `a current (A)`.
  function wordsOf(exponents) {
    const key = exponents.join();
    const unit = limits.units[key] || unitOf(exponents);
    if (checker.sameExponents(exponents, PURE)) return checker.say("pure");
    const kind = Steadyrail.tables.kinds[key];
    return kind ? `${kind} (${unit})` : checker.say("quantity-in", { unit: unit });
  }

  function unitOf(exponents) {
    const bases = ["V", "A", "s", "K"].map((base, at) => (exponents[at] === 1 ? base : `${base}^${exponents[at]}`));
    return bases.filter((base, at) => exponents[at] !== 0).join(" ");
  }

  // Whether a number is a pure coefficient: whole, small, without unit or prefix.
  function isCoefficient(node) {
    if (node.node !== "literal" || !node.bare || node.meanings.length !== 1) return false;
    const { value, unit } = node.meanings[0];
    return unit !== limits.LEFT_OUT && value === Math.trunc(value) && value >= 0 && value <= limits.MOST_WHOLE;
  }
  checker.isCoefficient = isCoefficient;

  // Whether a number is a pure coefficient other than nought.
  function isCount(node) {
    return isCoefficient(node) && node.meanings[0].value !== 0;
  }

  // Small whole numbers read as quantities without their unit; exponents stay pure.
  checker.withUnitsLeftOut = (members) => members.map(leftOut);

  function leftOut(node) {
    if (node.node === "literal") {
      return isCount(node) ? { ...node, meanings: [{ ...node.meanings[0], unit: limits.LEFT_OUT }] } : node;
    }
    if (node.node === "power") return { ...node, base: leftOut(node.base) };
    return rebuilt(node, parts(node).map(leftOut));
  }

  // Whether the units of a chain agree with every small whole number taken as pure.
  checker.arePure = function (members, relations, dimensionOf) {
    return checker.clashIn(members.map((member) => asPure(member, isCount)), relations, dimensionOf) === null;
  };

  // For each member, whether the numbers beside its symbols are pure: taken so, it has the unit of another member.
  checker.pureBesideSymbols = function (members, dimensionOf) {
    const isNamed = members.map((member) => checker.namesIn([member]).length > 0);
    const isMeant = (literal) => literal.bare && literal.meanings[0].value !== 0;
    const sides = members.map((member, at) => (isNamed[at] ? asPure(member, isMeant) : member));
    const measured = sides.map((side) => checker.dimensionOfMember(side, dimensionOf));
    return measured.map((mine, at) => {
      const others = measured.filter((_, other) => other !== at);
      return isNamed[at] && mine !== null && others.some((other) => checker.sameExponents(mine, other));
    });
  };

  function asPure(node, isMeant) {
    if (node.node === "literal" && isMeant(node)) {
      return { ...node, meanings: [{ ...node.meanings[0], exponents: PURE }], bare: false };
    }
    return rebuilt(node, parts(node).map((part) => asPure(part, isMeant)));
  }

  function measure(node, dimensionOf) {
    switch (node.node) {
      case "literal":
        return node.meanings[0].exponents;
      case "name":
        return dimensionOf(node.name);
      case "minus":
        return measure(node.arg, dimensionOf);
      case "spread":
        return measure(node.base, dimensionOf);
      case "sum":
        return common(node.terms, "sum-mixes", {}, dimensionOf);
      case "parallel":
        return common([node.left, node.right], "beside-mixes", {}, dimensionOf);
      case "power":
        return ofPower(node, dimensionOf);
      case "call":
        return ofCall(node, dimensionOf);
      case "quotient": {
        const [over, under] = [measure(node.over, dimensionOf), measure(node.under, dimensionOf)];
        return over === null || under === null ? null : combined(over, under, -1);
      }
      default:
        return ofProduct(node, dimensionOf);
    }
  }

  function ofProduct(node, dimensionOf) {
    let product = PURE;
    for (const factor of node.factors) {
      const side = isCoefficient(factor) && node.factors.length > 1 ? PURE : measure(factor, dimensionOf);
      product = product === null || side === null ? null : combined(product, side, 1);
    }
    // A small whole number may still be a quantity whose unit was left out (5 for 5 mA).
    return node.factors.some(isCoefficient) ? null : product;
  }

  function combined(a, b, sign) {
    return a.map((item, at) => item + sign * b[at]);
  }

  function common(nodes, saying, slots, dimensionOf) {
    let found = null;
    for (const node of nodes) {
      const side = measure(node, dimensionOf);
      if (side === null) continue;
      if (found !== null && !checker.sameExponents(side, found)) {
        throw clashing(checker.say(saying, { ...slots, left: wordsOf(found), right: wordsOf(side) }), node.columns);
      }
      found = side;
    }
    return found;
  }

  function ofPower(node, dimensionOf) {
    const exponent = measure(node.exponent, dimensionOf);
    if (exponent !== null && !checker.sameExponents(exponent, PURE)) {
      throw clashing(checker.say("exponent-not-pure", { got: wordsOf(exponent) }), node.exponent.columns);
    }
    const base = measure(node.base, dimensionOf);
    if (base === null || checker.sameExponents(base, PURE)) return base;
    const times = plainValue(node.exponent);
    if (times === null || base.some((item) => (2 * times * item) % 2 !== 0)) return null;
    return base.map((item) => Math.trunc(item * times));
  }

  // The value of an exponent written as a number, a signed one or a quotient of two.
  function plainValue(node) {
    if (node.node === "literal") return node.meanings[0].value;
    if (node.node === "minus") {
      const inner = plainValue(node.arg);
      return inner === null ? null : -inner;
    }
    if (node.node === "quotient") {
      const [over, under] = [plainValue(node.over), plainValue(node.under)];
      return over !== null && under ? over / under : null;
    }
    return null;
  }

  function ofCall(node, dimensionOf) {
    if (["min", "max", "abs"].includes(node.function)) {
      return common(node.args, "function-mixes", { function: node.function }, dimensionOf);
    }
    const inside = measure(node.args[0], dimensionOf);
    if (node.function === "sqrt") {
      if (inside === null) return null;
      if (inside.some((item) => item % 2 !== 0)) {
        throw clashing(checker.say("root-without-unit", { got: wordsOf(inside) }), node.columns);
      }
      return inside.map((item) => item / 2);
    }
    if (inside !== null && !checker.sameExponents(inside, PURE)) {
      const slots = { function: node.function, got: wordsOf(inside) };
      throw clashing(checker.say("argument-not-pure", slots), node.args[0].columns);
    }
    return PURE;
  }
})();
