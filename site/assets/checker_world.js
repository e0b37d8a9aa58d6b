// A world worked out: every quantity at every operating point at which a line of working may stand. The counterpart of
// tutor/working/world.py, function for function; values are in SI, in Maps, so that they keep Python's order.
// A world is { situations: [{ words, values }], views, picks, moved, marked }.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const PAST = 1e-9; // of a value: how far past another it must lie to count as past

  // Every way to take one item of each list, the last list turning fastest.
  checker.product = function (lists) {
    let found = [[]];
    for (const list of lists) found = found.flatMap((before) => list.map((item) => [...before, item]));
    return found;
  };

  // Maps joined: keys stay where they first came, the last value stands.
  checker.merged = function (...maps) {
    const found = new Map();
    for (const map of maps) for (const [name, value] of map) found.set(name, value);
    return found;
  };

  function situationOf(words, values) {
    return { words: words, values: values };
  }

  function isEnd(name) {
    return name.endsWith("_MIN") || name.endsWith("_MAX");
  }

  // Where an ask takes a quantity at the end of another (V_I at V_TROUGH_MIN), that other's plain name stands for it.
  function endsTaken(ask, asked) {
    const taken = new Map();
    for (const rule of ask.inputs) {
      const [kind, name] = rule.expr;
      if (kind === "s" && name !== rule.target && isEnd(name)) taken.set(name.slice(0, -4), asked.get(name));
    }
    return taken;
  }

  // The world that a recipe makes of an env. What the env leaves open stays unknown.
  checker.expand = function (recipe, env, ends) {
    let corners = cornersOf(recipe, env, ends);
    const situations = corners.map((corner) => situationOf(corner.words, corner.values));
    const marked = [];
    const asked = new Map(env);
    const picks = new Map();
    for (const ask of recipe.asks) {
      const found = checker.answerOf(ask, asked);
      if (found === null) continue;
      asked.set(ask.key, found.values.get(ask.quantity));
      picks.set(ask.key, found.pick);
      const words = askWords(ask, found.pick, ends);
      const values = checker.merged(endsTaken(ask, asked), found.values);
      situations.push(situationOf(words, values));
      const shifted = ask.inputs.filter((rule) => rule.expr[0] !== "s" && rule.needs.includes(rule.target));
      if (shifted.length) {
        const plain = new Map(shifted.map((rule) => [rule.target, asked.get(rule.target)]));
        marked.push(situationOf(words, checker.merged(values, plain)));
      }
      // What is found by measurement holds from here on: the main corners may need it.
      if (recipe.known.includes(ask.key)) {
        corners = cornersOf(recipe, checker.merged(env, lasting(recipe, asked)), ends);
        const anew = corners.map((corner) => situationOf(corner.words, corner.values));
        situations.splice(0, anew.length, ...anew);
      }
    }
    for (const reading of recipe.readings) {
      const told = new Map();
      for (const name of reading.names) {
        const indexed = `${name}_${reading.index}`;
        if (asked.has(indexed)) told.set(name, asked.get(indexed));
      }
      const parts = new Map();
      for (const name of recipe.known) if (asked.has(name) && !told.has(name)) parts.set(name, asked.get(name));
      const values = checker.applyRules(reading.rules, checker.merged(parts, told));
      situations.push(situationOf(checker.say("reading", { index: reading.index }), values));
      for (const [name, value] of values) {
        const indexed = `${name}_${reading.index}`;
        if (!parts.has(name) && !asked.has(indexed)) asked.set(indexed, value);
      }
    }
    const views = viewsOf(recipe, env, asked, corners, situations);
    // In I_Z = (V_I - V_Z)/(R (1 - tol_R)) I_Z stands at the corner, and R is the part as marked.
    const plain = new Map();
    for (const [base, key] of recipe.tolerances) if (asked.has(base) && asked.has(key)) plain.set(base, asked.get(base));
    for (const corner of corners) {
      if (!corner.plain) marked.push(situationOf(corner.words, checker.merged(corner.values, plain)));
    }
    situations.push(...marked);
    return { situations: situations, views: views, picks: picks, moved: 0, marked: marked.length };
  };

  function lasting(recipe, asked) {
    const found = new Map();
    for (const name of recipe.known) if (asked.has(name)) found.set(name, asked.get(name));
    return found;
  }

  function endsOf(base, ends) {
    const name = { name: base };
    return ends.get(base) || [checker.say("least", name), checker.say("greatest", name)];
  }

  // Words, values and whether the corner is a nominal one, the first of the ends first.
  function cornersOf(recipe, env, ends) {
    const axes = [];
    for (const base of recipe.ranges) {
      const [low, high] = endsOf(base, ends);
      const [least, greatest] = [env.get(`${base}_MIN`), env.get(`${base}_MAX`)];
      if (least !== undefined && greatest !== undefined) {
        axes.push([
          [base, least, low, true],
          [base, greatest, high, true],
        ]);
      }
    }
    for (const base of recipe.shifts) {
      if (!env.has(base)) continue;
      const change = env.get(`D${base}`);
      const moved = env.get(base) + (change === undefined ? 0 : change);
      axes.push([
        [base, env.get(base), "", true],
        [base, moved, checker.say("after-change", { name: base }), true],
      ]);
    }
    for (const [base, key] of recipe.tolerances) {
      if (!env.has(base) || !env.has(key)) continue;
      const [plain, spread] = [env.get(base), env.get(key)];
      axes.push([
        [base, plain, "", true],
        [base, plain * (1 - spread), checker.say("tolerance-low", { name: base }), false],
        [base, plain * (1 + spread), checker.say("tolerance-high", { name: base }), false],
      ]);
    }
    const known = lasting(recipe, env);
    return checker.product(axes).map((corner) => {
      const words = corner.map((item) => item[2]).filter((item) => item !== "");
      const start = checker.merged(known, new Map(corner.map((item) => [item[0], item[1]])));
      const values = checker.applyRules(recipe.rules, start);
      return { words: words.join(", "), values: values, plain: corner.every((item) => item[3]) };
    });
  }

  // The values at the corner that decides an ask and which corner that is; null while something it needs is open.
  checker.answerOf = function (ask, asked) {
    const fixed = new Map();
    for (const rule of ask.inputs) {
      const value = checker.valueOf(rule, asked);
      if (value === null) return null;
      fixed.set(rule.target, value);
    }
    for (const base of ask.box) if (!asked.has(`${base}_MIN`) || !asked.has(`${base}_MAX`)) return null;
    let best = null;
    for (const [bases, pick] of boxOf(ask, asked, fixed)) {
      const values = checker.applyRules(ask.rules, checker.merged(fixed, bases));
      if (!values.has(ask.quantity)) continue;
      const more = best !== null && values.get(ask.quantity) > best.values.get(ask.quantity);
      if (best === null || more === Boolean(ask.greatest)) best = { values: values, pick: pick };
    }
    return best;
  };

  // Every corner of an ask's box, then those with one base at rest inside its range.
  function* boxOf(ask, asked, fixed) {
    const ends = new Map(ask.box.map((base) => [base, [asked.get(`${base}_MIN`), asked.get(`${base}_MAX`)]]));
    const at = (pick) => new Map(ask.box.map((base, place) => [base, ends.get(base)[pick[place]]]));
    const picks = checker.product(ask.box.map(() => [0, 1]));
    for (const pick of picks) yield [at(pick), pick];
    for (const rule of ask.resting) {
      const base = rule.target;
      const place = ask.box.indexOf(base);
      for (const pick of picks) {
        if (pick[place] !== 0) continue;
        const bases = at(pick);
        const rest = checker.valueOf(rule, checker.merged(fixed, bases));
        if (rest !== null && ends.get(base)[0] < rest && rest < ends.get(base)[1]) {
          bases.set(base, rest);
          yield [bases, [...pick.slice(0, place), 2, ...pick.slice(place + 1)]];
        }
      }
    }
  }

  function askWords(ask, pick, ends) {
    const told = ask.box.map((base, at) => {
      return [...endsOf(base, ends), checker.say("inside-range", { name: base })][pick[at]];
    });
    return told.join(", ");
  }

  // As asked; as the extremes over the nominal corners; over all of them; over every operating point spoken of.
  function viewsOf(recipe, env, asked, corners, situations) {
    const nominal = extremes(corners.filter((corner) => corner.plain).map((corner) => corner.values));
    const every = extremes(corners.map((corner) => corner.values));
    const widest = extremes(situations.map((item) => item.values));
    // What is asked at an operating point of its own (the output shorted) is no extreme over the corners; nor are
    // bounds and what is asked under a plain name (V_TH, DV_O, I_ZM).
    const kept = new Map([...asked].filter(([name]) => !isEnd(name)));
    for (const ask of recipe.asks) {
      const apart = ask.relation || isApart(ask) || isPastCorners(ask, asked, nominal);
      if (asked.has(ask.key) && apart) kept.set(ask.key, asked.get(ask.key));
    }
    const views = [checker.merged(nominal, asked)];
    const none = new Map();
    for (const [found, lookedAt] of [
      [nominal, none],
      [every, none],
      [widest, atTolerances(recipe, asked)],
    ]) {
      views.push(checker.merged(asked, found, kept, lookedAt, env));
    }
    return views;
  }

  // Whether an ask is about an operating point that the main corners do not have.
  function isApart(ask) {
    return ask.inputs.some((rule) => rule.expr[0] !== "s" || rule.expr[1] !== rule.target);
  }

  // Whether what is asked lies past its value at every corner: at a summit inside a range, which no corner is.
  function isPastCorners(ask, asked, nominal) {
    const corner = nominal.get(ask.key);
    if (corner === undefined || !asked.has(ask.key) || typeof ask.greatest !== "boolean") return false;
    const past = (asked.get(ask.key) - corner) * (ask.greatest ? 1 : -1);
    return past > PAST * Math.abs(corner);
  }

  // What is asked, looked at with parts at either end of their tolerance: the extremes of that.
  function atTolerances(recipe, asked) {
    const found = new Map();
    for (const [base, key] of recipe.tolerances) {
      if (!asked.has(base) || !asked.has(key)) continue;
      for (const way of [-1, 1]) {
        const moved = new Map(asked);
        moved.set(base, asked.get(base) * (1 + way * asked.get(key)));
        for (const ask of recipe.asks) {
          if (ask.relation || !inputs(ask).includes(base) || !isEnd(ask.key)) continue;
          const told = checker.answerOf(ask, moved);
          if (told === null) continue;
          const value = told.values.get(ask.quantity);
          let before = value;
          if (found.has(ask.key)) before = found.get(ask.key);
          else if (asked.has(ask.key)) before = asked.get(ask.key);
          found.set(ask.key, ask.key.endsWith("_MAX") ? Math.max(before, value) : Math.min(before, value));
        }
      }
    }
    return found;
  }

  function inputs(ask) {
    return ask.inputs.flatMap((rule) => rule.needs);
  }

  // X_MIN and X_MAX of every quantity over some corners.
  function extremes(corners) {
    const found = new Map();
    for (const name of new Set(corners.flatMap((values) => [...values.keys()]))) {
      const values = corners.filter((corner) => corner.has(name)).map((corner) => corner.get(name));
      found.set(`${name}_MIN`, Math.min(...values));
      found.set(`${name}_MAX`, Math.max(...values));
    }
    return found;
  }
})();
