// Sets somebody's own numbers into the steps that Python printed with slots (views/own_steps.py), and writes sentences
// with their letter symbols as the page sets them. Markup comes from the page's own templates; text stays text.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  const own = (Steadyrail.own = Steadyrail.own || {});
  const MATHML = "http://www.w3.org/1998/Math/MathML";
  const NUMBER = /^(−?)([0-9.]+)(?: × 10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+))?(?: (.+))?$/;
  const RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹";
  const WORD = /([A-Za-z][A-Za-z0-9_]*)/;
  const BINDING = /([0-9]) (?=[pnµmkM]?(?:V|A|Ω|W|F|Hz|%|°C|K)(?![A-Za-z]))/g;
  const ALL = 12; // figures of a number that is given

  function made(tag, text, ...children) {
    const element = document.createElementNS(MATHML, tag);
    if (text) element.textContent = text;
    element.append(...children);
    return element;
  }

  // A written number with its unit as MathML, as views/mathml.py sets one.
  function numberParts(text) {
    const found = NUMBER.exec(text);
    if (!found) return [made("mtext", text)];
    const [, sign, digits, power, unit] = found;
    const parts = sign ? [made("mo", "−")] : [];
    parts.push(made("mn", digits));
    if (power) {
      const plain = [...power].map((char) => (char === "⁻" ? "−" : String(RAISED.indexOf(char)))).join("");
      parts.push(made("mo", "×"), made("msup", "", made("mn", "10"), made("mn", plain)));
    }
    if (unit) {
      const space = made("mspace");
      space.setAttribute("width", "0.17em");
      parts.push(space, made("mtext", unit));
    }
    return parts;
  }

  function signOf(element) {
    return element && element.localName === "mo" ? element.textContent : "";
  }

  // Fills a slot. What is added and below zero is taken away instead; behind any other sign, or as a factor, it stands
  // in brackets (views/mathml.py does the same).
  function fill(slot, text) {
    const [before, after] = [slot.previousElementSibling, slot.nextElementSibling];
    const [sign, follows] = [signOf(before), signOf(after)];
    if (!text.startsWith("−")) slot.replaceChildren(...numberParts(text));
    else if (sign === "+") {
      before.textContent = "−";
      slot.replaceChildren(...numberParts(text.slice(1)));
    } else if ((sign && "−×∥".includes(sign)) || (follows && "×∥".includes(follows))) {
      slot.replaceChildren(made("mo", "("), ...numberParts(text), made("mo", ")"));
    } else slot.replaceChildren(...numberParts(text));
    slot.removeAttribute("data-slot");
  }

  // The same in the spoken form of a formula, where a unit that is a quotient stands in brackets below another.
  function spoken(pattern, texts) {
    return pattern.replace(/(\+ |− |× |∥ |\/)?\{([0-9]+)\}(?=( ×| ∥|\/)?)/g, (whole, before = "", at, after = "") => {
      const text = texts[Number(at)];
      if (before === "/" && text.includes("/")) return `/(${text})`;
      if (!text.startsWith("−")) return before + text;
      if (before === "+ ") return `− ${text.slice(1)}`;
      return before || after ? `${before}(${text})` : text;
    });
  }

  function symbolsOf(expr) {
    if (expr[0] === "s") return [expr[1]];
    return expr.flatMap((part) => (Array.isArray(part) ? symbolsOf(part) : []));
  }

  // Slope and constant of an equation of first degree in its unknown, the slope above zero.
  function collected(left, right, unknown, values) {
    const size = Math.abs(values.get(unknown)) || 1;
    const at = (value) => {
      const moved = new Map(values).set(unknown, value);
      return own.amount(left, moved) - own.amount(right, moved);
    };
    const start = at(0);
    const slope = (at(size) - start) / size;
    return slope > 0 ? [slope, -start] : [-slope, start];
  }

  // Whether a quotient or a parallel stands anywhere in an expression: what comes of it is not exact.
  function divides(expr) {
    return Array.isArray(expr) && (expr[0] === "/" || expr[0] === "||" || expr.slice(1).some(divides));
  }

  // The text of a slot: a given with all its figures, whatever was worked out with three or four.
  function slotText(slot, worked) {
    const [kind, ...rest] = slot;
    const unit = rest[rest.length - 1];
    let value = NaN;
    let figures = 3;
    if (kind === "e") {
      const expr = rest[0];
      value = own.amount(expr, worked.values);
      const whole = expr[0] === "s" || (expr[0] === "+" && !divides(expr));
      if (whole && symbolsOf(expr).every((name) => worked.exact.has(name))) figures = ALL;
    } else {
      const [slope, constant] = collected(rest[0], rest[1], rest[2], worked.values);
      value = kind === "slope" ? slope : constant;
    }
    if (!Number.isFinite(value)) return "no finite number";
    return Steadyrail.checker.write(value, unit, figures);
  }

  // A step of the solution with its numbers. `worked` holds the values and the names of those that are exact.
  own.stepWith = function (place, worked) {
    const pattern = document.getElementById(`step-${place}`).content.firstElementChild;
    const step = document.importNode(pattern, true);
    const texts = Steadyrail.ownData.steps[place].slots.map((slot) => slotText(slot, worked));
    for (const slot of step.querySelectorAll(".slot")) fill(slot, texts[Number(slot.getAttribute("data-slot"))]);
    for (const maths of step.querySelectorAll("math[alttext]")) {
      maths.setAttribute("alttext", spoken(maths.getAttribute("alttext"), texts));
    }
    const { target, rule } = Steadyrail.ownData.steps[place];
    if (rule[0] === null) step.querySelector(".lines").append(rootsTold(target, rule[1], worked));
    return step;
  };

  function rootsTold(target, coefficients, worked) {
    const numbers = coefficients.map((item) => own.amount(item, worked.values));
    const { unit } = own.symbol(target);
    const roots = [0, 1].map((which) => own.root(numbers, which)).filter(Number.isFinite);
    const written = roots.map((value) => Steadyrail.checker.write(value, unit));
    const taken = worked.roots.find((choice) => choice.target === target);
    const sentence =
      roots.length === 1
        ? `The square term vanishes with these values, and one root is left: ${written[0]}.`
        : `A quadratic: its roots are ${written.join(" and ")}; ${taken.why}.`;
    return Steadyrail.element("p", "after", ...own.sentence(sentence));
  }

  // A letter symbol as the page sets it; the name itself where the page has none.
  own.letter = function (name) {
    const template = document.getElementById(`letter-${name}`);
    return template ? document.importNode(template.content, true) : name;
  };

  function isLetter(name) {
    return Object.prototype.hasOwnProperty.call(Steadyrail.ownData.symbols, name);
  }

  // A sentence as nodes, its letter symbols set as such, its units bound to their numbers.
  own.sentence = function (text) {
    const curved = text.replace(/([A-Za-z])'(?=[a-z])/g, "$1’").replace(/'([^']*)'/g, "‘$1’");
    const bound = curved.replace(BINDING, "$1\u00a0");
    const parts = bound.split(WORD);
    // What is bound to a number is its unit: the A of 5 A is no gain.
    const isUnit = (at) => /[0-9]\u00a0$/.test(parts[at - 1]);
    return parts.map((part, at) => (at % 2 === 1 && isLetter(part) && !isUnit(at) ? own.letter(part) : part));
  };

  // The same, a letter, its relation and its value on one line.
  own.tiedSentence = function (text) {
    return own.sentence(text.replace(/ = /g, "\u00a0=\u00a0"));
  };

  // A written value, its unit bound to it.
  own.unitBound = function (text) {
    return text.replace(/ (?=[^ ]*$)/, "\u00a0");
  };

  // Words as a list within a sentence: a, b and c.
  own.listed = function (words) {
    return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`;
  };

  own.capital = function (text) {
    const first = WORD.exec(text);
    if (first && first.index === 0 && isLetter(first[0])) return text;
    return text.slice(0, 1).toUpperCase() + text.slice(1);
  };
})();
