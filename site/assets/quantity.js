// Reads one quantity as a learner types it: the counterpart of tutor/quantities/reading.py, function for function.
// Its tables come from Steadyrail.tables; columns are [first, past), from 1, in code points. Nothing is evaluated.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const DIGITS = "0123456789";

  // An object's own entry: text such as "constructor" must find nothing.
  function entry(table, key) {
    return Object.prototype.hasOwnProperty.call(table, key) ? table[key] : undefined;
  }

  // A unit by one of its spellings; the table holds code and power of ten, the dimension is that of the code.
  function tokenOf(word) {
    const found = entry(Steadyrail.tables.tokens, word);
    return found && { code: found[0], exponents: Steadyrail.tables.units[found[0]].exponents, power: found[1] };
  }

  // Leaves the reader from any depth; caught in readQuantity alone.
  function misread(fault, first, past, got) {
    return { misread: fault, first: first, past: past, got: got || "" };
  }

  function digitAt(line, at, end) {
    return at < end && DIGITS.includes(line[at]);
  }

  function oneOf(line, at, end, characters) {
    return at < end && characters.includes(line[at]);
  }

  function run(line, at, end, allowed) {
    while (at < end && allowed.includes(line[at])) at += 1;
    return at;
  }

  function digits(line, at, end) {
    return run(line, at, end, DIGITS);
  }

  function skip(line, at, end) {
    return run(line, at, end, " ");
  }

  function trim(line, start, end) {
    start = skip(line, start, end);
    while (end > start && line[end - 1] === " ") end -= 1;
    return [start, end];
  }

  function text(line, first, past) {
    return line.slice(first, past).join("");
  }

  function isLatin(char) {
    return (char >= "a" && char <= "z") || (char >= "A" && char <= "Z");
  }

  // A letter of a symbol: Latin without accents, Greek, or the sign of a change.
  function isLetter(char) {
    const point = char.codePointAt(0);
    return isLatin(char) || (point >= 0x370 && point <= 0x3ff) || point === 0xb5 || point === 0x2206;
  }

  // Where the value begins: a leading =, ≈ or `I_Z =` is set aside.
  function afterRelation(line, start, end) {
    const relations = [];
    for (let at = start; at < end; at += 1) {
      if (Steadyrail.tables.bounds.includes(line[at])) throw misread("bound", at, at + 1);
      if ("=≈".includes(line[at])) relations.push(at);
    }
    if (relations.length === 0) return start;
    if (relations.length > 1) throw misread("several", relations[1], relations[1] + 1);
    let past = relations[0];
    if (past > start && line[past - 1] === ":") past -= 1;
    let first;
    [first, past] = trim(line, start, past);
    const named = first === past || isLetter(line[first]);
    const whole = line
      .slice(first, past)
      .every((char) => isLetter(char) || DIGITS.includes(char) || "_'(){}, ".includes(char));
    if (!named || !whole) throw misread("not-a-name", first, past);
    return skip(line, relations[0] + 1, end);
  }

  function readNumber(line, start, at, end, decimalComma) {
    const tables = Steadyrail.tables;
    if (oneOf(line, at, end, tables.leading) && digitAt(line, at + 1, end)) {
      return lettered(line, start, "", line[at], at + 1, digits(line, at + 1, end), end);
    }
    const pointed = oneOf(line, at, end, ".,") && digitAt(line, at + 1, end);
    if (!pointed && !digitAt(line, at, end)) throw noNumber(line, start, at, end);
    let [past, whole] = grouped(line, at, end);
    let parts = "";
    let hasPoint = false;
    if (past < end && line[past] === "," && digitAt(line, past + 1, end) && !decimalComma) {
      throw misread("comma", at, run(line, at, end, DIGITS + ".,"));
    }
    if (past < end && (line[past] === "." || (line[past] === "," && digitAt(line, past + 1, end)))) {
      hasPoint = true;
      [past, parts] = fraction(line, at, past + 1, end);
    }
    if (oneOf(line, past, end, ".,") && oneOf(line, past + 1, end, DIGITS + ".")) {
      const fault = line[past] === "," && !decimalComma ? "comma" : "two-points";
      throw misread(fault, at, run(line, at, end, DIGITS + ".,"));
    }
    if (whole.length + parts.length > tables.most.digits) throw misread("digits", at, past);
    if (past < end && entry(tables.letters, line[past]) && digitAt(line, past + 1, end)) {
      if (hasPoint) throw misread("two-points", at, digits(line, past + 1, end));
      return lettered(line, start, whole, line[past], past + 1, digits(line, past + 1, end), end);
    }
    const number = { digits: whole + parts, power: 0 - parts.length, end: past, letter: "" };
    return withPower(line, start, number, hasPoint, end);
  }

  function noNumber(line, start, at, end) {
    const tables = Steadyrail.tables;
    let past = at;
    while (past < end && isLatin(line[past])) past += 1;
    if (tables.notFinite.includes(text(line, at, past).toLowerCase())) return misread("not-finite", at, past);
    if (at < end && line[at] === "∞") return misread("not-finite", at, at + 1);
    const operates = line.slice(at, end).some((char) => tables.operators.includes(char));
    return misread(operates ? "arithmetic" : "no-number", start, end);
  }

  // Whether the 1 of a unit such as 1/K stands here.
  function isInverse(line, at, end) {
    return line[at] === "1" && at + 2 < end && line[at + 1] === "/" && !(DIGITS + " .").includes(line[at + 2]);
  }

  // Digits before the point, grouped in threes by single spaces or not at all.
  function grouped(line, at, end) {
    let past = digits(line, at, end);
    let whole = text(line, at, past);
    const firstGroup = whole.length;
    while (past < end && line[past] === " " && digitAt(line, past + 1, end)) {
      if (isInverse(line, past + 1, end)) break;
      const after = digits(line, past + 1, end);
      if (after - past !== 4 || firstGroup > 3) throw misread("grouping", at, run(line, at, end, DIGITS + " ."));
      whole += text(line, past + 1, after);
      past = after;
    }
    return [past, whole];
  }

  // Digits after the point, grouped in threes from the point on or not at all.
  function fraction(line, at, first, end) {
    let past = digits(line, first, end);
    let found = text(line, first, past);
    let group = past - first;
    while (found && past < end && line[past] === " " && digitAt(line, past + 1, end)) {
      if (isInverse(line, past + 1, end)) break;
      const after = digits(line, past + 1, end);
      if (group !== 3 || after - past > 4) throw misread("grouping", at, run(line, at, end, DIGITS + " ."));
      found += text(line, past + 1, after);
      group = after - past - 1;
      past = after;
    }
    return [past, found];
  }

  // A code of IEC 60062, the letter in the place of the decimal sign.
  function lettered(line, start, whole, letter, first, past, end) {
    const tables = Steadyrail.tables;
    const parts = text(line, first, past);
    const again = oneOf(line, past, end, ".,") || (past < end && entry(tables.letters, line[past]));
    if (again && digitAt(line, past + 1, end)) throw misread("two-points", start, digits(line, past + 1, end));
    if (whole.length + parts.length > tables.most.digits) throw misread("digits", start, past);
    return {
      digits: whole + parts,
      power: tables.letters[letter].power - parts.length,
      end: past,
      letter: letter,
    };
  }

  // The number with a power of ten behind it, if there is one: e-3, × 10^-3, or the power alone.
  function withPower(line, start, number, hasPoint, end) {
    let at = number.end;
    if (oneOf(line, at, end, "eE")) {
      const [exponent, past] = readExponent(line, start, at + 1, end);
      return { digits: number.digits, power: number.power + exponent, end: past, letter: "" };
    }
    if (number.digits === "10" && !hasPoint && beginsPower(line, at, end)) {
      const [exponent, past] = readPower(line, start, at, end);
      return { digits: "1", power: exponent, end: past, letter: "" };
    }
    at = skip(line, at, end);
    if (!oneOf(line, at, end, "×xX")) return number;
    const times = at;
    at = skip(line, at + 1, end);
    const ten = text(line, at, Math.min(at + 2, end)) === "10";
    if (ten && beginsPower(line, at + 2, end)) {
      const [exponent, past] = readPower(line, start, at + 2, end);
      return { digits: number.digits, power: number.power + exponent, end: past, letter: "" };
    }
    if (line[times] === "×" || ten) throw misread("arithmetic", start, end);
    return number;
  }

  function beginsPower(line, at, end) {
    if (oneOf(line, at, end, "^⁻" + Steadyrail.tables.superscripts)) return true;
    return at < end && text(line, at, Math.min(at + 2, end)) === "××";
  }

  // The exponent at `^`, `**` or in superscript figures, and the place after it.
  function readPower(line, start, at, end) {
    const superscripts = Steadyrail.tables.superscripts;
    if (("⁻" + superscripts).includes(line[at])) {
      const first = line[at] === "⁻" ? at + 1 : at;
      const past = run(line, first, end, superscripts);
      if (past === first) throw misread("exponent", start, end);
      const plain = line.slice(first, past).map((char) => DIGITS[superscripts.indexOf(char)]);
      return [bounded(plain.join(""), line[at] === "⁻", start, past), past];
    }
    at += line[at] === "^" ? 1 : 2;
    const bracket = at < end && line[at] === "(";
    const found = readExponent(line, start, bracket ? at + 1 : at, end);
    if (!bracket) return found;
    if (found[1] >= end || line[found[1]] !== ")") throw misread("exponent", start, end);
    return [found[0], found[1] + 1];
  }

  // A whole exponent with its sign, and the place after it.
  function readExponent(line, start, at, end) {
    const negative = at < end && line[at] === "-";
    const first = oneOf(line, at, end, "+-") ? at + 1 : at;
    const past = digits(line, first, end);
    if (past === first || (oneOf(line, past, end, ".,") && digitAt(line, past + 1, end))) {
      throw misread("exponent", start, end);
    }
    return [bounded(text(line, first, past), negative, start, past), past];
  }

  function bounded(found, negative, start, past) {
    const size = found.replace(/^0+/, "") || "0";
    if (size.length > 2 || Number(size) > Steadyrail.tables.most.power) throw misread("power", start, past);
    return negative ? 0 - Number(size) : Number(size);
  }

  // Where prefix and unit stand; one full stop, comma or semicolon at the end is set aside.
  function rest(line, at, end) {
    const tables = Steadyrail.tables;
    let [first, past] = trim(line, at, end);
    if (past > first && ".,;".includes(line[past - 1])) [first, past] = trim(line, first, past - 1);
    if (first < past && isInverse(line, first, past)) first += 1;
    if (digitAt(line, first, past)) throw misread("grouping", 0, past);
    for (let place = first; place < past; place += 1) {
      const char = line[place];
      const follows = skip(line, place + 1, past);
      const slash = char === "/" && !oneOf(line, follows, past, DIGITS + ".");
      if ((tables.operators.includes(char) || tables.superscripts.includes(char)) && !slash) {
        throw misread("arithmetic", 0, past);
      }
    }
    return [first, past];
  }

  // The unit at [first, past), or no unit and the power of a prefix standing alone.
  function readUnit(line, first, past, unit) {
    const tables = Steadyrail.tables;
    const word = text(line, first, past).replaceAll(" ", "");
    if (!word) return [null, 0];
    const prefix = entry(tables.prefixes, word);
    // K is kelvin where a temperature is asked for and kilo elsewhere: 47K.
    const kelvin = tokenOf(word) && tables.units[unit].exponents.join() === "0,0,0,1";
    if (prefix !== undefined && !kelvin) return [null, prefix];
    const token = tokenOf(word) || quotient(word);
    if (!token) throw misread("unknown-unit", first, past);
    return [token, 0];
  }

  function quotient(word) {
    const slash = word.indexOf("/");
    if (slash < 0) return null;
    const above = slash === 0 ? { code: "", exponents: [0, 0, 0, 0], power: 0 } : tokenOf(word.slice(0, slash));
    const below = tokenOf(word.slice(slash + 1));
    if (!above || !below) return null;
    return {
      code: "",
      exponents: above.exponents.map((exponent, at) => exponent - below.exponents[at]),
      power: above.power - below.power,
    };
  }

  function checkKind(token, unit, first, past, line) {
    const tables = Steadyrail.tables;
    if (token.code === "K" && unit === "degC") throw misread("kelvin", first, past);
    const agree = token.exponents.join() === tables.units[unit].exponents.join();
    if (agree && (token.code === "dB") === (unit === "dB")) return;
    let got = `a quantity in ${text(line, first, past)}`;
    if (token.code) got = tables.units[token.code].kind;
    else got = entry(tables.kinds, token.exponents.join()) || got;
    throw misread("wrong-kind", first, past, got);
  }

  function read(points, unit, decimalComma) {
    const tables = Steadyrail.tables;
    if (points.length > tables.most.characters) throw misread("too-long", tables.most.characters, points.length);
    const line = points.map((char) => entry(tables.alike, char) || char);
    let [start, end] = trim(line, 0, line.length);
    start = afterRelation(line, start, end);
    if (start === end) throw misread("empty", 0, points.length);
    const signed = "+-".includes(line[start]);
    const at = signed ? skip(line, start + 1, end) : start;
    const number = readNumber(line, start, at, end, decimalComma);
    const letterUnit = number.letter ? tables.letters[number.letter].unit : "";
    let [first, past] = rest(line, number.end, end);
    let [token, prefix] = readUnit(line, first, past, unit);
    const bare = token === null && first === past && !number.letter;
    const fits = token === null || (token.power === 0 && (letterUnit === "" || letterUnit === token.code));
    if (number.letter && (prefix !== 0 || !fits)) throw misread("unknown-unit", first, past);
    if (token === null && letterUnit) {
      token = tokenOf(letterUnit);
      [first, past] = [start, number.end];
    }
    if (token !== null) checkKind(token, unit, first, past, line);
    const power = number.power + (token === null ? prefix : token.power);
    const size = Number(`${number.digits}e${power}`);
    return {
      value: signed && line[start] === "-" && size !== 0 ? -size : size,
      figures: number.digits.replace(/^0+/, "").length || 1,
      unitGiven: token !== null,
      reason: "",
      columns: null,
      fault: "",
      step: Number(`1e${power}`),
      bare: bare,
    };
  }

  // What was read: the value in SI of the unit asked for, or null with the reason, the columns and the fault.
  Steadyrail.readQuantity = function (typed, unit, decimalComma) {
    const points = Array.from(typed);
    try {
      return read(points, unit, Boolean(decimalComma || Steadyrail.readsComma));
    } catch (found) {
      if (!found.misread) throw found;
      const tables = Steadyrail.tables;
      const slots = [
        ["{got}", found.got],
        ["{asked}", tables.asked[unit]],
        ["{found}", text(points, found.first, found.past)],
      ];
      let reason = tables.sentences[found.misread];
      for (const [slot, words] of slots) reason = reason.split(slot).join(words);
      return {
        value: null,
        figures: 0,
        unitGiven: false,
        reason: reason,
        columns: [found.first + 1, found.past + 1],
        fault: found.misread,
        step: 0,
        bare: false,
      };
    }
  };
})();
