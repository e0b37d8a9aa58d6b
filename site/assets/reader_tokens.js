// A line of working as tokens: the counterpart of tutor/working/numerals.py and tutor/working/tokens.py, function for
// function. Columns are [first, past), from 0, in code points. Nothing is evaluated.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const reader = (Steadyrail.reader = Steadyrail.reader || {});
  const DIGITS = "0123456789";
  const VALUES = ["number", "fraction", "run", "close", "power"];

  // Leaves the reader from any depth; caught in readLine, and here for numbers.
  reader.broken = function (fault, first, past, near) {
    return { broken: fault, first: first, past: past, near: near || "" };
  };

  function text(line, first, past) {
    return line.slice(first, past).join("");
  }

  function oneOf(line, at, characters) {
    return at < line.length && characters.includes(line[at]);
  }

  function digitsEnd(line, at) {
    while (oneOf(line, at, DIGITS)) at += 1;
    return at;
  }

  function isDigit(line, at) {
    return oneOf(line, at, DIGITS);
  }

  function beginsNumber(line, at) {
    return isDigit(line, at) || (oneOf(line, at, ".,") && isDigit(line, at + 1));
  }

  function isCodeLetter(line, at) {
    return at < line.length && reader.mapOf("letters", () => Steadyrail.tables.letters).has(line[at]);
  }

  function numeral(digits, power, more) {
    return Object.assign({ digits: digits, power: power, letter: "", ten: false, whole: false, code: -1 }, more);
  }

  // The number that begins at a place, and the place after it.
  function numeralAt(line, at, style) {
    let past = digitsEnd(line, at);
    let whole = "";
    if (past > at) {
      whole = text(line, at, past);
      if (!style.plain) [past, whole] = grouped(line, at, past);
    }
    let parts = "";
    let pointed = false;
    if (oneOf(line, past, ",") && isDigit(line, past + 1) && !style.decimalComma) {
      throw reader.broken("comma", at, numericEnd(line, at));
    }
    if (oneOf(line, past, ".") || (oneOf(line, past, ",") && isDigit(line, past + 1))) {
      if (text(line, past, past + 2) === "..") {
        if (!isDigit(line, past + 2)) return [measured(at, past, numeral(whole, 0, { whole: true })), past];
        throw reader.broken("two-points", at, numericEnd(line, at));
      }
      pointed = true;
      [past, parts] = fraction(line, at, past + 1, style);
    }
    if (oneOf(line, past, ".,") && isDigit(line, past + 1)) {
      const fault = line[past] === "," && !style.decimalComma ? "comma" : "two-points";
      throw reader.broken(fault, at, numericEnd(line, at));
    }
    if (isCodeLetter(line, past) && isDigit(line, past + 1)) {
      if (pointed) throw reader.broken("two-points", at, digitsEnd(line, past + 1));
      return coded(line, at, whole, past);
    }
    const number = numeral(whole + parts, 0 - parts.length, { whole: !pointed });
    return withPower(line, at, past, measured(at, past, number), style);
  }

  // What a run reads as when it is a code that begins with its letter: R47, n47.
  function codeAt(line, at, past) {
    if (past - at < 3 || !Steadyrail.tables.leading.includes(line[at]) || digitsEnd(line, at + 1) !== past) return null;
    return coded(line, at, "", at)[0];
  }

  function superscriptAt(line, at) {
    const superscripts = Steadyrail.tables.superscripts;
    const negative = line[at] === "⁻";
    const first = negative ? at + 1 : at;
    let past = first;
    while (oneOf(line, past, superscripts)) past += 1;
    if (past === first) return null;
    const digits = line.slice(first, past).map((char) => DIGITS[superscripts.indexOf(char)]);
    return [digits.join(""), negative, past];
  }

  reader.bounded = function (digits, first, past) {
    const size = digits.replace(/^0+/, "") || "0";
    if (size.length > 2 || Number(size) > Steadyrail.tables.lines.most.power) throw reader.broken("power", first, past);
    return Number(size);
  };

  function numericEnd(line, at) {
    while (oneOf(line, at, DIGITS + ".,")) at += 1;
    return at;
  }

  function measured(at, past, number) {
    if (number.digits.length > Steadyrail.tables.lines.most.digits) throw reader.broken("digits", at, past);
    return number;
  }

  // Whether the 1 of a unit such as 1/K stands here.
  function isInverse(line, at) {
    return text(line, at, at + 2) === "1/" && at + 2 < line.length && !(DIGITS + " .").includes(line[at + 2]);
  }

  // Digits before the point, grouped in threes by single spaces or not at all.
  function grouped(line, at, past) {
    let whole = text(line, at, past);
    const firstGroup = past - at;
    while (oneOf(line, past, " ") && isDigit(line, past + 1)) {
      if (isInverse(line, past + 1)) break;
      const after = digitsEnd(line, past + 1);
      if (after - past !== 4 || firstGroup > 3) throw reader.broken("grouping", at, after);
      whole += text(line, past + 1, after);
      past = after;
    }
    return [past, whole];
  }

  // Digits after the point, grouped in threes from the point on or not at all.
  function fraction(line, at, first, style) {
    let past = digitsEnd(line, first);
    let digits = text(line, first, past);
    let group = past - first;
    while (!style.plain && digits !== "" && oneOf(line, past, " ") && isDigit(line, past + 1)) {
      if (isInverse(line, past + 1)) break;
      const after = digitsEnd(line, past + 1);
      if (group !== 3 || after - past > 4) throw reader.broken("grouping", at, after);
      digits += text(line, past + 1, after);
      group = after - past - 1;
      past = after;
    }
    return [past, digits];
  }

  // A code of IEC 60062, the letter in the place of the decimal sign.
  function coded(line, at, whole, letter) {
    const past = digitsEnd(line, letter + 1);
    const parts = text(line, letter + 1, past);
    if ((oneOf(line, past, ".,") || isCodeLetter(line, past)) && isDigit(line, past + 1)) {
      throw reader.broken("two-points", at, digitsEnd(line, past + 1));
    }
    const power = Steadyrail.tables.letters[line[letter]].power - parts.length;
    return [measured(at, past, numeral(whole + parts, power, { letter: line[letter], code: letter })), past];
  }

  // The number with the power of ten behind it, if there is one: e-3, × 10^-3, or the power alone.
  function withPower(line, at, past, number, style) {
    if (oneOf(line, past, "eE") && (past + 1 === line.length || !reader.isRunChar(line[past + 1]))) {
      const signed = oneOf(line, past + 1, "+-");
      if (!signed || !isDigit(line, past + 2)) throw reader.broken("exponent", at, signed ? past + 2 : past + 1);
      return scientific(line, at, past, number);
    }
    if (oneOf(line, past, "eE") && isDigit(line, past + 1)) return scientific(line, at, past, number);
    if (style.plain) return [number, past];
    if (number.whole && text(line, at, past) === "10") {
      const alone = powerAt(line, at, past);
      return alone === null ? [number, past] : [numeral("1", alone[0], { ten: true }), alone[1]];
    }
    let ten = skip(line, past);
    if (ten === line.length || (line[ten] !== "×" && !style.crosses.includes(line[ten]))) return [number, past];
    ten = skip(line, ten + 1);
    const power = text(line, ten, ten + 2) === "10" ? powerAt(line, at, ten + 2) : null;
    if (power === null) return [number, past];
    return [numeral(number.digits, number.power + power[0], { ten: true }), power[1]];
  }

  function scientific(line, at, letter, number) {
    const first = oneOf(line, letter + 1, "+-") ? letter + 2 : letter + 1;
    const past = digitsEnd(line, first);
    if (oneOf(line, past, ".,") && isDigit(line, past + 1)) {
      throw reader.broken("exponent", at, numericEnd(line, past));
    }
    const power = reader.bounded(text(line, first, past), at, past);
    return [numeral(number.digits, number.power + (line[letter + 1] === "-" ? 0 - power : power), {}), past];
  }

  function skip(line, at) {
    while (oneOf(line, at, " ")) at += 1;
    return at;
  }

  // The whole exponent written after a 10 that ends at a place, and the place after it.
  function powerAt(line, first, at) {
    let digits;
    let negative;
    let past;
    if (oneOf(line, at, "⁻" + Steadyrail.tables.superscripts)) {
      const raised = superscriptAt(line, at);
      if (raised === null) return null;
      [digits, negative, past] = raised;
    } else {
      if (oneOf(line, at, "^")) at += 1;
      else if (text(line, at, at + 2) === "××") at += 2;
      else return null;
      const bracket = oneOf(line, at, "(");
      if (bracket) at += 1;
      negative = oneOf(line, at, "-");
      const start = oneOf(line, at, "+-") ? at + 1 : at;
      past = digitsEnd(line, start);
      digits = text(line, start, past);
      if (digits === "" || (oneOf(line, past, ".,") && isDigit(line, past + 1))) return null;
      if (bracket) {
        if (!oneOf(line, past, ")")) return null;
        past += 1;
      }
    }
    const power = reader.bounded(digits, first, past);
    return [negative ? 0 - power : power, past];
  }

  function token(kind, spelling, first, past, more) {
    const made = { kind: kind, text: spelling, first: first, past: past };
    return Object.assign(made, { numeral: null, negative: false, fault: null, partner: -1 }, more);
  }

  function bad(line, found) {
    if (!found.broken) throw found;
    return token("bad", text(line, found.first, found.past), found.first, found.past, { fault: found.broken });
  }

  function known(vocabulary, spelling) {
    return reader.resolve(vocabulary, spelling).standing !== "unknown";
  }

  // The tokens of a line; broken when it is too long or too deep.
  reader.tokensOf = function (points, vocabulary) {
    const most = Steadyrail.tables.lines.most;
    if (points.length > most.characters) throw reader.broken("too-long", most.characters, points.length);
    const alike = reader.mapOf("alike", () => Steadyrail.tables.lines.alphabet.alike);
    const line = points.map((char) => alike.get(char) || char);
    const crosses = ["x", "X"].filter((cross) => !known(vocabulary, cross));
    const found = [];
    let at = 0;
    while (at < line.length) {
      if (line[at] === " ") {
        at += 1;
        continue;
      }
      if (found.length === most.tokens) throw reader.broken("too-many", at, points.length);
      const next = tokenAt(line, at, found, vocabulary, crosses);
      found.push(next);
      at = next.past;
    }
    return paired(found);
  };

  function tokenAt(line, at, found, vocabulary, crosses) {
    const alphabet = Steadyrail.tables.lines.alphabet;
    const char = line[at];
    const last = found[found.length - 1];
    if (beginsNumber(line, at) && (char !== "," || last === undefined || !VALUES.includes(last.kind))) {
      return numberAt(line, at, found, vocabulary, crosses);
    }
    if (reader.isRunChar(char)) return runAt(line, at, found, vocabulary, crosses);
    if (("⁻" + Steadyrail.tables.superscripts).includes(char)) return exponentAt(line, at);
    for (const [spelling, kind, meant] of alphabet.compound) {
      if (text(line, at, at + spelling.length) === spelling) return token(kind, meant, at, at + spelling.length);
    }
    if (char === ":") {
      const past = skip(line, at + 1);
      if (oneOf(line, past, "=")) return token("relation", "=", at, past + 1);
      if (divides(line, at, found)) return token("sign", "/", at, at + 1);
    }
    if (reader.mapOf("fractions", () => alphabet.fractions).has(char)) return token("fraction", char, at, at + 1);
    if (char === "∞") return token("bad", char, at, at + 1, { fault: "not-finite" });
    if (alphabet.otherRelations.includes(char)) return token("bad", char, at, at + 1, { fault: "other-relation" });
    if (text(line, at, at + 2) === "!=") return token("bad", "!=", at, at + 2, { fault: "other-relation" });
    if (char === "|") return token("bad", char, at, at + 1, { fault: "bar" });
    return token(reader.mapOf("single", () => alphabet.single).get(char) || "other", char, at, at + 1);
  }

  // Whether a colon divides, as in many schools: after a relation, set apart on both sides.
  function divides(line, at, found) {
    const apart = at > 0 && line[at - 1] === " " && line[at + 1] === " ";
    const last = found[found.length - 1];
    return apart && last !== undefined && VALUES.includes(last.kind) && found.some((one) => one.kind === "relation");
  }

  function numberAt(line, at, found, vocabulary, crosses) {
    const isComma = Boolean(vocabulary.decimalComma || Steadyrail.readsComma);
    const style = { decimalComma: isComma, crosses: crosses, plain: isExponent(found) };
    try {
      const [number, past] = numeralAt(line, at, style);
      return token("number", text(line, at, past), at, past, { numeral: number });
    } catch (stopped) {
      return bad(line, stopped);
    }
  }

  // Whether what comes next stands directly after ^, its sign aside.
  function isExponent(found) {
    let last = found.length - 1;
    if (last > 0 && "+-".includes(found[last].text)) last -= 1;
    return last >= 0 && found[last].kind === "sign" && found[last].text === "^";
  }

  function runAt(line, at, found, vocabulary, crosses) {
    const past = runEnd(line, at);
    const run = line.slice(at, past);
    const last = found[found.length - 1];
    const afterValue = last !== undefined && VALUES.includes(last.kind) && !isWord(last, vocabulary);
    if (afterValue && run.length === 1 && crosses.includes(run[0])) return token("sign", "×", at, past);
    const joined = afterValue && last.kind === "number" && last.past === at;
    if (joined && crosses.includes(run[0]) && DIGITS.includes(run[1]) && !known(vocabulary, run.join(""))) {
      return token("sign", "×", at, at + 1);
    }
    try {
      return token("run", run.join(""), at, past, { numeral: codeAt(line, at, past) });
    } catch (stopped) {
      return bad(line, stopped);
    }
  }

  // Whether a run is a word, after which x is no sign: let x = 5.
  function isWord(last, vocabulary) {
    const listed = last.kind === "run" && reader.words("listed").has(reader.lowered(last.text));
    return listed && !known(vocabulary, last.text);
  }

  // The end of the longest name: letters, digits, braces after an underscore, and an end joined on.
  function runEnd(line, at) {
    let past = at;
    while (past < line.length) {
      if (reader.isRunChar(line[past])) {
        past += 1;
        continue;
      }
      if (line[past] !== "{" || past === at || line[past - 1] !== "_") break;
      let inside = past + 1;
      while (inside < line.length && (reader.isNameChar(line[inside]) || "(), ".includes(line[inside]))) inside += 1;
      if (inside === past + 1 || !oneOf(line, inside, "}")) break;
      past = inside + 1;
    }
    if (!reader.isLetter(line[at])) return past;
    for (const end of Steadyrail.tables.lines.words.joinedEnds) {
      const after = past + 1 + end.length;
      if (reader.lowered(text(line, past + 1, after)) !== end) continue;
      if (oneOf(line, past, "(") && oneOf(line, after, ")")) return after + 1;
      if (oneOf(line, past, ",") && (after === line.length || !reader.isRunChar(line[after]))) return after;
    }
    return past;
  }

  function exponentAt(line, at) {
    const raised = superscriptAt(line, at);
    if (raised === null) return token("other", line[at], at, at + 1);
    const [digits, negative, past] = raised;
    const number = numeral(digits, 0, { whole: true });
    return token("power", text(line, at, past), at, past, { numeral: number, negative: negative });
  }

  // The same tokens, each bracket with the place of its partner; broken when they nest too deep.
  function paired(found) {
    const waiting = [];
    found.forEach((one, at) => {
      if (one.kind === "open") {
        waiting.push(at);
        if (waiting.length > Steadyrail.tables.lines.most.depth) throw reader.broken("too-deep", one.first, one.past);
      } else if (one.kind === "close" && waiting.length > 0) {
        one.partner = waiting.pop();
        found[one.partner].partner = at;
      }
    });
    return found;
  }
})();
