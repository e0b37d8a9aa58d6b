// The tokens of one line and what each of its runs is: the counterpart of tutor/working/runs.py, method for method.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const reader = (Steadyrail.reader = Steadyrail.reader || {});
  const WORDS = ["listed", "plain"];
  const ENDERS = ["power", "relation", "close", "comma", "colon", "break", "stop", "so", "question", "tick"];

  // A unit by one of its spellings; undefined when there is none.
  reader.tokenOf = function (spelling) {
    const found = reader.mapOf("tokens", () => Steadyrail.tables.tokens).get(spelling);
    return found && { code: found[0], exponents: Steadyrail.tables.units[found[0]].exponents, power: found[1] };
  };

  // The power of ten of a prefix; undefined when it is none.
  reader.prefixOf = function (spelling) {
    return reader.mapOf("prefixes", () => Steadyrail.tables.prefixes).get(spelling);
  };

  // Three small letters or more, or any character that no symbol has.
  function looksLikeAWord(spelling) {
    if (Array.from(spelling).some((char) => reader.isForeign(char))) return true;
    return /^[a-z][a-z']+[a-z]$/.test(spelling);
  }

  function kindOf(spelling, small, standing) {
    if (standing !== "unknown") return "symbol";
    if (reader.wordMap("functions").has(small)) return "function";
    if (reader.wordMap("constants").has(spelling)) return "constant";
    if (reader.words("listed").has(small)) return "listed";
    if (reader.tokenOf(spelling) !== undefined || reader.prefixOf(spelling) !== undefined) return "unit";
    return looksLikeAWord(spelling) ? "plain" : "strange";
  }

  class Scope {
    constructor(points, tokens, vocabulary) {
      this.points = points;
      this.tokens = tokens;
      this.vocabulary = vocabulary;
      this.said = tokens.map((one) => (one.kind === "run" ? reader.lowered(one.text) : ""));
      this.names = tokens.map((one) => (one.kind === "run" ? reader.resolve(vocabulary, one.text) : null));
      this.kinds = tokens.map((one, at) => {
        return this.names[at] === null ? null : kindOf(one.text, this.said[at], this.names[at].standing);
      });
    }

    at(place) {
      return this.tokens[place] || null;
    }

    isSign(place, signs) {
      const token = this.at(place);
      return token !== null && token.kind === "sign" && signs.includes(token.text);
    }

    isKind(place, ...kinds) {
      const token = this.at(place);
      return token !== null && kinds.includes(token.kind);
    }

    // The run at a place in small letters, '' when no run stands there.
    word(place) {
      return this.said[place] || "";
    }

    says(place, words) {
      return reader.words(words).has(this.word(place));
    }

    runKind(place) {
      return this.kinds[place] || null;
    }

    isSymbol(place) {
      return this.runKind(place) === "symbol";
    }

    isUnit(place, code) {
      const token = this.at(place);
      const found = token !== null && !this.isSymbol(place) ? reader.tokenOf(token.text) : undefined;
      return found !== undefined && found.code === code;
    }

    name(place) {
      return this.names[place] === null ? "" : this.names[place].name;
    }

    isWord(place) {
      return WORDS.includes(this.runKind(place)) || (this.runKind(place) === "function" && this.isEnd(place));
    }

    isListed(place) {
      return this.runKind(place) === "listed" || (this.runKind(place) === "function" && this.isEnd(place));
    }

    // Whether a word for an end of a range stands at a place, and not the function of that name.
    isEnd(place) {
      const token = this.at(place);
      const follows = this.at(place + 1);
      if (token === null || !reader.wordMap("ends").has(this.word(place)) || this.isSymbol(place)) return false;
      if (follows === null || follows.kind !== "open") return true;
      return follows.first > token.past && WORDS.includes(this.runKind(place + 2));
    }

    isGap(place) {
      return place > 0 && this.tokens[place].first > this.tokens[place - 1].past;
    }

    isJoined(place) {
      return place > 0 && place < this.tokens.length && this.tokens[place].first === this.tokens[place - 1].past;
    }

    // Whether a bracket that holds words opens at a place; broken when a relation stands among them.
    isRemark(place) {
      const token = this.at(place);
      if (token === null || token.kind !== "open" || token.partner < 0) return false;
      if (this.lineNumberGap(place) > 1 || this.isRange(place)) return true;
      const listed = this.isListed(place + 1) || this.says(place + 1, "series") || this.isKind(place + 1, "tick");
      if (!listed && !(this.isWord(place + 1) && this.isWord(place + 2))) {
        if (this.isKind(place + 1, "relation")) this.breaks(place);
        return false;
      }
      if (this.tokens.slice(place + 1, token.partner).some((one) => one.kind === "relation")) this.breaks(place);
      const valued = this.isSymbol(place + 2) || this.isKind(place + 2, "number", "fraction", "open");
      return !(valued && (this.says(place + 1, "operators") || this.says(place + 1, "joiners")));
    }

    // Whether a bracket after a value holds a range and no relation: R = 180 Ω (171 Ω to 189 Ω).
    isRange(place) {
      let ranged = false;
      for (let at = place + 1; at < this.tokens[place].partner; at += 1) {
        if (this.tokens[at].kind === "relation") return false;
        ranged = ranged || this.word(at) === "to" || this.tokens[at].text === "…";
      }
      return place > 0 && ranged;
    }

    // How far a whole number in brackets that ends a chain stands apart; 0 for anything else.
    lineNumberGap(place) {
      const inner = this.at(place + 1);
      const follows = this.at(place + 3);
      if (inner === null || inner.numeral === null || inner.kind !== "number") return 0;
      if (follows !== null && !["comma", "break", "stop", "tick"].includes(follows.kind)) return 0;
      const whole = place > 0 && inner.numeral.whole && this.tokens[place].partner === place + 2;
      return whole ? this.tokens[place].first - this.tokens[place - 1].past : 0;
    }

    breaks(place) {
      const close = this.tokens[this.tokens[place].partner];
      throw reader.broken("second-chain", this.tokens[place + 1].first, close.first);
    }

    // Whether what stands at a place goes on with no product.
    isEnder(place) {
      const token = this.at(place);
      if (token === null || ENDERS.includes(token.kind)) return true;
      if (token.kind === "sign") return token.text !== "√";
      return this.isListed(place) || this.isRemark(place);
    }

    broken(fault, first, last, near) {
      return reader.broken(fault, this.tokens[first].first, this.tokens[last].past, near);
    }

    near(typed) {
      return reader.near(this.vocabulary, typed);
    }

    // What is wrong with a run that is nothing where a symbol or a number belongs.
    unknown(place) {
      if (this.says(place, "notFinite")) return this.broken("not-finite", place, place);
      const kind = this.runKind(place);
      if (kind !== "listed") {
        const near = this.near(this.tokens[place].text);
        if (near !== null) return this.broken("unknown-symbol", place, place, near);
      }
      const called = this.isKind(place + 1, "open") && this.isJoined(place + 1);
      return this.broken(WORDS.includes(kind) && !called ? "word" : "unknown-name", place, place);
    }

    // What is wrong with a run that is nothing, directly after a number.
    unknownAfterNumber(place) {
      const text = Array.from(this.tokens[place].text);
      let symbol = text.slice(1, -1).includes("_");
      if (!symbol && this.isGap(place)) {
        let begins = false;
        for (let past = 2; past < text.length; past += 1) {
          if (reader.tokenOf(text.slice(0, past).join("")) !== undefined) begins = true;
        }
        symbol = !begins && this.near(text.join("")) !== null;
      }
      if (symbol || this.runKind(place) === "plain") return this.unknown(place);
      return this.broken("unknown-unit", place, place);
    }

    unknownChange(first, last, typed) {
      if (first === last) return this.unknown(first);
      const near = this.near(typed);
      return this.broken(near === null ? "unknown-name" : "unknown-symbol", first, last, near);
    }

    // What is wrong where a number, a symbol or a bracket belongs and none stands.
    unfit(place) {
      const token = this.at(place);
      const before = this.at(place - 1);
      if (token !== null && token.kind === "bad") return this.broken(token.fault, place, place);
      const waiting = before !== null && ["sign", "relation", "open"].includes(before.kind);
      if (token === null) return this.broken(waiting ? "nothing-after" : "character", place - 1, place - 1);
      if (token.kind === "sign" || token.kind === "power") {
        if (before !== null && before.kind === "sign") return this.broken("two-operators", place - 1, place);
        return this.broken("nothing-before", place, place);
      }
      if (token.kind === "relation" && before !== null && before.kind === "relation") {
        return this.broken("two-relations", place - 1, place);
      }
      if (token.kind === "close" && token.partner < 0 && (before === null || before.kind !== "sign")) {
        return this.broken("close-bracket", place, place);
      }
      if (waiting && token.kind !== "other") return this.broken("nothing-after", place - 1, place - 1);
      if (token.kind === "relation") return this.broken("nothing-before", place, place);
      if (token.kind === "run") return this.unknown(place);
      return this.broken("character", place, place);
    }

    columns(first, last) {
      return [this.tokens[first].first + 1, this.tokens[last].past + 1];
    }
  }

  reader.scopeOf = function (points, vocabulary) {
    return new Scope(points, reader.tokensOf(points, vocabulary), vocabulary);
  };
})();
