// Numbers with their units, and names of symbols: the counterpart of tutor/working/literals.py and names.py, function
// for function. Every function takes the place of its first token and gives back what it read and the place after it.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const reader = (Steadyrail.reader = Steadyrail.reader || {});
  const PURE = [0, 0, 0, 0];

  function lines() {
    return Steadyrail.tables.lines;
  }

  function literalOf(numeral, scales, columns) {
    const every = scales.length > 0 ? scales : [{ code: "", exponents: null, power: 0 }];
    const meanings = every.map((one) => ({
      value: Number(`${numeral.digits}e${numeral.power + one.power}`),
      step: Number(`1e${numeral.power + one.power}`),
      exponents: one.exponents,
      unit: one.code,
    }));
    const lettered = numeral.letter ? Steadyrail.tables.letters[numeral.letter].power : 0;
    return {
      node: "literal",
      columns: columns,
      meanings: meanings,
      figures: numeral.digits.replace(/^0+/, "").length || 1,
      power: every[0].power + lettered,
      bare: scales.length === 0 && !numeral.letter,
    };
  }

  reader.literalAt = function (scope, place) {
    const numeral = scope.tokens[place].numeral;
    let [scales, past] = scalesAt(scope, place + 1, false);
    if (numeral.letter) [scales, past] = codedScales(scope, place, numeral, scales, past);
    refusePower(scope, place, past);
    return [literalOf(numeral, scales, scope.columns(place, past - 1)), past];
  };

  // The number at a place without anything that follows it.
  reader.bareLiteral = function (scope, place) {
    const numeral = scope.tokens[place].numeral;
    const unit = numeral.letter ? Steadyrail.tables.letters[numeral.letter].unit : "";
    return literalOf(numeral, unit ? [simple(unit)] : [], scope.columns(place, place));
  };

  reader.wholeLiteral = function (digits, columns) {
    return literalOf({ digits: digits, power: 0, letter: "" }, [], columns);
  };

  reader.constant = function (name, columns) {
    const meaning = { value: reader.wordMap("constants").get(name), step: 0, exponents: PURE, unit: "" };
    return { node: "literal", columns: columns, meanings: [meaning], figures: 0, power: 0, bare: true };
  };

  // The unit at a place after a bracket, root or power, as one of that unit; null when none stands there.
  reader.unitLiteral = function (scope, place, opened) {
    if (!scope.isKind(place, "run")) return null;
    const [scales, past] = scalesAt(scope, place, true);
    if (past === place) return null;
    refusePower(scope, opened, past);
    const meanings = scales.map((one) => {
      return { value: Number(`1e${one.power}`), step: 0, exponents: one.exponents, unit: one.code };
    });
    const literal = { node: "literal", columns: scope.columns(place, past - 1), meanings: meanings };
    return [Object.assign(literal, { figures: 0, power: scales[0].power, bare: false }), past];
  };

  // What the number before a place is counted in, every meaning of it, and the place after.
  function scalesAt(scope, place, after) {
    const inverse = after ? null : inverseAt(scope, place);
    if (inverse !== null) return inverse;
    const token = scope.at(place);
    if (token === null || token.kind !== "run") return [[], place];
    const joined = scope.isJoined(place);
    const row = reader.mapOf("collisions", () => lines().collisions.rows).get(token.text);
    if (scope.isSymbol(place)) {
      if (row === undefined) return [[], place];
      const clash = after ? row.after : joined ? row.joined : row.apart;
      if (clash === "symbol" || (clash === "factor" && reader.beginsFactor(scope, place + 1))) return [[], place];
      if (clash !== "unit") throw scope.broken("two-readings", after ? place : place - 1, place);
    }
    const prefix = reader.prefixOf(token.text);
    if (prefix !== undefined) {
      const together = prefixedAt(scope, place);
      if (together !== null) return together;
    }
    // Of the prefixes only K is a unit as well: mega is no megampere.
    const counts = prefix === undefined || token.text === lines().collisions.prefixAndUnit;
    if (reader.tokenOf(token.text) !== undefined && counts) return unitAt(scope, place, joined);
    if (prefix === undefined) return [[], place];
    if (!joined && !scope.isEnder(place + 1)) throw scope.broken("prefix", place, place);
    return [[{ code: "", exponents: null, power: prefix }], place + 1];
  }

  function unitAt(scope, place, joined) {
    const spelling = scope.tokens[place].text;
    const under = underAt(scope, place + 1);
    if (under !== null) return [[quotient(simple(spelling), under)], place + 3];
    if (spelling !== lines().collisions.prefixAndUnit) return [[simple(spelling)], place + 1];
    const kilo = { code: "", exponents: null, power: reader.prefixOf(spelling) };
    if (joined) return [[kilo, simple(spelling)], place + 1];
    return [scope.isEnder(place + 1) ? [simple(spelling), kilo] : [simple(spelling)], place + 1];
  }

  function neverUnder(spelling) {
    return lines().collisions.neverUnder.includes(spelling);
  }

  // The spelling of the unit under a slash at a place; null when the slash divides by something else.
  function underAt(scope, place) {
    const token = scope.at(place + 1);
    if (!scope.isSign(place, "/") || token === null || token.kind !== "run") return null;
    if (reader.tokenOf(token.text) === undefined || neverUnder(token.text)) return null;
    if (!scope.isSymbol(place + 1)) return token.text;
    if (scope.isJoined(place) && scope.isJoined(place + 1)) {
      throw scope.broken("two-readings", Math.max(place - 2, 0), place + 1);
    }
    return null;
  }

  // The unit 1/K or /K at a place.
  function inverseAt(scope, place) {
    const one = scope.at(place);
    if (one === null) return null;
    const slash = one.kind === "number" && one.text === "1" && scope.isJoined(place + 1) ? place + 1 : place;
    if (!scope.isSign(slash, "/") || !scope.isJoined(slash + 1) || !scope.isKind(slash + 1, "run")) return null;
    const spelling = scope.tokens[slash + 1].text;
    if (reader.tokenOf(spelling) === undefined || neverUnder(spelling) || scope.isSymbol(slash + 1)) return null;
    return [[quotient({ code: "1", exponents: PURE, power: 0 }, spelling)], slash + 2];
  }

  // A prefix and its unit as two words: 5 kilo ohms, 276 k Ω.
  function prefixedAt(scope, place) {
    const follows = scope.at(place + 1);
    if (follows === null || follows.kind !== "run" || scope.isSymbol(place + 1)) return null;
    const together = scope.tokens[place].text + follows.text;
    return reader.tokenOf(together) !== undefined && scope.isGap(place + 1) ? [[simple(together)], place + 2] : null;
  }

  function simple(spelling) {
    return reader.tokenOf(spelling);
  }

  function quotient(over, spelling) {
    const under = reader.tokenOf(spelling);
    const difference = (code) => (code === "degC" ? "K" : code);
    return {
      code: `${difference(over.code)}/${difference(under.code)}`,
      exponents: over.exponents.map((exponent, at) => exponent - under.exponents[at]),
      power: over.power - under.power,
    };
  }

  // The scales of a code such as 4k7 or 5V6, which may be followed by its plain unit only.
  function codedScales(scope, place, numeral, scales, past) {
    const token = scope.tokens[place];
    const tail = Array.from(token.text).slice(numeral.code - token.first).join("");
    if (numeral.code > token.first && reader.resolve(scope.vocabulary, tail).standing !== "unknown") {
      throw scope.broken("two-readings", place, place);
    }
    const implied = Steadyrail.tables.letters[numeral.letter].unit;
    if (scales.length === 0) return [implied ? [simple(implied)] : [], past];
    const plain = scales.filter((one) => one.exponents !== null && one.power === 0);
    const fitting = plain.filter((one) => implied === "" || implied === one.code);
    if (fitting.length === 0) throw scope.broken("unit-twice", place, past - 1);
    return [fitting, past];
  }

  // A unit raised to a power could mean the unit alone or the whole number.
  function refusePower(scope, first, past) {
    const raised = scope.isKind(past, "power");
    if (past === first + 1 || !(raised || scope.isSign(past, "^"))) return;
    throw scope.broken("unit-power", first, raised || scope.at(past + 1) === null ? past : past + 1);
  }

  // Whether a number, a symbol, a function, a root or a bracket of values begins at a place.
  reader.beginsFactor = function (scope, place) {
    const token = scope.at(place);
    if (token === null) return false;
    if (["number", "fraction"].includes(token.kind) || (token.kind === "sign" && token.text === "√")) return true;
    if (token.kind === "open") return !scope.isRemark(place);
    if (token.kind !== "run") return false;
    const kind = scope.runKind(place);
    if (kind === "symbol" || kind === "constant" || (kind === "function" && !scope.isEnd(place))) return true;
    return token.numeral !== null || reader.isChange(scope, place);
  };

  // Whether the sign of a change stands alone before a run: Δ V_O.
  reader.isChange = function (scope, place) {
    const token = scope.at(place);
    return token !== null && reader.words("changes").has(token.text) && scope.isKind(place + 1, "run");
  };

  reader.pastRemarks = function (scope, place) {
    while (scope.isRemark(place)) place = scope.tokens[place].partner + 1;
    return place;
  };

  // A symbol with the word that names its end, if one follows: I_Z max, V_I (min).
  reader.nameAt = function (scope, first, last, typed) {
    const found = reader.resolve(scope.vocabulary, typed);
    if (found.standing === "unknown") throw scope.unknownChange(first, last, typed);
    let name = found.name;
    let past = last + 1;
    if (found.standing === "circuit") {
      const inside = scope.isKind(past, "open") && scope.isKind(past + 2, "close");
      const at = inside ? past + 1 : past;
      const end = reader.wordMap("ends").get(scope.word(at));
      if (end !== undefined && (inside || (scope.isEnd(at) && scope.isGap(at)))) {
        if (reader.holds(scope.vocabulary, `${name}_${end}`)) {
          name = `${name}_${end}`;
          past += inside ? 3 : 1;
        }
      }
    }
    return [{ node: "name", columns: scope.columns(first, past - 1), name: name, standing: found.standing }, past];
  };

  // A symbol after the word that names its end: max I_Z, the least R; null when none stands there.
  reader.endedNameAt = function (scope, place) {
    if (!scope.isEnd(place) || !scope.isSymbol(place + 1)) return null;
    const name = `${scope.name(place + 1)}_${reader.wordMap("ends").get(scope.word(place))}`;
    if (!reader.holds(scope.vocabulary, name)) return null;
    return [{ node: "name", columns: scope.columns(place, place + 1), name: name, standing: "circuit" }, place + 2];
  };
})();
