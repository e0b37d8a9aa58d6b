// The sheets of a level as Python wrote them (tutor/solution/sheet_json.py), joined to one sheet a problem; fetched
// when the working sheet first asks for them.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const rows = new Map(); // name of a problem -> [level, its number data]
  const joined = new Map(); // name of a problem -> its sheet
  const asked = new Set(); // addresses
  let isSought = false; // a file of sheets is on its way
  const shared = new WeakMap(); // level -> its kinds, once they are read

  function ruleOf(rule) {
    return checker.ruleOf(rule[0], rule[1], rule[2]);
  }

  function recipeOf(data, rules) {
    const picked = (places) => places.map((place) => rules[place]);
    return {
      region: data.region,
      known: data.known,
      ranges: data.ranges,
      shifts: data.shifts,
      tolerances: data.tolerances,
      rules: picked(data.rules),
      readings: data.readings.map(([index, names, places]) => ({ index: index, names: names, rules: picked(places) })),
      asks: data.asks.map((ask) => askOf(ask, rules)),
    };
  }

  function askOf(ask, rules) {
    const picked = (places) => places.map((place) => rules[place]);
    return { ...ask, inputs: picked(ask.inputs), resting: picked(ask.resting), rules: picked(ask.rules) };
  }

  // The kinds of a level with their recipes in place.
  function kindsOf(level) {
    if (!shared.has(level)) {
      const rules = level.rules.map(ruleOf);
      const recipes = level.recipes.map((data) => recipeOf(data, rules));
      const placed = (items) => items.map((item) => ({ ...item, recipe: recipes[item.recipe] }));
      const kinds = level.kinds.map((kind) => ({
        ...kind,
        symbols: new Map(Object.entries(kind.symbols)),
        symbolNames: Object.keys(kind.symbols),
        recipe: recipes[kind.recipe],
        generic: recipes[kind.generic],
        exact: kind.exact === null ? null : recipes[kind.exact],
        genericWorlds: kind.genericWorlds.map((world) => new Map(Object.entries(world))),
        demands: kind.demands.map((item) => ({ ...item, ask: askOf(item.ask, rules) })),
        branches: placed(kind.branches).map((item) => ({ ...item, sets: new Map(Object.entries(item.sets)) })),
        conventions: placed(kind.conventions),
        ends: new Map(Object.entries(kind.ends)),
      }));
      shared.set(level, kinds);
    }
    return shared.get(level);
  }

  function zipped(names, values) {
    return new Map(names.map((name, at) => [name, values[at]]));
  }

  // The sheet of one number from the data of its level and its own.
  checker.sheetOf = function (level, [place, problem, given, env, worlds, picked, slips]) {
    const kind = kindsOf(level)[place];
    return {
      ...kind,
      problem: problem,
      given: zipped(kind.given, given),
      env: zipped(kind.env, env),
      worlds: worlds.map((world) => zipped(kind.worlds, world)),
      choices: kind.choices.map((choice, at) => ({ ...choice, accepted: picked[at][0], model: picked[at][1] })),
      slips: slips.map(([at, value]) => {
        const [id, key, name, why, hint] = level.slips[at];
        return { id: id, key: key, value: value, name: name, why: why, hint: hint };
      }),
    };
  };

  // Called by each file of sheets, which is one call with one literal.
  Steadyrail.takeSheets = function (name, { level, numbers }) {
    for (const number of numbers) rows.set(number[1], [level, number]);
  };

  // The sheet of a problem by its name; null while it is not here, when its file is fetched once by a script element,
  // so that a folder opened from disk works too.
  Steadyrail.sheetFor = function (problem) {
    if (joined.has(problem)) return joined.get(problem);
    if (!rows.has(problem)) {
      fetchSheets();
      return null;
    }
    joined.set(problem, checker.sheetOf(...rows.get(problem)));
    return joined.get(problem);
  };

  // Why a problem has no sheet, in a sentence; '' while one may still come.
  Steadyrail.whyUnchecked = function (problem) {
    if (rows.has(problem) || isSought) return "";
    return (
      "Your lines are kept but not checked: what they are held against could not be fetched; " +
      "look for the folder named sheets beside this page’s folder."
    );
  };

  function fetchSheets() {
    const holder = document.getElementById("problem");
    const address = holder === null ? undefined : holder.dataset.sheets;
    if (address === undefined || asked.has(address)) return;
    asked.add(address);
    const script = document.createElement("script");
    script.src = address;
    isSought = true;
    for (const end of ["load", "error"]) {
      script.addEventListener(end, () => {
        isSought = false;
        Steadyrail.recheckWorking();
      });
    }
    document.head.appendChild(script);
  }
})();
