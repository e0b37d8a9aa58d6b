// One side of a relation as a tree: the counterpart of tutor/working/members.py, function for function.
// Where people read a text in two ways, such as a/b c or a b ∥ c, nothing is guessed: the reader asks for brackets.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const reader = (Steadyrail.reader = Steadyrail.reader || {});

  // The direct parts of a node, in the order written.
  reader.partsOf = function (node) {
    switch (node.node) {
      case "minus":
        return [node.arg];
      case "sum":
        return node.terms;
      case "product":
        return node.factors;
      case "quotient":
        return [node.over, node.under];
      case "power":
        return [node.base, node.exponent];
      case "parallel":
        return [node.left, node.right];
      case "call":
        return node.args;
      case "spread":
        return [node.base, node.share];
      default:
        return [];
    }
  };

  function around(first, last) {
    return [first.columns[0], last.columns[1]];
  }

  function minus(scope, sign, arg) {
    return { node: "minus", columns: [scope.tokens[sign].first + 1, arg.columns[1]], arg: arg };
  }

  // One side of a relation, or what stands inside brackets.
  reader.memberAt = function (scope, place, depth) {
    const [node, past] = sumAt(scope, place, depth);
    if (!scope.isSign(past, "±")) return [node, past];
    const bracketed = scope.tokens[place].partner === past - 1;
    if (node.node === "sum" && !bracketed) throw scope.broken("spread-of-sum", place, past);
    if (scope.at(past + 1) === null) throw scope.broken("nothing-after", past, past);
    if (!scope.isKind(past + 1, "number")) throw scope.broken("spread", past, past + 1);
    const [share, after] = reader.literalAt(scope, past + 1);
    if (share.meanings[0].unit !== "%" || scope.isKind(after, "sign")) throw scope.broken("spread", past, after - 1);
    return [{ node: "spread", columns: around(node, share), base: node, share: share }, after];
  };

  function sumAt(scope, place, depth) {
    const terms = [];
    while (terms.length === 0 || scope.isSign(place, "+-")) {
      const sign = scope.isSign(place, "+-") ? place : -1;
      if (sign >= 0) {
        place += 1;
        if (scope.isSign(place, "+-")) throw scope.broken("two-operators", sign, place);
      }
      let term;
      [term, place] = productAt(scope, place, depth);
      terms.push(sign >= 0 && scope.tokens[sign].text === "-" ? minus(scope, sign, term) : term);
    }
    if (terms.length === 1) return [terms[0], place];
    return [{ node: "sum", columns: around(terms[0], terms[terms.length - 1]), terms: terms }, place];
  }

  function productAt(scope, first, depth) {
    let [node, place] = powerAt(scope, first, depth);
    let factors = [node];
    let slash = -1;
    let parallel = false;
    let times = false;
    for (;;) {
      place = reader.pastRemarks(scope, place);
      if (scope.isSign(place, "∥")) {
        const [side, after] = signedAt(scope, place + 1, depth);
        if (times) throw scope.broken("parallel-mix", first, after - 1);
        factors = [{ node: "parallel", columns: around(factors[0], side), left: factors[0], right: side }];
        [place, parallel] = [after, true];
        continue;
      }
      const divides = scope.isSign(place, "/");
      const last = factors[factors.length - 1];
      const written = divides || scope.isSign(place, "×") || isShareOf(scope, place, last);
      if (!written && !goesOn(scope, place, last)) return [productOf(factors), place];
      if (!written && slash >= 0) refuseAmbiguousQuotient(scope, slash, place);
      const [factor, after] = written ? signedAt(scope, place + 1, depth) : powerAt(scope, place, depth);
      if (parallel) throw scope.broken("parallel-mix", first, after - 1);
      if (divides) {
        const over = productOf(factors);
        factors = [{ node: "quotient", columns: around(over, factor), over: over, under: factor }];
      } else {
        factors.push(factor);
      }
      [slash, place, times] = [divides ? place : -1, after, true];
    }
  }

  function productOf(factors) {
    if (factors.length === 1) return factors[0];
    return { node: "product", columns: around(factors[0], factors[factors.length - 1]), factors: factors };
  }

  // Whether `of` multiplies here: 5 % of 12 V.
  function isShareOf(scope, place, factor) {
    const share = factor.node === "literal" && factor.meanings[0].unit === "%";
    return share && scope.word(place) === "of" && reader.beginsFactor(scope, place + 1);
  }

  // Whether an implied product goes on; broken when something follows that is neither a factor nor an end.
  function goesOn(scope, place, factor) {
    const token = scope.at(place);
    if (token === null) return false;
    const before = scope.tokens[place - 1];
    if (before.text.endsWith(".") && scope.isGap(place)) return false;
    if (reader.beginsFactor(scope, place)) {
      const unit = before.kind === "run" && !["symbol", "constant"].includes(scope.runKind(place - 1));
      const number = token.kind === "number" || token.kind === "fraction";
      if (number && (unit || ["number", "fraction", "power"].includes(before.kind))) {
        throw scope.broken("side-by-side", place - 1, place);
      }
      if (token.kind === "open" && scope.lineNumberGap(place) === 1) {
        throw scope.broken("line-number", place, place + 2);
      }
      // V_I = 18 V   I_L = 3 mA: set apart like this it is no product.
      if (token.first - before.past > 1 && scope.isSymbol(place) && scope.isKind(place + 1, "relation")) {
        throw scope.broken("second-chain", place, scope.tokens.length - 1);
      }
      return true;
    }
    if (token.kind === "bad") throw scope.unfit(place);
    const kind = scope.runKind(place);
    if (kind === null || scope.isListed(place)) return false;
    if (kind === "unit") {
      throw scope.broken(namesIn(factor) ? "unit-after-symbol" : "unit-twice", place, place);
    }
    throw before.kind === "number" ? scope.unknownAfterNumber(place) : scope.unknown(place);
  }

  function namesIn(node) {
    return node.node === "name" || reader.partsOf(node).some(namesIn);
  }

  // a/b c: read only where a bracket, set apart, or a plain share such as 1/2 shows what is divided by.
  function refuseAmbiguousQuotient(scope, slash, place) {
    const apart = scope.isGap(place);
    if (apart && scope.isKind(place - 1, "close")) return;
    const over = scope.tokens[slash - 1];
    const under = scope.tokens[slash + 1];
    const close = scope.isJoined(slash) && scope.isJoined(slash + 1) && place === slash + 2;
    if (apart && close && isShare(over.text, under.text)) return;
    throw scope.broken("quotient", over.kind === "close" ? over.partner : slash - 1, place);
  }

  function isShare(over, under) {
    return Steadyrail.tables.lines.collisions.shares.includes(`${over}/${under}`);
  }

  // A factor that may have a sign of its own: 5 × −3.
  function signedAt(scope, place, depth) {
    if (!scope.isSign(place, "+-")) return powerAt(scope, place, depth);
    if (scope.isKind(place + 1, "sign") && !scope.isSign(place + 1, "√")) {
      throw scope.broken("two-operators", place, place + 1);
    }
    const [node, past] = powerAt(scope, place + 1, depth);
    return [scope.tokens[place].text === "+" ? node : minus(scope, place, node), past];
  }

  function powerAt(scope, place, depth) {
    let [node, past] = primaryAt(scope, place, depth);
    const raised = scope.isKind(past, "power") || scope.isSign(past, "^");
    if (raised) {
      const token = scope.tokens[place];
      const [exponent, after] = exponentAt(scope, past, depth);
      const tower = token.kind === "number" && token.numeral.ten;
      if (tower || scope.isKind(after, "power") || scope.isSign(after, "^")) {
        throw scope.broken("tower", place, Math.max(after - 1, past));
      }
      node = { node: "power", columns: around(node, exponent), base: node, exponent: exponent };
      past = after;
    }
    if (node.node === "name" || (scope.isKind(place, "number") && !raised) || !isCounted(node)) return [node, past];
    const found = reader.unitLiteral(scope, past, place);
    if (found === null) return [node, past];
    const [unit, after] = found;
    const twice = unit.meanings.some((one) => one.exponents === null || unit.power !== 0);
    if (twice && !isBare(node)) throw scope.broken("unit-twice", past, after - 1);
    return [{ node: "product", columns: around(node, unit), factors: [node, unit] }, after];
  }

  // Numbers without units only, so that one unit after the bracket serves them all.
  function isCounted(node) {
    if (node.node === "literal") return node.bare || node.meanings.every((one) => one.exponents === null);
    return node.node !== "name" && reader.partsOf(node).every(isCounted);
  }

  function isBare(node) {
    return node.node === "literal" ? node.bare : reader.partsOf(node).every(isBare);
  }

  // What a power is raised to, at ^ or in superscript figures; a unit never joins it.
  function exponentAt(scope, place, depth) {
    const token = scope.tokens[place];
    if (token.kind === "power") {
      reader.bounded(token.numeral.digits, token.first, token.past);
      const whole = reader.wholeLiteral(token.numeral.digits, scope.columns(place, place));
      return [token.negative ? { node: "minus", columns: whole.columns, arg: whole } : whole, place + 1];
    }
    const sign = scope.isSign(place + 1, "+-") ? place + 1 : -1;
    const first = sign >= 0 ? place + 2 : place + 1;
    let node;
    let past;
    if (scope.isKind(first, "number")) [node, past] = [reader.bareLiteral(scope, first), first + 1];
    else [node, past] = primaryAt(scope, first, depth + 1);
    const size = node.node === "minus" ? node.arg : node;
    if (size.node === "literal" && size.meanings[0].value > Steadyrail.tables.lines.most.power) {
      throw scope.broken("power", first, past - 1);
    }
    return [sign >= 0 && scope.tokens[sign].text === "-" ? minus(scope, sign, node) : node, past];
  }

  function primaryAt(scope, place, depth) {
    const token = scope.at(place);
    if (token === null) throw scope.unfit(place);
    if (depth > Steadyrail.tables.lines.most.depth) throw scope.broken("too-deep", place, place);
    if (token.kind === "number") return shareAt(scope, place) || reader.literalAt(scope, place);
    if (token.kind === "fraction") {
      const columns = scope.columns(place, place);
      const [over, under] = Steadyrail.tables.lines.alphabet.fractions[token.text];
      const literals = [reader.wholeLiteral(over, columns), reader.wholeLiteral(under, columns)];
      return [{ node: "quotient", columns: columns, over: literals[0], under: literals[1] }, place + 1];
    }
    if (token.kind === "run") return runAt(scope, place, depth);
    if (token.kind === "open") return groupAt(scope, place, depth);
    if (token.kind === "sign" && token.text === "√") return rootAt(scope, place, "sqrt", depth);
    throw scope.unfit(place);
  }

  // 1/4 W: a share of a unit, where the slash belongs to the number.
  function shareAt(scope, place) {
    const under = scope.at(place + 2);
    if (!scope.isSign(place + 1, "/") || under === null) return null;
    if (!scope.isJoined(place + 1) || !scope.isJoined(place + 2)) return null;
    if (!isShare(scope.tokens[place].text, under.text)) return null;
    const counts = scope.isUnit(place + 3, Steadyrail.tables.lines.collisions.sharedUnit);
    const found = counts ? reader.unitLiteral(scope, place + 3, place) : null;
    if (found === null) return null;
    const [unit, past] = found;
    const [over, low] = [reader.bareLiteral(scope, place), reader.bareLiteral(scope, place + 2)];
    const share = { node: "quotient", columns: around(over, low), over: over, under: low };
    return [{ node: "product", columns: around(over, unit), factors: [share, unit] }, past];
  }

  function runAt(scope, place, depth) {
    const token = scope.tokens[place];
    const kind = scope.runKind(place);
    if (kind === "symbol") return reader.nameAt(scope, place, place, token.text);
    if (token.numeral !== null) return reader.literalAt(scope, place);
    if (reader.isChange(scope, place)) {
      return reader.nameAt(scope, place, place + 1, "Δ" + scope.tokens[place + 1].text);
    }
    const ended = reader.endedNameAt(scope, place);
    if (ended !== null) return ended;
    if (kind === "constant") return [reader.constant(token.text, scope.columns(place, place)), place + 1];
    if (kind === "function") return callAt(scope, place, depth);
    if (kind === "unit") throw scope.broken("unit-alone", place, place);
    throw scope.unknown(place);
  }

  function rootAt(scope, place, name, depth) {
    const [arg, past] = argumentAt(scope, place + 1, depth);
    const columns = [scope.tokens[place].first + 1, arg.columns[1]];
    return [{ node: "call", columns: columns, function: name, args: [arg] }, past];
  }

  function callAt(scope, place, depth) {
    const opened = scope.at(place + 1);
    const [name, fewest, most] = reader.wordMap("functions").get(scope.word(place));
    if (opened === null || opened.kind !== "open") {
      if (fewest > 1 || !reader.beginsFactor(scope, place + 1) || !scope.isGap(place + 1)) {
        throw scope.broken("no-argument", place, place);
      }
      return rootAt(scope, place, name, depth);
    }
    const close = closing(scope, place + 1);
    const args = [];
    let at = place + 2;
    for (;;) {
      let arg;
      [arg, at] = reader.memberAt(scope, at, depth + 1);
      args.push(arg);
      at = reader.pastRemarks(scope, at);
      if (at === close) break;
      if (!scope.isKind(at, "comma") && !(scope.isKind(at, "break") && scope.tokens[at].text === ";")) {
        throw inside(scope, at);
      }
      at += 1;
    }
    if (args.length < fewest || args.length > most) {
      const counts = Steadyrail.tables.lines.argumentCounts;
      throw scope.broken("arguments", place, place, counts[Math.min(fewest, 2) - 1]);
    }
    return [{ node: "call", columns: scope.columns(place, close), function: name, args: args }, close + 1];
  }

  // What stands under a root sign or after a function without brackets: one number, symbol or bracket.
  function argumentAt(scope, place, depth) {
    if (scope.isKind(place, "number")) return [reader.bareLiteral(scope, place), place + 1];
    return primaryAt(scope, place, depth + 1);
  }

  function groupAt(scope, place, depth) {
    const close = closing(scope, place);
    let [node, at] = reader.memberAt(scope, place + 1, depth + 1);
    at = reader.pastRemarks(scope, at);
    if (at !== close) throw inside(scope, at);
    return [Object.assign({}, node, { columns: scope.columns(place, close) }), close + 1];
  }

  // The place of the bracket that closes the one at a place, with something between.
  function closing(scope, place) {
    const close = scope.tokens[place].partner;
    if (close < 0) throw scope.broken("open-bracket", place, place);
    if ((scope.tokens[place].text === "(") !== (scope.tokens[close].text === ")")) {
      throw scope.broken("bracket-kind", place, close);
    }
    if (close === place + 1) throw scope.broken("empty-brackets", place, close);
    return close;
  }

  // What is wrong with a token that cannot go on inside brackets.
  function inside(scope, place) {
    if (scope.isKind(place, "relation")) return scope.broken("relation-inside", place, place);
    if (scope.isKind(place, "comma", "break", "colon")) return scope.broken("list-inside", place, place);
    return scope.unfit(place);
  }
})();
