// A learner's own choice of a part, held against the bounds it must satisfy at every corner, and which state of the
// circuit a learner's words speak of: the counterpart of tutor/working/choice.py and of tutor/working/hypothesis.py,
// function for function. Bounds are { low, high }, null where there is none.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const { SAME } = Steadyrail.tables.checking.choice;
  const states = Steadyrail.tables.checking.hypothesis;
  const sameState = new Map(Object.entries(states.SAME_STATE));
  const opposite = new Map(Object.entries(states.OPPOSITE));

  function entry(map, name) {
    const found = map.get(name);
    return found === undefined ? null : found;
  }

  // Which choice of the sheet some members make, and its value, as [choice, value]; null when they make none.
  checker.chosenPart = function (members, sheet, taken) {
    const number = plainNumber(members[members.length - 1]);
    if (number === null || number.meanings[0].value <= 0) return null;
    const { exponents, value } = number.meanings[0];
    if (members.length > 1 && members[0].node === "name") {
      const found = checker.choiceNamed(sheet, members[0].name);
      return found === null ? null : [found, value];
    }
    const found = byUnit(sheet, taken, exponents);
    return found === undefined ? null : [found, value];
  };

  checker.choiceNamed = function (sheet, name) {
    return sheet.choices.find((item) => name === item.key || name === item.quantity) || null;
  };

  // A choice without a symbol: the first of that unit not yet made, else the last one made.
  function byUnit(sheet, taken, exponents) {
    const alike = sheet.choices.filter((item) => {
      const own = Steadyrail.tables.units[sheet.symbols.get(item.key)].exponents;
      return exponents === null || checker.sameExponents(own, exponents);
    });
    return [...alike.filter((item) => !taken.has(item.key)), ...[...alike].reverse()][0];
  }

  function plainNumber(node) {
    if (node.node === "spread") return plainNumber(node.base);
    return node.node === "literal" ? node : null;
  }

  // Whether a value meets the specification at every corner, or at least the learner's own bounds: { code, why, slip }.
  checker.judgeChoice = function (choice, value, ground, past) {
    const bounds = checker.boundsOf(choice, ground);
    const unit = ground.sheet.symbols.get(choice.key);
    const slips = ground.sheet.slips
      .filter((slip) => slip.key === choice.key && Math.abs(slip.value - value) <= SAME * value)
      .map((slip) => slip.id);
    const spread = entry(ground.sheet.env, choice.tolerance) || 0;
    const broken = brokenBound(choice, value, bounds, spread, unit);
    if (!broken) {
      const off = offShelf(choice, value, unit);
      if (off) return { code: "choice-bad", why: off, slip: slips };
      return { code: "choice-ok", why: margins(choice, value, bounds, spread, unit), slip: [] };
    }
    const own = ownBounds(choice, bounds, past);
    const differs = own.low !== bounds.low || own.high !== bounds.high;
    if (differs && !brokenBound(choice, value, own, spread, unit) && !offShelf(choice, value, unit)) {
      return { code: "follows", why: checker.say("own-bound", { broken: broken }), slip: slips };
    }
    return { code: "choice-bad", why: broken, slip: slips };
  };

  // The true bounds of a choice beside the learner's other choices (the model's where none is taken yet).
  checker.boundsOf = function (choice, ground) {
    const others = ground.sheet.choices.filter((item) => item.key !== choice.key).map((item) => [item.key, item.model]);
    const taken = [...ground.choices].filter(([key]) => key !== choice.key);
    const view = ground.worldWith(checker.merged(others, taken)).views[0];
    if (choice.load) {
      const load = entry(view, choice.load);
      return { low: load === null ? null : choice.margin * load, high: null };
    }
    return { low: entry(view, choice.low), high: entry(view, choice.high) };
  };

  function ownBounds(choice, bounds, past) {
    if (choice.near) {
      const own = entry(past.values, choice.near);
      return own === null || !(own > 1e-3 && own < 1e9) ? bounds : { low: own, high: null };
    }
    if (choice.load) {
      const own = entry(past.values, choice.load);
      return own === null ? bounds : { low: choice.margin * own, high: null };
    }
    const low = past.values.has(choice.low) ? past.values.get(choice.low) : bounds.low;
    const high = past.values.has(choice.high) ? past.values.get(choice.high) : bounds.high;
    return { low: low, high: high };
  }

  // The bound a value breaks, in a sentence without its full stop; '' when it breaks none.
  function brokenBound(choice, value, bounds, spread, unit) {
    const written = (size) => checker.write(size, unit);
    if (choice.near) {
      const nearest = bounds.low === null ? choice.accepted[0] : checker.nearestTo(bounds.low, choice.series);
      if (Math.abs(value - nearest) <= SAME * nearest) return "";
      return checker.say("nearer", { value: written(nearest), name: choice.near });
    }
    const [low, high] = [value * (1 - spread), value * (1 + spread)];
    if (bounds.high !== null && high > bounds.high * (1 + SAME)) {
      const slots = { value: written(high), name: choice.high, bound: written(bounds.high) };
      return checker.say(spread ? "spread-above" : "above", slots);
    }
    if (bounds.low !== null && low < bounds.low * (1 - SAME)) {
      const slots = { value: written(low), name: choice.low, bound: written(bounds.low) };
      if (!choice.load) return checker.say(spread ? "spread-below" : "below", slots);
      const margin = { margin: checker.general(choice.margin), value: written(value), name: choice.load };
      return checker.say("below-margin", { ...slots, ...margin });
    }
    return "";
  }

  function offShelf(choice, value, unit) {
    const slots = { value: checker.write(value, unit), series: choice.series };
    if (choice.shelf.length > 0) {
      const there = choice.shelf.some((item) => Math.abs(value - item) <= SAME * item);
      return there ? "" : checker.say("not-on-shelf", slots);
    }
    if (!choice.series) return "";
    if (value > 1e-3 && value < 1e9 && checker.isPreferred(value, choice.series)) return "";
    return checker.say("no-series-value", slots);
  }

  function margins(choice, value, bounds, spread, unit) {
    if (choice.near) return checker.say("lies-nearest", { name: choice.near });
    if (choice.load) {
      const slots = { margin: checker.general(choice.margin), name: choice.load };
      return checker.say("at-least-margin", { ...slots, bound: checker.write(bounds.low || 0, unit) });
    }
    const limits = [bounds.low, bounds.high].filter((item) => item !== null).map((item) => checker.write(item, unit));
    const slots = { inside: limits.join(checker.say("to")) };
    if (!spread) return checker.say("meets", slots);
    const [low, high] = [value * (1 - spread), value * (1 + spread)].map((item) => checker.write(item, unit));
    return checker.say("spread-meets", { ...slots, low: low, high: high });
  }

  // Words in small letters, without marks.
  function plainWords(text) {
    return text
      .toLowerCase()
      .replace(/[^a-z']/g, " ")
      .split(" ")
      .filter((word) => word !== "");
  }

  // The words of a sentence with those for a state put as the circuits put them, a negation turned round.
  function stateWords(text) {
    const found = [];
    let negated = false;
    for (const word of plainWords(text)) {
      if (states.NEGATIONS.includes(word)) {
        negated = true;
        continue;
      }
      let same = sameState.has(word) ? sameState.get(word) : word;
      if (negated && opposite.has(same)) {
        same = opposite.get(same);
        negated = false;
      }
      found.push(same);
    }
    return found;
  }

  // The region that some words speak of, the problem's own included; '' when none is named.
  checker.regionMeant = function (text, sheet) {
    const said = new Set(stateWords(text));
    const regions = [[sheet.region, sheet.regionWords], ...sheet.branches.map((item) => [item.region, item.words])];
    const told = regions.map(([region, words]) => [region, stateWords(words)]);
    const known = new Set(told.flatMap((item) => item[1]).filter((word) => states.STATES.includes(word)));
    const named = [...said].filter((word) => known.has(word));
    if (named.length === 0) return "";
    let best = null;
    for (const [region, words] of told) {
      const likeness = likenessOf(named, words);
      const more = best !== null && (likeness[0] - best[1][0] || likeness[1] - best[1][1]) > 0;
      if (best === null || more) best = [region, likeness];
    }
    return best[0];
  };

  // A state the region does not have counts against it; beyond that, the fewer words the better.
  function likenessOf(named, words) {
    const own = named.filter((word) => words.includes(word)).length;
    return [own - (named.length - own), -words.length];
  }
})();
