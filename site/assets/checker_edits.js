// Single edits of a tree, each undoing one ordinary slip: a wrong line that one of them heals shows what went wrong.
// The counterpart of tutor/working/edits.py, function for function; an edit is { tree, kind, words, columns }.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});

  function edit(tree, kind, words, columns) {
    return { tree: tree, kind: kind, words: words, columns: columns };
  }

  // Every single edit of a tree, the commonest slips first; `names` are symbols that may have been left out.
  checker.editsOf = function* (node, names, dimensionOf) {
    yield* everywhere(node, signs);
    yield* everywhere(node, swapped);
    yield* everywhere(node, (part) => symbols(part, names, dimensionOf));
    yield* everywhere(node, (part) => leftOut(part, names, dimensionOf));
    yield* everywhere(node, tooMany);
    yield* whole(node);
  };

  // An edit of the tree itself or of any part of it, put back in its place.
  function* everywhere(node, change) {
    yield* change(node);
    const inner = checker.parts(node);
    for (let index = 0; index < inner.length; index += 1) {
      for (const one of everywhere(inner[index], change)) {
        const healed = checker.rebuilt(node, exchanged(inner, index, [one.tree]));
        yield edit(healed, one.kind, one.words, one.columns);
      }
    }
  }

  function exchanged(items, index, others) {
    return [...items.slice(0, index), ...others, ...items.slice(index + 1)];
  }

  // A short name for a part: its symbol, or 'this term'.
  function textOf(node) {
    const inner = checker.unsigned(node);
    return inner.node === "name" ? inner.name : checker.say("this-term");
  }

  function* signs(node) {
    if (node.node === "sum") {
      for (let index = 0; index < node.terms.length; index += 1) {
        const term = node.terms[index];
        const turned = term.node === "minus" ? term.arg : checker.minus(term.columns, term);
        const tree = checker.sum(node.columns, exchanged(node.terms, index, [turned]));
        yield edit(tree, "sign", checker.say("sign-turned", { part: textOf(term) }), term.columns);
      }
    } else if (node.node === "minus") {
      yield edit(node.arg, "sign", checker.say("sign-turned", { part: textOf(node) }), node.columns);
    }
  }

  function* swapped(node) {
    const columns = node.columns;
    if (node.node === "quotient") {
      const { over, under } = node;
      yield edit(checker.quotient(columns, under, over), "inverted", checker.say("upside-down"), columns);
      const words = checker.say("multiplies-here", { part: textOf(under) });
      yield edit(checker.multiplied(columns, [over, under]), "inverted", words, under.columns);
    }
    if (node.node === "product" && node.factors.length === 2) {
      const [first, second] = node.factors;
      for (const [over, under] of [
        [first, second],
        [second, first],
      ]) {
        const words = checker.say("divides-here", { part: textOf(under) });
        yield edit(checker.quotient(columns, over, under), "inverted", words, under.columns);
      }
    }
    if (node.node === "parallel") {
      yield edit(checker.sum(columns, [node.left, node.right]), "parallel", checker.say("in-series"), columns);
    }
    if (node.node === "sum" && node.terms.length === 2 && !node.terms.some((term) => term.node === "minus")) {
      const tree = checker.parallel(columns, node.terms[0], node.terms[1]);
      yield edit(tree, "parallel", checker.say("side-by-side"), columns);
    }
    if (node.node === "power") {
      yield edit(node.base, "square", checker.say("not-squared", { part: textOf(node.base) }), columns);
    }
  }

  function* symbols(node, names, dimensionOf) {
    if (node.node !== "name") return;
    const own = dimensionOf(node.name);
    const stem = checker.withoutExtreme(node.name);
    const ranked = [
      ...names.filter((name) => name.startsWith(stem)),
      ...names.filter((name) => !name.startsWith(stem)),
    ];
    for (const name of ranked) {
      if (name === node.name || !checker.sameExponents(dimensionOf(name), own)) continue;
      const kind = checker.withoutExtreme(name) === stem ? "corner" : "symbol";
      const words = checker.say("belongs-here", { right: name, wrong: node.name });
      yield edit(checker.name(node.columns, name), kind, words, node.columns);
    }
    const squared = checker.power(node.columns, node, checker.literal(node.columns, 2));
    yield edit(squared, "square", checker.say("to-be-squared", { name: node.name }), node.columns);
  }

  // A term missing from a sum, or beside a lone symbol or quotient that should be a sum.
  function* leftOut(node, names, dimensionOf) {
    if (!["sum", "name", "quotient", "product"].includes(node.node)) return;
    const isSum = node.node === "sum";
    const terms = isSum ? node.terms : [node];
    const dimension = dimensionOfPart(terms[0], dimensionOf);
    const present = terms.map(textOf);
    for (const name of names) {
      if (present.includes(name)) continue;
      if (dimension === null ? !isSum : !checker.sameExponents(dimensionOf(name), dimension)) continue;
      const added = checker.name(node.columns, name);
      for (const term of [added, checker.minus(node.columns, added)]) {
        const tree = checker.sum(node.columns, [...terms, term]);
        yield edit(tree, "left-out", checker.say("left-out", { name: name }), node.columns);
      }
    }
    if (dimension !== null && checker.sameExponents(dimension, checker.PURE) && node.node === "name") {
      const tree = checker.sum(node.columns, [node, checker.literal(node.columns, 1)]);
      yield edit(tree, "left-out", checker.say("one-left-out", { name: node.name }), node.columns);
    }
  }

  function dimensionOfPart(node, dimensionOf) {
    const inner = checker.unsigned(node);
    if (inner.node === "name") return dimensionOf(inner.name);
    if (inner.node === "quotient") {
      const over = dimensionOfPart(inner.over, dimensionOf);
      const under = dimensionOfPart(inner.under, dimensionOf);
      return over === null || under === null ? null : over.map((item, at) => item - under[at]);
    }
    return inner.node === "sum" ? dimensionOfPart(inner.terms[0], dimensionOf) : null;
  }

  function* tooMany(node) {
    const does = (part) => checker.say("not-here", { part: textOf(part) });
    const isSum = node.node === "sum";
    if (isSum || node.node === "product") {
      const inner = checker.parts(node);
      for (let index = 0; index < inner.length; index += 1) {
        const kept = exchanged(inner, index, []);
        const tree = kept.length === 1 ? kept[0] : checker.rebuilt(node, kept);
        yield edit(tree, "too-many", does(inner[index]), inner[index].columns);
      }
    }
    if (node.node === "quotient") yield edit(node.over, "too-many", does(node.under), node.under.columns);
  }

  function* whole(node) {
    const columns = node.columns;
    yield edit(checker.minus(columns, node), "sign", checker.say("whole-sign-turned"), columns);
    const two = checker.literal(columns, 2);
    yield edit(checker.quotient(columns, node, two), "factor-two", checker.say("twice-too-large"), columns);
    yield edit(checker.multiplied(columns, [two, node]), "factor-two", checker.say("only-half"), columns);
    const one = checker.literal(columns, 1);
    yield edit(checker.quotient(columns, one, node), "inverted", checker.say("reciprocal"), columns);
  }
})();
