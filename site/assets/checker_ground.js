// What a line is held against: the problem's own world, worlds near it, and worlds of the bare circuit. The counterpart
// of tutor/working/ground.py, method for method. A place is { situation, other, view, sizes }, a case { world, words,
// taken }.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.ground;

  function samePicks(a, b) {
    return a.size === b.size && [...a].every(([key, pick]) => b.has(key) && b.get(key).join() === pick.join());
  }

  function models(sheet) {
    return new Map(sheet.choices.map((item) => [item.key, item.model]));
  }

  // The worlds around a problem's own, which no choice of the learner's moves: worked out when first needed.
  class Around {
    constructor(sheet, recipe, sets) {
      this.sheet = sheet;
      this.recipe = recipe;
      this.sets = sets || new Map(); // what holds instead of the problem's values, under a hypothesis
      this.kept = new Map();
    }

    once(name, make) {
      if (!this.kept.has(name)) this.kept.set(name, make());
      return this.kept.get(name);
    }

    // Worlds near the problem's own in which the same corners decide what is asked: there the same lines hold.
    get near() {
      return this.once("near", () => {
        const sheet = this.sheet;
        const own = checker.expand(this.recipe, checker.merged(sheet.env, models(sheet), this.sets), sheet.ends);
        const found = [];
        for (const env of sheet.worlds) {
          const world = checker.expand(this.recipe, checker.merged(env, this.sets), sheet.ends);
          if (samePicks(world.picks, own.picks) && found.length < limits.MOST_WORLDS) {
            found.push(withShifts(world, this.recipe));
          }
        }
        return found;
      });
    }

    // Worlds of the bare circuit, where the problem leaves quantities open.
    get generic() {
      return this.once("generic", () => this.bare(this.sheet.generic));
    }

    // The same with nothing neglected, where the problem neglects something.
    get exact() {
      return this.once("exact", () => (this.sheet.exact === null ? [] : this.bare(this.sheet.exact)));
    }

    bare(recipe) {
      if (this.sets.size > 0) return [];
      const { genericWorlds, ends } = this.sheet;
      const envs = genericWorlds.slice(0, limits.MOST_WORLDS);
      return envs.map((env) => withShifts(checker.expand(recipe, env, ends), recipe));
    }
  }

  // Everything a line is held against, under one recipe, with the learner's choices.
  class Ground {
    constructor(around, choices) {
      this.around = around;
      this.choices = choices;
      this.kept = new Map();
    }

    once(name, make) {
      if (!this.kept.has(name)) this.kept.set(name, make());
      return this.kept.get(name);
    }

    get sheet() {
      return this.around.sheet;
    }

    // The problem's own world: as given, then with the learner's choices, then with those that would do.
    get cases() {
      return this.once("cases", () => {
        const sheet = this.sheet;
        const found = [{ world: this.world(sheet.env), words: "", taken: false }];
        if (this.choices.size > 0) {
          const world = this.world(checker.merged(sheet.env, this.choices));
          found.push({ world: world, words: "", taken: true });
        }
        if (sheet.choices.some((item) => !this.choices.has(item.key))) found.push(this.supposing(models(sheet)));
        return found;
      });
    }

    // The problem's own world with each further value that would do for a choice not yet taken.
    get rarerCases() {
      return this.once("rarer", () => {
        const found = [];
        for (const item of this.sheet.choices) {
          if (this.choices.has(item.key) || item.load) continue;
          for (const value of item.accepted.slice(-limits.MOST_ACCEPTED)) {
            if (value === item.model) continue;
            found.push(this.supposing(checker.merged(models(this.sheet), new Map([[item.key, value]]))));
          }
        }
        return found;
      });
    }

    supposing(picked) {
      const told = this.sheet.choices
        .filter((item) => !this.choices.has(item.key) && !item.load)
        .map((item) => {
          const value = checker.write(picked.get(item.key), this.sheet.symbols.get(item.key));
          return checker.say("equals", { name: item.key, value: value });
        });
      const world = this.world(checker.merged(this.sheet.env, picked, this.choices));
      const words = told.length > 0 ? checker.say("with", { told: told.join(", ") }) : "";
      return { world: world, words: words, taken: false };
    }

    // The problem's own world with these choices and no others.
    worldWith(choices) {
      return this.world(checker.merged(this.sheet.env, choices));
    }

    world(env) {
      const { recipe, sets } = this.around;
      return withShifts(checker.expand(recipe, checker.merged(env, sets), this.sheet.ends), recipe);
    }
  }

  checker.aroundOf = (sheet, recipe, sets) => new Around(sheet, recipe, sets);
  checker.groundOf = (around, choices) => new Ground(around, choices);

  // The world with further situations at its end: the first one with one base moved, for changes along it.
  function withShifts(world, recipe) {
    const first = world.situations[0].values;
    const known = new Map();
    for (const name of recipe.known) if (first.has(name)) known.set(name, first.get(name));
    const moved = [];
    for (const [name, value] of known) {
      if (!value) continue;
      const start = checker.merged(known, new Map([[name, value * limits.SHIFT]]));
      const values = checker.applyRules(recipe.rules, start);
      moved.push({ words: checker.say("moved", { name: name }), values: values });
    }
    const situations = [...world.situations, ...moved];
    return { ...world, situations: situations, moved: moved.length };
  }

  // The situations of a world that are no more than moved for changes left out.
  checker.plainSituations = function (world) {
    return world.situations.slice(0, world.situations.length - world.moved);
  };

  // Where a line that speaks of `names` may stand in a world.
  checker.placesIn = function* (world, names) {
    const plain = world.situations.length - world.moved;
    for (let view = 0; view < world.views.length; view += 1) {
      for (let situation = 0; situation < plain; situation += 1) {
        yield { situation: situation, other: -1, view: view, sizes: false };
      }
    }
    const changes = names.filter(checker.isChange);
    const open = changes.filter((name) => !world.views[0].has(name));
    if (open.length === 0) return;
    const pairs = [];
    for (let at = plain; at < world.situations.length; at += 1) pairs.push([0, at]);
    const apart = plain - world.marked;
    for (let first = 0; first < apart && pairs.length < limits.MOST_PAIRS; first += 1) {
      for (let second = 0; second < apart; second += 1) if (second !== first) pairs.push([first, second]);
    }
    // Sizes without a sign (the drop over the rise) only where the problem itself gives no change its sign.
    const ways = open.length === changes.length ? [false, true] : [false];
    for (const [first, second] of pairs.slice(0, limits.MOST_PAIRS)) {
      for (const sizes of ways) yield { situation: first, other: second, view: 0, sizes: sizes };
    }
  };

  function entry(map, name) {
    const found = map.get(name);
    return found === undefined ? null : found;
  }

  // The value of a symbol at a place of a world, or null when the world leaves it open.
  checker.valueIn = function (world, place, name) {
    const situation = world.situations[place.situation].values;
    const found = situation.get(name);
    if (found !== undefined) return found;
    const view = world.views[place.view];
    if (place.other < 0 || !checker.isChange(name)) return entry(view, name);
    const before = entry(situation, name.slice(1));
    const after = entry(world.situations[place.other].values, name.slice(1));
    if (before === null || after === null) return entry(view, name);
    return place.sizes ? Math.abs(after - before) : after - before;
  };

  // The places that differ in the values of `names`, those with an unknown one left out.
  checker.distinct = function (places, names, valueOf) {
    const met = new Map(); // value of the first name -> value of the second -> … -> true
    const found = [];
    for (const place of places) {
      let level = met;
      let isNew = names.length === 0 && found.length === 0;
      for (let at = 0; at < names.length; at += 1) {
        const value = valueOf(place, names[at]);
        if (value === null) {
          isNew = false;
          break;
        }
        let next = level.get(value);
        if (next === undefined) {
          next = new Map();
          level.set(value, next);
          isNew = at === names.length - 1 || isNew;
        }
        level = next;
      }
      if (isNew) found.push(place);
    }
    return found;
  };
})();
