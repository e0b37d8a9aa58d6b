// A learner's own choice of a part, held against the bounds it must satisfy at every corner, and which state of the
// circuit a learner's words speak of: the counterpart of tutor/working/choice.py and of tutor/working/hypothesis.py,
// function for function. Bounds are { low, high }, null where there is none.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const { END_BAND, SAME } = Steadyrail.tables.checking.choice;
  const states = Steadyrail.tables.checking.hypothesis;
  const sameState = new Map(Object.entries(states.SAME_STATE));
  const opposite = new Map(Object.entries(states.OPPOSITE));
  const partOf = new Map(Object.entries(states.PARTS));
  const ofTheOutput = new Map(Object.entries(states.OF_THE_OUTPUT));

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
      return own === null || !(own > 1e-12 && own < 1e9) ? bounds : { low: own, high: null };
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
    if (value > 1e-12 && value < 1e9 && checker.isPreferred(value, choice.series)) return "";
    return checker.say("no-series-value", slots);
  }

  // Whether a value is an end of the tolerance of the part taken before, and no part of its own.
  checker.isEndOfTaken = function (choice, value, ground, past) {
    const taken = past.values.get(choice.key);
    const spread = ground.sheet.env.get(choice.tolerance) || 0;
    if (taken === undefined || !spread || !offShelf(choice, value, ground.sheet.symbols.get(choice.key))) return false;
    return [1 - spread, 1 + spread].some((end) => Math.abs(value - taken * end) <= END_BAND * taken);
  };

  function margins(choice, value, bounds, spread, unit) {
    if (choice.near) return checker.say("lies-nearest", { name: choice.near });
    if (choice.load) {
      const slots = { margin: checker.general(choice.margin), name: choice.load };
      return checker.say("at-least-margin", { ...slots, bound: checker.write(bounds.low || 0, unit) });
    }
    const limits = [bounds.low, bounds.high].filter((item) => item !== null).map((item) => checker.write(item, unit));
    if (limits.length === 0) return checker.say("unbounded", {});
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

  // The states that some words tell, each with the part it is said of: a part's name holds until a state is said of it,
  // a negation turns the next state round, and a load that is off is unplugged. Of a resistor alone none is told.
  function statesTold(text) {
    const found = [];
    let named = [];
    let negated = false;
    const words = plainWords(text);
    const elsewhere =
      words.some((word) => states.WITHOUT_STATES.includes(word)) && !words.some((word) => partOf.has(word));
    for (const word of words) {
      if (states.NEGATIONS.includes(word)) {
        negated = true;
      } else if (negated && word === "load") {
        found.push(["load", "unplugged"]);
        negated = false;
      } else if (partOf.has(word)) {
        named.push(partOf.get(word));
      } else {
        const said = sameState.has(word) ? sameState.get(word) : word;
        if (!states.STATES.includes(said)) continue;
        const state = negated ? opposite.get(said) || "" : said;
        const told = elsewhere && states.BROKEN.includes(state) ? [] : ofParts(state, named);
        if (told.length > 0) [named, negated] = [[], false];
        found.push(...told);
      }
    }
    return found;
  }

  // A state said of the parts named before it; nothing where it is no state of theirs.
  function ofParts(said, named) {
    const loads = named.every((part) => part === "load" || part === "output");
    const state = said === "off" && named.length > 0 && loads ? "unplugged" : said;
    const parts = named.filter((part) => part === "zener" || part === "transistor");
    if (ofTheOutput.has(state)) return parts.length > 0 ? [] : [[ofTheOutput.get(state), state]];
    if (state === "") return [];
    return parts.length > 0 ? parts.map((part) => [part, state]) : [["", state]];
  }

  // How many of the states told agree with those that some words tell: of the same part, or of any where none is named.
  function agreeing(said, words) {
    const told = new Map(statesTold(words));
    return said.filter(([part, state]) =>
      told.has(part) ? told.get(part) === state : [...told.values()].includes(state),
    ).length;
  }

  // The region that some words speak of, the problem's own included; '' when they name none, or none such.
  checker.regionMeant = function (text, sheet) {
    const said = statesTold(text);
    const own = statesTold(sheet.regionWords);
    let [best, most] = ["", [0, 0]];
    for (const { region, words } of [{ region: sheet.region, words: sheet.regionWords }, ...sheet.branches]) {
      // Of a part of which nothing is said the state stays as it is.
      const likeness = [2 * agreeing(said, words) - said.length, agreeing(own, words)];
      if (likeness[0] > 0 && (likeness[0] - most[0] || likeness[1] - most[1]) > 0) [best, most] = [region, likeness];
    }
    return best;
  };
})();
