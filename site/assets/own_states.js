// Do numbers fit a region? The counterpart of tutor/plan/verify.py and tutor/plan/states.py, function for function,
// over plans that Python wrote (views/own_plans.py). Values are a Map from symbol to SI number, in the order found.
// A plan is run as plan/evaluate.py runs it: what divides by nothing is infinite or no number, and left out afterwards.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const own = (Steadyrail.own = Steadyrail.own || {});
  const CLOSE = 1e-6; // relative disagreement that counts as a contradiction between givens
  const USUAL = 1.5; // a standing value that follows from the givens is usual up to this factor, either way

  // The number an expression has at `values`; a symbol without a value makes it NaN.
  own.amount = function (expr, values) {
    const [tag, first] = expr;
    if (tag === "s") return values.has(first) ? values.get(first) : NaN;
    if (tag === "n" || tag === "v") return first;
    if (tag === "d") return NaN; // a sensitivity that stands for itself
    if (tag === "f") return (first === "cbrt" ? Math.cbrt : Math.sqrt)(own.amount(expr[2], values));
    if (tag === "^") return wholePower(own.amount(first, values), expr[2]);
    let found = own.amount(first, values);
    if (tag === "-") return -found;
    for (const part of expr.slice(2)) {
      const beside = own.amount(part, values);
      if (tag === "+") found += beside;
      else if (tag === "*") found *= beside;
      else if (tag === "/") found /= beside;
      else found = (found * beside) / (found + beside); // side by side
    }
    return found;
  };

  function wholePower(base, exponent) {
    let result = base;
    for (let at = 1; at < Math.abs(exponent); at += 1) result *= base;
    return exponent > 0 ? result : 1 / result;
  }

  // A root of a quadratic, constant term first: with + before the square root (which = 0) or − (1).
  own.root = function (coefficients, which) {
    const [low, middle, high] = coefficients;
    const found = Math.sqrt(middle * middle - 4 * high * low);
    if (which === 0) return middle > 0 ? (2 * low) / (-middle - found) : (-middle + found) / (2 * high);
    return middle > 0 ? (-middle - found) / (2 * high) : (2 * low) / (-middle + found);
  };

  own.isSeveral = function (step) {
    return step.rule[0] === null;
  };

  // The values of steps, one after another, from what is known.
  own.run = function (steps, known, roots) {
    const values = new Map(known);
    let at = 0;
    for (const step of steps) {
      const [expr, coefficients] = step.rule;
      const found =
        expr !== null
          ? own.amount(expr, values)
          : own.root(
              coefficients.map((item) => own.amount(item, values)),
              roots[at++] || 0,
            );
      values.set(step.target, found);
    }
    return values;
  };

  own.symbol = function (name) {
    return Steadyrail.ownData.symbols[name];
  };

  own.text = function (name, value) {
    return Number.isFinite(value) ? Steadyrail.checker.write(value, own.symbol(name).unit) : "no finite number";
  };

  function told(names, values) {
    return names.map((name) => `${name} = ${own.text(name, values.get(name))}`).join(", ");
  }

  own.holds = function (bound, values) {
    const [left, right] = [own.amount(bound.lhs, values), own.amount(bound.rhs, values)];
    const units = new Set(bound.names.map((name) => own.symbol(name).unit));
    let most = Math.max(Math.abs(left), Math.abs(right));
    for (const [name, value] of values) {
      if (units.has(own.symbol(name).unit) && Number.isFinite(value)) most = Math.max(most, Math.abs(value));
    }
    return bound.relation === ">=" ? left >= right - 1e-9 * most : left <= right + 1e-9 * most;
  };

  // An expression with 0 for every product that has a factor of exactly nothing.
  function withoutNothing(expr, values) {
    if (!"+*/-||^f".includes(expr[0])) return expr;
    const isNothing = (part) => Array.isArray(part) && part[0] === "s" && values.get(part[1]) === 0;
    if (expr[0] === "*" && expr.some(isNothing)) return ["n", 0];
    return expr.map((part) => (Array.isArray(part) ? withoutNothing(part, values) : part));
  }

  function isKnown(expr, values) {
    if (expr[0] === "s") return values.has(expr[1]);
    return expr.every((part) => !Array.isArray(part) || isKnown(part, values));
  }

  function largestTerm(expr, values) {
    if (expr[0] !== "+") return 0;
    return Math.max(...expr.slice(1).map((part) => Math.abs(own.amount(part, values)) || 0));
  }

  // A sentence naming the law that values break (of several the one that holds most of `givens`), or null.
  own.brokenLaw = function (laws, values, givens) {
    const count = (law) => law.names.filter((name) => givens.includes(name)).length;
    for (const law of [...laws].sort((one, other) => count(other) - count(one))) {
      let sides = [law.lhs, law.rhs];
      if (!law.names.every((name) => values.has(name))) {
        sides = sides.map((side) => withoutNothing(side, values));
        if (!sides.every((side) => isKnown(side, values))) continue;
      }
      const [left, right] = sides.map((side) => own.amount(side, values));
      if (!Number.isFinite(left) || !Number.isFinite(right)) continue;
      const terms = sides.map((side) => largestTerm(side, values));
      const scale = Math.max(Math.abs(left), Math.abs(right), ...terms);
      if (Math.abs(left - right) > CLOSE * Math.max(scale, 1e-15)) {
        const shown = told(
          law.names.filter((name) => values.has(name)),
          values,
        );
        return `the givens contradict each other: ${law.title}, ${law.text}, is broken by ${shown}`;
      }
    }
    return null;
  };

  function refused(why, isRefuted) {
    return { why: why, refuted: isRefuted };
  }

  // The first part value, load or further quantity that is below zero and cannot be; null when there is none.
  own.belowZero = function (values, further) {
    const { constants, loads } = Steadyrail.ownData;
    for (const name of new Set([...further, ...constants, ...loads])) {
      const value = values.has(name) ? values.get(name) : 0;
      if (value < 0 && own.symbol(name).sign !== "~") {
        return Number.isFinite(value)
          ? refused(`${name} would be ${own.text(name, value)}, below zero`, true)
          : refused(`${name} has no finite value`, false);
      }
    }
    return null;
  };

  // The first inequality of the region that does not hold; null when all do.
  own.regionFails = function (bounds, values) {
    for (const bound of bounds) {
      const known = bound.names.every((name) => Number.isFinite(values.get(name)));
      if (!known || own.holds(bound, values)) continue;
      return refused(`it needs ${bound.text}, but ${told(bound.names, values)}`, true);
    }
    return null;
  };

  // The first quantity below zero against its reference direction that cannot be, but for rounding.
  own.turned = function (values) {
    const largest = new Map();
    for (const [name, value] of values) {
      const { unit } = own.symbol(name);
      if (Number.isFinite(value)) largest.set(unit, Math.max(Math.abs(value), largest.get(unit) || 0));
    }
    for (const [name, value] of values) {
      const { unit, sign } = own.symbol(name);
      if (sign !== "~" && value > -Infinity && value < -1e-9 * (largest.get(unit) || 0)) {
        return refused(`${name} would be ${own.text(name, value)}, below zero`, true);
      }
    }
    return null;
  };

  function noNumber(step, values) {
    const known = own.isSeveral(step) && step.rule[1].every((item) => Number.isFinite(own.amount(item, values)));
    if (known) return refused(`no real ${step.target} solves it`, true);
    return refused(`${step.target} has no finite value`, false);
  }

  function choicesOfRoots(count) {
    let all = [[]];
    for (let at = 0; at < count; at += 1) all = all.flatMap((roots) => [[...roots, 0], [...roots, 1]]);
    return all;
  }

  // The states of a plan that its region's signs and inequalities allow, and why the others are not.
  own.statesOf = function (plan, steps, known) {
    const several = steps.filter(own.isSeveral);
    const states = { allowed: [], refused: [] };
    for (const roots of choicesOfRoots(several.length)) {
      const values = own.run(steps, known, roots);
      for (const [name, value] of known) if (!plan.known.includes(name)) values.set(name, value);
      for (const [name, value] of values) if (value === 0) values.set(name, 0);
      const open = several.find((step) => !Number.isFinite(values.get(step.target)));
      const why =
        (open && noNumber(open, values)) ||
        own.belowZero(
          values,
          several.map((step) => step.target),
        ) ||
        own.regionFails(plan.bounds, values) ||
        own.turned(values);
      if (why) states.refused.push(why);
      else {
        const finite = new Map([...values].filter((pair) => Number.isFinite(pair[1])));
        states.allowed.push({ roots: roots, values: finite });
      }
    }
    return states;
  };

  // The sentence about a standing value that comes out far from what such a part has; null when none does.
  own.unusual = function (values) {
    for (const [name, usual] of Object.entries(Steadyrail.ownData.standing)) {
      const value = values.has(name) ? values.get(name) : usual;
      if (!(usual / USUAL <= value && value <= usual * USUAL)) {
        return `${name} would be ${own.text(name, value)}, far from its usual ${own.text(name, usual)}`;
      }
    }
    return null;
  };

  // Whether two sets of values agree wherever both speak, to a part in a million of the larger.
  own.alike = function (one, other) {
    for (const [name, value] of one) {
      if (!other.has(name)) continue;
      const beside = other.get(name);
      if (Math.abs(value - beside) > CLOSE * Math.max(Math.abs(value), Math.abs(beside), 1e-12)) return false;
    }
    return true;
  };

  function distance(values) {
    let sum = 0;
    for (const [name, usual] of Object.entries(Steadyrail.ownData.typical)) {
      if (!values.has(name) || usual <= 0) continue;
      const ratio = values.get(name) / usual;
      sum += ratio > 0 ? Math.log(ratio) ** 2 : 1e3;
    }
    return sum;
  }

  function rank(values, states) {
    const preference = Steadyrail.ownData.rootPreference;
    let measure = 0;
    if (preference) {
      const [name, greatest] = preference;
      const sizes = states.map((state) => Math.abs(state.values.get(name) || 0));
      const step = CLOSE * Math.max(...sizes) || 1;
      measure = (greatest ? -1 : 1) * Math.round((values.get(name) || 0) / step);
    }
    return [own.unusual(values) === null ? 0 : 1, measure, distance(values)];
  }

  // States that differ, the one to be taken first; and whether the circuit's preference tells it from the second.
  own.inOrder = function (states) {
    const distinct = [];
    for (const state of states) {
      if (!distinct.some((other) => own.alike(state.values, other.values))) distinct.push(state);
    }
    const ranked = distinct.map((state) => [rank(state.values, distinct), state]);
    ranked.sort(([one], [other]) => one[0] - other[0] || one[1] - other[1] || one[2] - other[2]);
    const [first, second] = ranked.map((pair) => pair[0]);
    const isPreferred = Boolean(second) && first[0] === second[0] && first[1] !== second[1];
    const apart = Boolean(Steadyrail.ownData.rootPreference) && isPreferred;
    return { states: ranked.map((pair) => pair[1]), toldApart: apart };
  };
})();
