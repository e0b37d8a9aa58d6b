// A tree worked out: its value, what the rounding of its numbers may do to it (slack), and the largest term that went
// into it (reach). The counterpart of tutor/working/amount.py, function for function; an amount is { value, slack,
// reach }, null where a symbol has no value or there is no finite result.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.amount;

  function amount(value, slack, reach) {
    return { value: value, slack: slack, reach: reach };
  }
  checker.amount = amount;

  // What a tree comes to. `valueOf` gives a symbol's value or null, `amountOf` a number's amount.
  function workOut(node, valueOf, amountOf) {
    const found = work(node, valueOf, amountOf);
    if (found === null || !(Math.abs(found.value) < limits.MOST_SIZE) || !Number.isFinite(found.slack)) return null;
    return found;
  }
  checker.workOut = workOut;

  function work(node, valueOf, amountOf) {
    switch (node.node) {
      case "literal":
        return amountOf(node);
      case "name": {
        const value = valueOf(node.name);
        return value === null ? null : amount(value, 0, Math.abs(value));
      }
      case "minus": {
        const inner = workOut(node.arg, valueOf, amountOf);
        return inner === null ? null : amount(-inner.value, inner.slack, inner.reach);
      }
      case "spread":
        return workOut(node.base, valueOf, amountOf);
      default:
        break;
    }
    const parts = [];
    for (const part of checker.parts(node)) {
      const found = workOut(part, valueOf, amountOf);
      if (found === null) return null;
      parts.push(found);
    }
    switch (node.node) {
      case "sum":
        return added(parts);
      case "product":
        return parts.reduce(times);
      case "quotient":
        return over(parts[0], parts[1]);
      case "power":
        return power(parts[0], parts[1]);
      case "parallel":
        return beside(parts[0], parts[1]);
      default:
        return call(node, parts);
    }
  }

  function added(parts) {
    let [value, slack, reach] = [0, 0, 0];
    for (const part of parts) {
      value += part.value;
      slack += part.slack;
      if (part.reach > reach) reach = part.reach;
    }
    return amount(value, slack, reach);
  }

  function times(a, b) {
    return amount(
      a.value * b.value,
      Math.abs(a.value) * b.slack + Math.abs(b.value) * a.slack,
      Math.max(a.reach * Math.abs(b.value), b.reach * Math.abs(a.value)),
    );
  }

  function over(a, b) {
    if (b.value === 0) return null;
    const size = Math.abs(b.value);
    return amount(
      a.value / b.value,
      a.slack / size + (Math.abs(a.value) * b.slack) / (size * size),
      Math.max(a.reach / size, (Math.abs(a.value) * b.reach) / (size * size)),
    );
  }

  function power(base, exponent) {
    const n = exponent.value;
    if (base.value === 0) return n > 0 ? amount(0, 0, 0) : null;
    if (base.value < 0 && n !== Math.trunc(n)) return null;
    if (Math.abs(n) * Math.abs(Math.log10(Math.abs(base.value))) > 60) return null;
    let value = Math.abs(base.value) ** n;
    if (base.value < 0 && Math.abs(n) % 2 === 1) value = -value;
    const steep = Math.abs((n * value) / base.value);
    return amount(value, steep * base.slack, Math.max(Math.abs(value), steep * base.reach));
  }

  function beside(a, b) {
    const total = a.value + b.value;
    if (total === 0) return null;
    const value = (a.value * b.value) / total;
    const [ofB, ofA] = [b.value / total, a.value / total];
    const [near, far] = [ofB * ofB, ofA * ofA];
    return amount(value, near * a.slack + far * b.slack, Math.max(Math.abs(value), near * a.reach, far * b.reach));
  }

  function call(node, parts) {
    const x = parts[0];
    switch (node.function) {
      case "min":
        return parts.reduce((best, part) => (part.value < best.value ? part : best));
      case "max":
        return parts.reduce((best, part) => (part.value > best.value ? part : best));
      case "abs":
        return amount(Math.abs(x.value), x.slack, x.reach);
      case "sqrt": {
        if (x.value < 0) return null;
        const found = Math.sqrt(x.value);
        const steep = found ? 0.5 / found : 0;
        return amount(found, steep * x.slack, Math.max(found, steep * x.reach));
      }
      case "exp": {
        if (Math.abs(x.value) > 100) return null;
        const value = Math.exp(x.value);
        return amount(value, value * x.slack, value);
      }
      default:
        return logarithm(node, x);
    }
  }

  function logarithm(node, x) {
    if (x.value <= 0) return null;
    if (node.function === "ln") {
      const found = Math.log(x.value);
      return amount(found, x.slack / x.value, Math.max(1, Math.abs(found)));
    }
    if (node.function === "log10") {
      const found = Math.log10(x.value);
      return amount(found, x.slack / x.value / Math.log(10), Math.max(1, Math.abs(found)));
    }
    return null;
  }

  // How far a written number may be from what it stands for: 1 % or half its last figure, never more than 3 %.
  checker.rounding = function (value, step) {
    const size = Math.abs(value);
    return Math.min(Math.max(limits.NUMBER_BAND * size, step / 2), limits.MOST_BAND * size);
  };
})();
