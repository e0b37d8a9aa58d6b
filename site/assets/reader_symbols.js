// Which symbol a typed name means: the counterpart of tutor/working/vocabulary.py, of the alphabet it rests on, and of
// the names of tutor/quantities/symbols.py, function for function. Tables come from Steadyrail.tables.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const reader = (Steadyrail.reader = Steadyrail.reader || {});
  const DIGITS = "0123456789";
  const ENDS = ["_MIN", "_MAX", "_NOM"];
  const MARKS = "{}(),";
  const CIRCUIT = "circuit";
  const OWN = "own";
  const UNKNOWN = "unknown";
  const made = new Map();

  // A table as a Map or Set, made once: text such as "constructor" must find nothing.
  reader.mapOf = function (name, table) {
    if (!made.has(name)) made.set(name, new Map(Object.entries(table())));
    return made.get(name);
  };
  reader.setOf = function (name, table) {
    if (!made.has(name)) made.set(name, new Set(table()));
    return made.get(name);
  };
  reader.words = function (name) {
    return reader.setOf("words " + name, () => Steadyrail.tables.lines.words[name]);
  };
  reader.wordMap = function (name) {
    return reader.mapOf("words " + name, () => Steadyrail.tables.lines.words[name]);
  };

  // A letter of a name: Latin without accents, Greek, or the micro sign.
  reader.isLetter = function (char) {
    if ((char >= "a" && char <= "z") || (char >= "A" && char <= "Z")) return true;
    const point = char.codePointAt(0);
    return (point >= 0x370 && point <= 0x3ff) || point === 0xb5;
  };

  reader.isNameChar = function (char) {
    return reader.isLetter(char) || DIGITS.includes(char) || Steadyrail.tables.lines.alphabet.joined.includes(char);
  };

  reader.isForeign = function (char) {
    if (char.codePointAt(0) < 0x80 || reader.isNameChar(char)) return false;
    return !reader.setOf("special", () => Array.from(Steadyrail.tables.lines.alphabet.special)).has(char);
  };

  reader.isRunChar = function (char) {
    return reader.isNameChar(char) || reader.isForeign(char);
  };

  // Latin capitals made small, everything else kept.
  reader.lowered = function (text) {
    return text.replace(/[A-Z]/g, (char) => char.toLowerCase());
  };

  function everyNameChar(text, more) {
    return Array.from(text).every((char) => reader.isNameChar(char) || more.includes(char));
  }

  function stripEnd(text, characters) {
    let past = text.length;
    while (past > 0 && characters.includes(text[past - 1])) past -= 1;
    return text.slice(0, past);
  }

  function isBase(name) {
    return reader.setOf("symbols", () => Steadyrail.tables.lines.symbols.names).has(name);
  }

  // Base of a name without its suffixes; the longest base wins.
  function baseOf(name) {
    let stem = name;
    if (!isBase(name) && ENDS.includes(name.slice(-4))) stem = name.slice(0, -4);
    const found = /^(.+?)((?:_[1-9])?)(?:_P)?$/.exec(stem);
    if (found === null) return null;
    for (const base of [stem, found[1] + found[2], found[1]]) if (isBase(base)) return base;
    return null;
  }

  function isSymbol(name) {
    if (isBase(name) || baseOf(name) !== null) return true;
    const changed = name.startsWith("D") ? baseOf(name.slice(1)) : null;
    return changed !== null && (changed.length > 1 || changed === "R");
  }

  function fold(text) {
    const bare = text.replaceAll("_", "");
    return bare.length === 1 ? bare : bare.toLowerCase();
  }

  function folded(text) {
    const found = reader.mapOf("folded", () => Steadyrail.tables.lines.symbols.folded).get(fold(text));
    return found === undefined ? null : found;
  }

  function resolveSuffixed(typed) {
    let direct = folded(typed);
    if (direct !== null) return direct;
    let end = "";
    for (const word of ["min", "max", "nom"]) {
      if (typed.toLowerCase().endsWith(word)) {
        end = "_" + word.toUpperCase();
        typed = stripEnd(typed.slice(0, -3), "_");
        break;
      }
    }
    direct = folded(typed);
    if (direct !== null && typed) return direct + end;
    let stage = "";
    if (typed.endsWith("P") || typed.endsWith("_p")) {
      stage = "_P";
      typed = stripEnd(typed.slice(0, -1), "_");
    }
    direct = folded(typed);
    const last = typed.slice(-1);
    if (direct === null && last !== "" && "123456789".includes(last)) {
      stage = "_" + last + stage;
      typed = stripEnd(typed.slice(0, -1), "_");
      direct = folded(typed);
    }
    return direct === null ? null : direct + stage + end;
  }

  // The symbol a learner means by a typed name: exact name first, then aliases, also with suffixes.
  function resolveAlias(text) {
    const symbols = Steadyrail.tables.lines.symbols;
    if (text === "" || text.length > 40) return null;
    if (isSymbol(text)) return text;
    if (symbols.noNames.includes(text)) return null;
    const typed = text.replace(/[({,]_?(min|max|nom|sat|on)[)}]?$/i, "_$1");
    const plain = resolveSuffixed(typed);
    if (plain !== null) return plain;
    for (const mark of symbols.changeMarks) {
      if (!typed.startsWith(mark)) continue;
      const base = resolveSuffixed(typed.slice(mark.length).replace(/^_+/, ""));
      if (base !== null && isSymbol("D" + base)) return "D" + base;
      if (base === "T") return "DT";
    }
    return null;
  }

  // V_{BE,1} as V_BE1 and V_{I,max} as V_I,max.
  function withoutBraces(typed) {
    let bare = "";
    for (let at = 0; at < typed.length; at += 1) {
      const follows = typed[at + 1];
      const separates = typed[at] === "," && follows !== undefined && DIGITS.includes(follows);
      if (!"{}".includes(typed[at]) && !separates) bare += typed[at];
    }
    return bare;
  }

  function spelled(aliases, bare) {
    for (const alias of Object.keys(aliases).sort()) {
      if (bare === alias || fold(bare) === fold(alias)) return aliases[alias];
    }
    return null;
  }

  // By one of the circuit's own spellings, with an end or a change if need be.
  function byAlias(aliases, bare) {
    const direct = spelled(aliases, bare);
    if (direct !== null) return direct;
    const stem = bare.endsWith(")") ? bare.slice(0, -1) : bare;
    for (const end of ENDS) {
      const word = reader.lowered(end.slice(1));
      if (!reader.lowered(stem).endsWith(word)) continue;
      const name = spelled(aliases, stripEnd(stem.slice(0, -word.length), "_(,"));
      if (name !== null) return name + end;
    }
    const changed = "ΔdD".includes(bare[0] || " ") ? byAlias(aliases, bare.slice(1)) : null;
    return changed === null ? null : "D" + changed;
  }

  // Whether a name of the table is one of the circuit's, with or without an end or a change.
  reader.holds = function (vocabulary, name) {
    const stem = ENDS.includes(name.slice(-4)) ? name.slice(0, -4) : name;
    const bases = [name, stem];
    if (name.startsWith("D")) bases.push(name.slice(1), stem.slice(1));
    return isSymbol(name) && bases.some((base) => vocabulary.symbols.includes(base));
  };

  function circuits(vocabulary, typed) {
    if (Array.from(typed).length > Steadyrail.tables.lines.most.name || !everyNameChar(typed, MARKS)) return null;
    const bare = withoutBraces(typed);
    let name = Object.keys(vocabulary.aliases).length > 0 ? byAlias(vocabulary.aliases, bare) : null;
    if (name === null) name = resolveAlias(bare);
    return name !== null && reader.holds(vocabulary, name) ? name : null;
  }

  // A small r for a resistance and U for a voltage, where nothing else has that name.
  function loosely(vocabulary, typed) {
    const letter = Steadyrail.tables.lines.loosely[Array.from(typed)[0]];
    return letter === undefined ? null : circuits(vocabulary, letter + typed.slice(1));
  }

  // The name of a typed symbol and whose it is; an unknown one keeps its spelling.
  reader.resolve = function (vocabulary, typed) {
    const name = circuits(vocabulary, typed);
    if (name !== null) return { name: name, standing: CIRCUIT };
    if (vocabulary.own.includes(typed)) return { name: typed, standing: OWN };
    const loose = loosely(vocabulary, typed);
    return loose === null ? { name: typed, standing: UNKNOWN } : { name: loose, standing: CIRCUIT };
  };

  // The longest run of characters that two texts share: its places and its length, the earliest of several.
  function longestMatch(a, fromA, toA, b, fromB, toB) {
    let best = [fromA, fromB, 0];
    let lengths = new Map();
    for (let i = fromA; i < toA; i += 1) {
      const here = new Map();
      for (let j = fromB; j < toB; j += 1) {
        if (a[i] !== b[j]) continue;
        const length = (lengths.get(j - 1) || 0) + 1;
        here.set(j, length);
        if (length > best[2]) best = [i - length + 1, j - length + 1, length];
      }
      lengths = here;
    }
    return best;
  }

  function matched(a, fromA, toA, b, fromB, toB) {
    const [i, j, length] = longestMatch(a, fromA, toA, b, fromB, toB);
    if (length === 0) return 0;
    return length + matched(a, fromA, i, b, fromB, j) + matched(a, i + length, toA, b, j + length, toB);
  }

  // How alike two texts are, from 0 to 1: twice the characters they share in order, over all characters.
  function likeness(a, b) {
    const all = a.length + b.length;
    return all === 0 ? 1 : (2 * matched(a, 0, a.length, b, 0, b.length)) / all;
  }

  // The symbol closest in spelling, or null when nothing is close.
  reader.near = function (vocabulary, typed) {
    if (Array.from(typed).length > Steadyrail.tables.lines.most.name || !everyNameChar(typed, "")) return null;
    const small = new Map();
    for (const name of Array.from(new Set([...vocabulary.symbols, ...vocabulary.own])).sort()) {
      if (!small.has(name.toLowerCase())) small.set(name.toLowerCase(), name);
    }
    let best = null;
    let most = 0.5;
    for (const name of small.keys()) {
      const score = likeness(name, typed.toLowerCase());
      if (score > most || (score === most && (best === null || name > best))) [best, most] = [name, score];
    }
    return best === null ? null : small.get(best);
  };
})();
