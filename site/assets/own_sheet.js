// The sheet that a working on somebody's own numbers is held against, made from these numbers: the counterpart of
// tutor/solution/own_sheet.py, where the region and its roots are already found. All but the numbers came from Python.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const own = (Steadyrail.own = Steadyrail.own || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const MOST_ROOTS = 4; // quadratics of which both roots are tried

  function valuesOf(names, values) {
    return new Map(names.filter((name) => values.has(name)).map((name) => [name, values.get(name)]));
  }

  // All that follows from some numbers, readings included; what was given keeps the value given.
  function valuesAt(recipe, numbers) {
    let found = new Map(numbers);
    for (const ask of recipe.asks) found = checker.applyRules(ask.rules, found);
    const start = valuesOf(recipe.known, found);
    found = new Map([...found, ...checker.applyRules(recipe.rules, start), ...numbers]);
    for (const { index, names, rules } of recipe.readings) {
      const told = names.filter((name) => found.has(`${name}_${index}`));
      const parts = new Map([...start].filter(([name]) => !told.includes(name)));
      const read = new Map([...parts, ...told.map((name) => [name, found.get(`${name}_${index}`)])]);
      for (const [name, value] of checker.applyRules(rules, read)) {
        if (!parts.has(name) && !found.has(`${name}_${index}`)) found.set(`${name}_${index}`, value);
      }
    }
    return found;
  }

  // The recipe with the other root taken of some quantities: the same polynomial, every sign in it changed.
  function withRoots(recipe, others) {
    if (!others.size) return recipe;
    const turn = (rule) => ({ ...rule, coefficients: rule.coefficients.map((item) => ["-", item]) });
    const turned = (rules) => rules.map((rule) => (rule.expr === null && others.has(rule.target) ? turn(rule) : rule));
    const over = (items) => items.map((item) => ({ ...item, rules: turned(item.rules) }));
    return { ...recipe, rules: turned(recipe.rules), asks: over(recipe.asks), readings: over(recipe.readings) };
  }

  // The quantities whose other root is the one in the state found; of several ways that agree, the first.
  function otherRoots(recipe, env, values) {
    const rules = [recipe, ...recipe.asks, ...recipe.readings].flatMap((item) => item.rules);
    const several = new Set(rules.filter((rule) => rule.expr === null).map((rule) => rule.target));
    const names = [...several].slice(0, MOST_ROOTS);
    for (let pick = 0; pick < 2 ** names.length; pick += 1) {
      const others = new Set(names.filter((name, at) => (pick >> at) & 1));
      if (own.alike(valuesAt(withRoots(recipe, others), env), values)) return others;
    }
    return new Set();
  }

  // Worlds near the numbers: each of `names` moved a little; none where moving them would break a law.
  function near(recipe, names, env, plan) {
    const moved = (row) => new Map(names.map((name, at) => [name, env.get(name) * row[at]]));
    const worlds = Steadyrail.ownData.shifts.map(moved);
    const laws = plan.laws.map((place) => Steadyrail.ownData.laws[place]);
    return worlds.some((world) => own.brokenLaw(laws, valuesAt(recipe, world), []) !== null) ? [] : worlds;
  }

  // The sheet of a set with its numbers and the ratings known beside them (Maps, SI), in the state found; null where
  // the checker is not here or nothing can be checked.
  own.sheetOf = function (set, numbers, ratings, state) {
    const place = set.sheets[state.plan.region];
    if (place === undefined || !checker.sheetOf) return null;
    const { sheets, standing } = Steadyrail.ownData;
    const kind = sheets.kinds[place];
    const held = kind.env.map((name) => (numbers.has(name) ? numbers.get(name) : standing[name]));
    const sheet = checker.sheetOf(sheets, [place, "", held, held, [], [], []]);
    const others = otherRoots(sheet.recipe, sheet.env, state.values);
    const recipe = withRoots(sheet.recipe, others);
    return {
      ...sheet,
      given: new Map([...sheet.given, ...ratings]),
      env: new Map([...sheet.env, ...ratings]),
      recipe: recipe,
      worlds: near(recipe, kind.worlds, sheet.env, state.plan),
      conventions: sheet.conventions.map((item) => ({ ...item, recipe: withRoots(item.recipe, others) })),
    };
  };
})();
