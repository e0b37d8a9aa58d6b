// Numbers read back as the symbols they stand for, so that a substituted line shows the relation behind it. The
// counterpart of tutor/working/symbolise.py, function for function. A past is { values, relations, parts, own, wrong },
// a guess { tree, put, comesTo }, ways are pairs [literal, [[tree, value], …]].
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.symbolise;
  const { MOST_BAND } = Steadyrail.tables.checking.amount;

  // Values as the learner has them: written ones first, then those by the learner's own relations, then the truth.
  // `without` names a symbol whose written value is left aside.
  checker.overlayOf = function (past, withValues, without) {
    const values = new Map(withValues ? past.values : []);
    if (without) values.delete(without);
    return function (world, place, name) {
      if (values.has(name)) return values.get(name);
      const relation = past.relations.get(name);
      if (relation !== undefined) {
        const valueOf = (other) => (values.has(other) ? values.get(other) : checker.valueIn(world, place, other));
        const found = checker.workOut(relation, valueOf, checker.plainAmount);
        if (found !== null) return found.value;
      }
      return checker.valueIn(world, place, name);
    };
  };

  // For each number of a tree what it may stand for, likelier candidates first.
  checker.waysToRead = function (node, ground, past) {
    const pool = [...poolOf(ground, past)];
    const numbers = checker.literalsIn(node);
    const inUnits = !numbers.every((literal) => literal.bare);
    return numbers.map((literal) => [literal, meant(literal, pool, ground, inUnits)]);
  };

  // The ways to take one item of each list, the last list turning fastest, no more than so many.
  checker.combinations = function* (lists, most) {
    if (lists.some((list) => list.length === 0)) return;
    const at = lists.map(() => 0);
    for (let count = 0; count < most; count += 1) {
      yield lists.map((list, place) => list[at[place]]);
      let turning = lists.length - 1;
      while (turning >= 0 && at[turning] === lists[turning].length - 1) at[turning--] = 0;
      if (turning < 0) return;
      at[turning] += 1;
    }
  };

  // Places in lists of these sizes, one of each: all first ones, then those with one second among them, and on.
  checker.likelierFirst = function* (sizes) {
    if (sizes.some((size) => size === 0)) return;
    const room = roomOf(sizes);
    for (let steps = 0; steps <= room; steps += 1) yield* stepsBack(sizes, steps);
  };

  // Places that are so many steps from the first of each list, taken together; the last lists step first.
  function* stepsBack(sizes, steps) {
    if (sizes.length === 0) {
      yield [];
      return;
    }
    const others = sizes.slice(1);
    const most = Math.min(steps, sizes[0] - 1);
    for (let here = Math.max(0, steps - roomOf(others)); here <= most; here += 1) {
      for (const rest of stepsBack(others, steps - here)) yield [here, ...rest];
    }
  }

  function roomOf(sizes) {
    return sizes.reduce((room, size) => room + size - 1, 0);
  }

  // The tree with candidates put for its numbers, likelier ones first; nothing when a number stands for nothing.
  checker.symbolised = function* (node, ways, past) {
    let count = 0;
    for (const places of checker.likelierFirst(ways.map(([, found]) => found.length))) {
      if (count >= limits.MOST_GUESSES) return;
      count += 1;
      const pairs = ways.map(([literal, found], at) => [literal.columns, ...found[places[at]]]);
      const chosen = new Map(pairs.map(([columns, tree]) => [columns.join(), checker.placed(tree, columns)]));
      const put = pairs.filter(([, tree]) => !isPart(tree, past)).map(([, tree, value]) => [tree, value]);
      const written = new Map(pairs.map(([columns, , value]) => [columns.join(), value]));
      yield { tree: replaced(node, chosen), put: put, comesTo: comesTo(node, written) };
    }
  };

  // The same ways with one number read as a symbol, whatever its value.
  checker.withOneAs = function (ways, number, name) {
    const asName = [[checker.name(number.columns, name), number.meanings[0].value]];
    return ways.map(([literal, found]) => [literal, literal === number ? asName : found]);
  };

  // Whether a candidate is a number itself, or an expression whose value is the learner's by definition.
  function isPart(tree, past) {
    return tree.node === "literal" || past.parts.some(([part]) => part === tree);
  }

  function comesTo(node, written) {
    const found = checker.workOut(node, checker.noValue, (literal) => {
      const value = written.get(literal.columns.join());
      return checker.amount(value, 0, Math.abs(value));
    });
    return found === null ? null : found.value;
  }

  // Whether a guess is true whatever the numbers at a place where its symbols have the values written.
  checker.borneOut = function (left, guess, sign, ground, past, effort) {
    const overlay = checker.overlayOf(past, true);
    for (const place of checker.truePlaces(left, guess.tree, sign, ground, null, effort)) {
      const cases = likeNear(ground);
      if (cases.length === 0 || cases.some((item) => fits(guess, item, place, overlay))) return true;
    }
    return false;
  };

  // Cases laid out as the worlds near by, so that a place means the same in both.
  function likeNear(ground) {
    const near = ground.around.near;
    if (near.length === 0) return [];
    return ground.cases.filter((item) => item.world.situations.length === near[0].situations.length);
  }

  function fits(guess, item, place, overlay) {
    return guess.put.every(([tree, written]) => {
      const found = checker.workOut(tree, (name) => overlay(item.world, place, name), checker.plainAmount);
      const room = 2 * limits.NAMED * Math.abs(written) + checker.rounding(written, 0);
      return found !== null && !(Math.abs(found.value - written) > room);
    });
  }

  function replaced(node, chosen) {
    return checker.withLeaves(node, (leaf) => chosen.get(leaf.columns.join()) || leaf);
  }

  // What a number may stand for, with the value written: candidates of its value, or itself when it is pure. Where the
  // other numbers have their units (`inUnits`) a 2 without one is likelier a 2 than two volts.
  function meant(literal, pool, ground, inUnits) {
    const itself = [literal, literal.meanings[0].value];
    let found = matching(literal, pool);
    if (checker.isCoefficient(literal) && inUnits && itself[1] !== 0) {
      found = [itself, ...found];
    } else if (checker.isCoefficient(literal) || literal.meanings[0].unit === "%") {
      found = [...found.slice(0, limits.MOST_FOR_ONE - 1), itself];
    }
    if (found.length === 0) found = matching(literal, paired(pool.slice(0, limits.MOST_PAIRED)));
    if (found.length === 0) found = asChoice(literal, ground);
    if (found.length === 0 && (literal.bare || literal.meanings[0].value === 0)) found = [itself];
    return found.slice(0, limits.MOST_FOR_ONE);
  }

  // Candidates of a number's value: those that it is to the figures written, then those that are near.
  function matching(literal, pool) {
    const exact = [];
    const near = [];
    for (const meaning of literal.meanings) {
      for (const [tree, value, exponents] of pool) {
        for (const lift of literal.bare ? limits.HAND_PREFIXES : [1]) {
          const written = meaning.value * lift;
          const away = Math.abs(written - value);
          if (away > MOST_BAND * Math.abs(value)) continue;
          const open = meaning.exponents === null || exponents === null;
          if (!open && !checker.sameExponents(meaning.exponents, exponents)) continue;
          const figure = Math.min(checker.rounding(value, meaning.step), Math.abs(meaning.step / 2));
          const room = Math.max(limits.NAMED * Math.abs(value), figure);
          const isIt = value !== 0 ? away <= room : written === 0;
          if (!isIt || [...exact, ...near].some(([other]) => checker.sameTree(tree, other))) continue;
          const figures = Math.abs(meaning.step * lift) / 2 + limits.FLOAT_ROOM * Math.abs(value);
          (away <= figures ? exact : near).push([tree, written]);
        }
        if (exact.length >= limits.MOST_FOR_ONE) return exact;
      }
    }
    return [...exact, ...near].slice(0, limits.MOST_FOR_ONE);
  }

  // Sums and differences of two quantities of a kind, and a gain with its 1.
  function* paired(pool) {
    const nowhere = checker.NOWHERE;
    const one = checker.literal(nowhere, 1);
    for (const [tree, value, exponents] of pool) {
      if (exponents === null || !checker.sameExponents(exponents, checker.PURE)) continue;
      yield [checker.sum(nowhere, [tree, one]), value + 1, checker.PURE];
      yield [checker.sum(nowhere, [one, checker.minus(nowhere, tree)]), 1 - value, checker.PURE];
    }
    for (let i = 0; i < pool.length; i += 1) {
      const [first, a, kind] = pool[i];
      for (let j = 0; j < pool.length; j += 1) {
        const [second, b, other] = pool[j];
        if (i === j || kind === null || !checker.sameExponents(kind, other)) continue;
        yield [checker.sum(nowhere, [first, checker.minus(nowhere, second)]), a - b, kind];
        if (a <= b) yield [checker.sum(nowhere, [first, second]), a + b, kind];
      }
    }
  }

  // A number that is nothing known may be a choice that was never said to be one.
  function asChoice(literal, ground) {
    const meaning = literal.meanings[0];
    for (const choice of ground.sheet.choices) {
      const exponents = checker.exponentsOf(ground, choice.quantity);
      const agrees = meaning.exponents === null || checker.sameExponents(meaning.exponents, exponents);
      if (!choice.load && !ground.choices.has(choice.key) && agrees) {
        return [[checker.name(literal.columns, choice.quantity), meaning.value]];
      }
    }
    return [];
  }

  // The dimension of a symbol of the sheet, suffixed or not; null for one it does not know.
  checker.exponentsOf = function (ground, name) {
    const unit = checker.unitOf(ground, name);
    return unit === null ? null : Steadyrail.tables.units[unit].exponents;
  };

  // The unit code of a symbol of the sheet, suffixed or not.
  checker.unitOf = function (ground, name) {
    const unit = ground.sheet.symbols.get(name);
    if (unit !== undefined) return unit;
    return checker.isSymbol(name) ? checker.unitOfSymbol(name) : null;
  };

  // Candidates with their values: the learner's own first, then givens and choices, then all that is true here.
  function* poolOf(ground, past) {
    for (const [tree, value] of [...past.parts].reverse()) yield [tree, value, null];
    const seen = new Map();
    for (const source of sourcesOf(ground, past)) {
      for (const [name, value] of source) {
        if (!seen.has(name)) seen.set(name, new Set());
        // Where the symbol without its least or greatest has the value already it stands for both.
        const asPlain = seen.get(checker.withoutExtreme(name));
        if (seen.get(name).has(value) || (asPlain !== undefined && asPlain.has(value))) continue;
        seen.get(name).add(value);
        const symbol = checker.name(checker.NOWHERE, name);
        const exponents = checker.exponentsOf(ground, name);
        // The number of (−452 Ω) is written without its sign, so what it stands for is −R.
        yield value >= 0 ? [symbol, value, exponents] : [checker.minus(checker.NOWHERE, symbol), -value, exponents];
      }
    }
  }

  function* sourcesOf(ground, past) {
    yield new Map([...past.values].reverse());
    yield ground.sheet.env;
    yield ground.choices;
    for (const { world } of ground.cases.slice(0, 2)) {
      for (const situation of checker.plainSituations(world)) yield situation.values;
      yield world.views[0];
    }
  }

  // Every value that a symbol has somewhere in the problem's own worlds, those asked for first.
  checker.valuesOf = function* (ground, name) {
    for (const { world } of ground.cases) {
      for (const view of world.views) if (view.has(name)) yield view.get(name);
      for (const situation of checker.plainSituations(world)) {
        if (situation.values.has(name)) yield situation.values.get(name);
      }
    }
  };
})();
