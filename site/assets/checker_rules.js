// Rules and expressions as Python wrote them, worked out: the counterpart of tutor/plan/rule.py and of `evaluate` in
// tutor/quantities/expression.py; and what the checker asks of a symbol by its name (tutor/quantities/symbols.py).
// An expression is nested lists, ["+", ["s", "I_R"], ["-", ["s", "I_L"]]]; a rule is { target, expr, coefficients,
// needs }.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const symbolUnits = new Map(Object.entries(Steadyrail.tables.checking.symbolUnits)); // of the table's own names
  const ENDS = ["_MIN", "_MAX", "_NOM"];
  const NOTHING = { isArithmetic: true }; // thrown where Python raises: there is no value

  // Names of the symbols in an expression, each once, in order of first use.
  checker.symbolsOf = function (expr) {
    const found = new Set();
    function walk(part) {
      if (part[0] === "s") found.add(part[1]);
      else if (!"nvd".includes(part[0])) for (const inner of part) if (Array.isArray(inner)) walk(inner);
    }
    walk(expr);
    return [...found];
  };

  function over(a, b) {
    if (b === 0) throw NOTHING;
    return a / b;
  }

  function wholePower(base, exponent) {
    let result = base;
    for (let at = 1; at < Math.abs(exponent); at += 1) result = result * base;
    return exponent > 0 ? result : over(1, result);
  }

  // The number an expression has at `values` (SI). Sums and products run left to right: every machine gives the same.
  function evaluate(expr, values) {
    switch (expr[0]) {
      case "s":
        return values.get(expr[1]);
      case "n":
      case "v":
        return expr[1];
      case "d":
        throw new Error(`the sensitivity of ${expr[1]} to ${expr[2]} has no value of its own`);
      case "^":
        return wholePower(evaluate(expr[1], values), expr[2]);
      case "f":
        return (expr[1] === "cbrt" ? Math.cbrt : Math.sqrt)(evaluate(expr[2], values));
      default:
        break;
    }
    let found = evaluate(expr[1], values);
    if (expr[0] === "-") return -found;
    if (expr[0] === "||") {
      const beside = evaluate(expr[2], values);
      return over(found * beside, found + beside);
    }
    for (let at = 2; at < expr.length; at += 1) {
      const part = evaluate(expr[at], values);
      if (expr[0] === "+") found += part;
      else if (expr[0] === "*") found *= part;
      else found = over(found, part);
    }
    return found;
  }

  // A rule from its data: [target, expr] or [target, null, coefficients].
  checker.ruleOf = function (target, expr, coefficients) {
    const sides = expr === null ? coefficients : [expr];
    const needs = [...new Set(sides.flatMap(checker.symbolsOf))];
    return { target: target, expr: expr, coefficients: coefficients || [], needs: needs };
  };

  // `known` and all that follows from it (SI); a quantity already known keeps its value.
  checker.applyRules = function (rules, known) {
    const values = new Map(known);
    for (const rule of rules) {
      if (!values.has(rule.target)) {
        const found = checker.valueOf(rule, values);
        if (found !== null) values.set(rule.target, found);
      }
    }
    return values;
  };

  // What a rule comes to, or null when something it needs is unknown or it has no finite value.
  checker.valueOf = function (rule, values) {
    for (const name of rule.needs) if (!values.has(name)) return null;
    try {
      const found =
        rule.expr !== null
          ? evaluate(rule.expr, values)
          : rootOf(rule.coefficients.map((item) => evaluate(item, values)));
      return Number.isFinite(found) ? found : null;
    } catch (stopped) {
      if (stopped !== NOTHING) throw stopped;
      return null;
    }
  };

  // The root with + before the square root; NaN for degrees above two.
  function rootOf(coefficients) {
    if (coefficients.length !== 3) return NaN;
    const [low, middle, high] = coefficients;
    const inside = middle * middle - 4 * high * low;
    if (inside < 0) return NaN;
    const found = Math.sqrt(inside);
    return middle > 0 ? over(2 * low, -middle - found) : over(-middle + found, 2 * high);
  }

  // A name taken apart: base of the table and whether it is a change of it; null when it is no symbol.
  function splitName(name) {
    if (symbolUnits.has(name)) return { base: name, change: false };
    const plain = splitSuffixes(name);
    if (plain !== null) return { base: plain, change: false };
    const changed = name.startsWith("D") ? splitSuffixes(name.slice(1)) : null;
    if (changed === null || (changed.length === 1 && changed !== "R")) return null;
    return { base: changed, change: true };
  }

  function splitSuffixes(name) {
    const stem = !symbolUnits.has(name) && ENDS.includes(name.slice(-4)) ? name.slice(0, -4) : name;
    const found = /^(.+?)((?:_[1-9])?)(?:_P)?$/.exec(stem);
    if (found === null) return null;
    for (const base of [stem, found[1] + found[2], found[1]]) if (symbolUnits.has(base)) return base;
    return null;
  }

  const apart = new Map();

  function partsOfName(name) {
    if (!apart.has(name)) {
      if (apart.size > 4096) apart.clear();
      apart.set(name, splitName(name));
    }
    return apart.get(name);
  }

  checker.isSymbol = function (name) {
    return partsOfName(name) !== null;
  };

  // Whether a name is the change of a quantity.
  checker.isChange = function (name) {
    const found = partsOfName(name);
    return found !== null && found.change;
  };

  // The unit code of a symbol of the table, suffixed or not; a temperature changes in kelvins.
  checker.unitOfSymbol = function (name) {
    const found = partsOfName(name);
    const unit = symbolUnits.get(found.base);
    return found.change && unit === "degC" ? "K" : unit;
  };
})();
