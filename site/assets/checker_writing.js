// How the checker writes a number and which values are preferred: the counterpart of tutor/quantities/quantity.py (its
// `write`) and of tutor/quantities/preferred.py, function for function; and the table of the checker's sentences.
// A decimal is { negative, digits, power }: its digits as text, times ten to `power`.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const tables = Steadyrail.tables.checking;
  const EXACT_FIGURES = tables.writing.EXACT_FIGURES;
  const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

  // A sentence of the table with its slots filled.
  checker.say = function (saying, slots) {
    return tables.sayings[saying].replace(/\{([a-z_]+)\}/g, (whole, slot) => slots[slot]);
  };

  // The shortest decimal that reads as this double.
  function decimalOf(value) {
    const [, sign, first, rest, power] = /^(-?)([0-9])(?:\.([0-9]+))?e([+-][0-9]+)$/.exec(value.toExponential());
    const more = rest || "";
    return { negative: sign === "-", digits: first + more, power: Number(power) - more.length };
  }

  // Where the first digit stands: the power of ten that it counts.
  function adjusted(number) {
    return number.power + number.digits.length - 1;
  }

  // The digits cut after `kept` of them, rounded half up; a carry may add one.
  function cut(number, kept) {
    const places = [...number.digits.slice(0, kept)].map(Number);
    for (let at = kept - 1, carry = number.digits[kept] >= "5" ? 1 : 0; carry; at -= 1) {
      if (at < 0) {
        places.unshift(1);
        break;
      }
      carry = places[at] === 9 ? 1 : 0;
      places[at] = carry ? 0 : places[at] + 1;
    }
    return { negative: number.negative, digits: places.join(""), power: number.power + number.digits.length - kept };
  }

  // At most so many figures, as a decimal context of that precision rounds.
  function plus(number, figures) {
    if (number.digits.length <= figures) return number;
    const found = cut(number, figures);
    if (found.digits.length <= figures) return found;
    return { negative: found.negative, digits: found.digits.slice(0, figures), power: found.power + 1 };
  }

  function rounded(value, figures) {
    return plus(plus(decimalOf(value), EXACT_FIGURES), figures);
  }

  // Rounded to a whole number of ten to `power`, with zeros where they are figures.
  function quantized(number, power) {
    if (power <= number.power) {
      const digits = number.digits + "0".repeat(number.power - power);
      return { negative: number.negative, digits: digits, power: power };
    }
    return cut(number, number.digits.length - (power - number.power));
  }

  function normalized(number) {
    const digits = number.digits.replace(/0+$/, "");
    return { negative: number.negative, digits: digits, power: number.power + number.digits.length - digits.length };
  }

  // The number to print: one more figure when it starts with 1, trailing zeros only where they are figures.
  function written(value, figures) {
    const exact = rounded(value, EXACT_FIGURES);
    let found = rounded(value, figures);
    if (found.digits[0] === "1" && figures < EXACT_FIGURES) found = quantized(exact, adjusted(found) - figures);
    const [plain, all] = [normalized(found), normalized(exact)];
    return plain.digits === all.digits && plain.power === all.power ? plain : found;
  }

  function shifted(number, power) {
    return { negative: number.negative, digits: number.digits, power: number.power + power };
  }

  // The prefix that leaves 1 to 1000 before the unit, or the nearest one the unit takes, as its power of ten.
  function prefixOf(number, unit) {
    const power = adjusted(number);
    const size = Number(`${number.digits}e${number.power}`);
    if (unit.powers.includes(0) && unit.plainFrom <= size && power < 0) return 0;
    let best = unit.powers[0];
    for (const candidate of unit.powers) if (power >= candidate) best = candidate;
    return best;
  }

  function plainText(number) {
    const { digits, power } = number;
    if (power >= 0) return digits + "0".repeat(power);
    const whole = digits.slice(0, power);
    return `${whole || "0"}.${digits.slice(whole.length).padStart(-power, "0")}`;
  }

  // A decimal number with U+2212 for minus; powers of ten only below 0.001 and from a million on.
  function writeNumber(number) {
    const sign = number.negative ? "−" : "";
    const power = adjusted(number);
    if (power >= -3 && power < 6) return sign + plainText(number);
    const raised = [...String(power)].map((char) => (char === "-" ? "⁻" : SUPERSCRIPTS[Number(char)])).join("");
    return `${sign}${plainText(shifted(number, -power))} × 10${raised}`;
  }

  // A value (SI) with its unit as people read it.
  checker.write = function (value, code, figures) {
    const unit = Steadyrail.tables.units[code];
    const printed = tables.printed.units[code];
    if (value === 0) return `0 ${printed}`.trimEnd();
    const number = shifted(written(value, figures || tables.writing.DEFAULT_FIGURES), unit.shownPower);
    const power = prefixOf(number, unit);
    let scaled = shifted(number, -power);
    // Where no larger prefix is used, 6944 µF: a zero before the point would stand for a figure.
    if (scaled.power > 0 && adjusted(scaled) < 6) {
      scaled = quantized(shifted(rounded(value, EXACT_FIGURES), unit.shownPower - power), 0);
    }
    return `${writeNumber(scaled)} ${tables.printed.prefixes[power]}${printed}`.trimEnd();
  };

  // A number as Python's `g` writes it: six figures at most, no zeros behind.
  checker.general = function (value) {
    const [mantissa, power] = value.toExponential(5).split("e");
    if (Number(power) >= -4 && Number(power) < 6) return String(Number(value.toPrecision(6)));
    const size = Math.abs(Number(power));
    return `${Number(mantissa)}e${Number(power) < 0 ? "-" : "+"}${size < 10 ? "0" : ""}${size}`;
  };

  const allValues = new Map();

  // Every preferred value of a series, rising; built from decimal text, so that 4.7 kΩ is the double nearest 4700.
  function valuesOf(series) {
    if (!allValues.has(series)) {
      const mantissas = tables.series[series];
      const shift = String(mantissas[0]).length - 1;
      const values = [];
      for (let power = tables.preferred.LEAST_POWER; power < tables.preferred.GREATEST_POWER; power += 1) {
        for (const mantissa of mantissas) values.push(Number(`${mantissa}e${power - shift}`));
      }
      allValues.set(series, values);
    }
    return allValues.get(series);
  }

  function atOrBelow(value, series) {
    const most = value * (1 + tables.preferred.SLACK);
    let found = null;
    for (const item of valuesOf(series)) if (item <= most) found = item;
    return found;
  }

  function atOrAbove(value, series) {
    const least = value * (1 - tables.preferred.SLACK);
    return valuesOf(series).find((item) => item >= least);
  }

  // The preferred value nearest in ratio, the smaller of two equally near.
  checker.nearestTo = function (value, series) {
    const [below, above] = [atOrBelow(value, series), atOrAbove(value, series)];
    return value * value <= below * above * (1 + tables.preferred.SLACK) ? below : above;
  };

  checker.isPreferred = function (value, series) {
    return value > 0 && Math.abs(checker.nearestTo(value, series) - value) <= tables.preferred.SLACK * value;
  };
})();
