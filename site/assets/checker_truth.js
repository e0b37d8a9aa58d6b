// Is a line true: of the circuit whatever the numbers (symbols alone), or with this problem's numbers? The counterpart
// of tutor/working/truth.py, function for function. A scaling is { inside, whole, last }, a truth { words, case,
// supplied, place, scaling }; for questions see checker_chain.js.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.truth;
  const { NUMBER_BAND, MOST_BAND } = Steadyrail.tables.checking.amount;
  const RISING = "<≤";

  // How many places may still be tried for one line: a count, not a clock, so that every machine tries alike.
  checker.Effort = class {
    constructor(places) {
      this.left = places;
    }

    // Whether this much was still to be spent; it is spent then.
    spend(places) {
      this.left -= places;
      return this.left >= 0;
    }
  };

  checker.scaling = (inside, whole, last) => ({ inside: inside || 0, whole: whole || 0, last: last || 0 });
  checker.noValue = () => null;

  // The place at which a relation between symbols is true whatever the numbers; null also once the effort is spent.
  checker.trueOfCircuit = function (left, right, sign, ground, overlay, effort) {
    for (const place of checker.truePlaces(left, right, sign, ground, overlay, effort)) return place;
    return null;
  };

  // Every place at which a relation between symbols is true whatever the numbers, near the problem's own; what it leaves
  // open is tried all over the circuit. Where both sides vanish a relation says nothing (nothing flows, so any factor of
  // it is right): such a place counts only when there is no other.
  checker.truePlaces = function* (left, right, sign, ground, overlay, effort) {
    const valueAt = overlay || checker.valueIn;
    const names = checker.namesIn([left, right]);
    for (const kept of ["near", "generic", "exact"]) {
      const worlds = ground.around[kept];
      if (worlds.length === 0) continue;
      const lookup = (place, name) => valueAt(worlds[0], place, name);
      const tried = checker.distinct(checker.placesIn(worlds[0], names), names, lookup);
      if (effort && !effort.spend((tried.length + limits.OVERHEAD) * weight(left, right))) return;
      const idle = [];
      let said = 0; // places at which both sides have a value: 0 V over 0 Ω says nothing of the load
      for (const place of tried) {
        let says = null;
        for (const world of worlds) {
          const found = stands(left, right, sign, world, place, valueAt);
          if (world === worlds[0] && found !== undefined) said += 1;
          if (found !== null) says = Boolean(found);
          if (found === false || found === undefined) break;
        }
        if (says === null || (says && isIdle(worlds[0], place, names, [left, right], valueAt))) idle.push(place);
        else if (says) yield place;
      }
      // A given that is nought (I_L_MIN = 0) makes such a place its own.
      const nought = names.some((name) => ground.sheet.given.get(name) === 0);
      if (idle.length === said || nought) yield* idle;
      // What the problem leaves open may be spoken of as it is when nothing is neglected, too.
      if (said > 0 && kept !== "generic") return;
    }
  };

  // How much trying a relation once counts: a long one more, as working it out takes longer.
  function weight(left, right) {
    return 1 + Math.floor((leafCount(left) + leafCount(right)) / limits.LONG);
  }

  function leafCount(node) {
    const inner = checker.parts(node);
    return inner.length > 0 ? inner.reduce((total, part) => total + leafCount(part), 0) : 1;
  }

  // Whether a symbol is nought at a place, where any sign and factor of it would be right. Not where a nought is
  // written, nor where a line names what belongs to one corner (R_MIN, with I_B = 0 there).
  function isIdle(world, place, names, sides, overlay) {
    if (sides.some(speaksOfNought)) return false;
    const plain = world.situations[place.situation].values;
    return names.every((name) => plain.has(name)) && names.some((name) => overlay(world, place, name) === 0);
  }

  // Whether a relation holds at a place of a world; null where both sides vanish there, undefined where
  // one has no value.
  function stands(left, right, sign, world, place, overlay) {
    const valueOf = (name) => overlay(world, place, name);
    const a = checker.workOut(left, valueOf, checker.plainAmount);
    const b = checker.workOut(right, valueOf, checker.plainAmount);
    if (a === null || b === null) return undefined;
    if (a.reach === 0 && b.reach === 0 && !speaksOfNought(left) && !speaksOfNought(right)) return null;
    return within(a.value, b.value, sign, limits.SYMBOLS_BAND * Math.max(a.reach, b.reach));
  }

  // Whether a nought is written: then that both sides vanish is what is said.
  function speaksOfNought(node) {
    return checker.literalsIn(node).some((item) => item.meanings[0].value === 0);
  }

  function within(a, b, sign, room) {
    if (checker.equates(sign)) return Math.abs(a - b) <= room;
    return RISING.includes(sign) ? a <= b + room : a >= b - room;
  }

  // A number taken as exact.
  checker.plainAmount = function (literal) {
    const value = literal.meanings[0].value;
    return checker.amount(value, 0, Math.abs(value));
  };

  // Where a chain with numbers is true of the problem's own numbers, or null.
  checker.trueHere = function (question, ground, overlay) {
    const valueAt = overlay || checker.valueIn;
    const names = checker.namesIn(question.members);
    const scalings = [...scalingsOf(question)];
    const restsIdle = checker.isBetweenSymbols(question, ground);
    let idle = null;
    let said = false;
    for (const item of casesOf(ground, names)) {
      const world = item.world;
      const lookup = (place, name) => valueAt(world, place, name);
      const tried = checker.distinct(checker.placesIn(world, names), names, lookup);
      for (const scaling of scalings) {
        for (const place of tried) {
          const rests = restsIdle && isIdle(world, place, names, question.members, valueAt);
          said = said || !rests;
          if (!checker.chainHolds(question, scaling, (name) => valueAt(world, place, name))) continue;
          const words = tried.length > 1 ? world.situations[place.situation].words : "";
          const told = [words, item.words].filter((word) => word !== "").join(", ");
          const supplied = scaling.inside !== 0 || scaling.whole !== 0 || scaling.last !== 0;
          const found = { words: told, case: item, supplied: supplied, place: place, scaling: scaling };
          if (!rests) return found;
          idle = idle || found;
        }
      }
      if (names.length === 0) return null;
    }
    return said ? null : idle;
  };

  // Whether a chain equates symbols alone, with pure numbers beside them: where a symbol is nought any such number fits,
  // and that says nothing unless a nought is given or written.
  checker.isBetweenSymbols = function (question, ground) {
    if (checker.namesIn(question.members).some((name) => ground.sheet.given.get(name) === 0)) return false;
    if (question.members.some(speaksOfNought)) return false;
    const beside = question.members.every((member, at) => checker.kindOf(member) === "symbols" || question.pure[at] === true);
    return beside && question.relations.every((relation) => checker.equates(relation.sign));
  };

  // The cases a chain is tried in: further values of a choice last, and only where symbols are named.
  function* casesOf(ground, names) {
    yield* ground.cases;
    if (names.length > 0) yield* ground.rarerCases;
  }

  // No scaling first; then the prefixes written in the line, put to what has none.
  function* scalingsOf(question) {
    yield checker.scaling();
    const written = question.members.flatMap(checker.literalsIn);
    if (!written.some((item) => item.bare && !checker.isCoefficient(item)) && !hasBareSide(question)) return;
    const powers = new Set(written.map((item) => item.power).filter((power) => power !== 0));
    // Milliamperes left out under a voltage: 8.4/38 = 221 Ω. The result is held against the truth all the same.
    if (checker.namesIn(question.members).length > 0) powers.add(-3).add(3);
    const last = question.members[question.members.length - 1];
    if (last.node === "literal" && last.bare) {
      for (const power of [-3, 3, -6, 6]) {
        yield checker.scaling(0, power, power);
        yield checker.scaling(0, 0, power);
      }
      return;
    }
    for (const power of powers) {
      yield checker.scaling(0, power);
      yield checker.scaling(0, -power);
      yield checker.scaling(power, 0);
    }
  }

  function hasBareSide(question) {
    return question.members.some((member) => {
      return checker.kindOf(member) === "numbers" && checker.literalsIn(member).every((item) => item.bare);
    });
  }

  // Whether a chain of numbers is right in itself, the prefixes written in it put to what has none; one side alone is.
  checker.addsUp = function (question) {
    if (question.members.length === 1) return true;
    const written = question.members.flatMap(checker.literalsIn);
    const powers = new Set(written.map((item) => item.power).filter((power) => power !== 0));
    const scaled = [...powers].flatMap((power) => [checker.scaling(0, power), checker.scaling(0, -power)]);
    const holds = (scaling) => checker.chainHolds(question, scaling, checker.noValue);
    return [checker.scaling(), ...scaled].some(holds);
  };

  // Whether every relation of a chain holds with these values, its numbers scaled.
  checker.chainHolds = function (question, scaling, valueOf) {
    const sides = [];
    for (let index = 0; index < question.members.length; index += 1) {
      const amount = sideAmount(question, index, scaling, valueOf);
      if (amount === null) return false;
      const member = question.members[index];
      sides.push({ node: member, kind: checker.kindOf(member), amount: amount });
    }
    const said = checker.valueMember(question);
    // Only what a chain comes to is held against the known slips; its steps may be rounded.
    const slipsOf = (a, b) => (a.node === said || b.node === said ? question.slips : []);
    const head = sides.find((side) => side.kind !== "numbers");
    const { relations } = question;
    for (let at = 0; at < Math.min(relations.length, sides.length - 1); at += 1) {
      const [left, right] = [sides[at], sides[at + 1]];
      if (!agree(left, right, relations[at].sign, slipsOf(left, right))) return false;
    }
    // Each number against the symbol it stands for as well, so that steps do not add up their bands.
    if (head !== undefined && relations.slice(0, sides.length - 1).every((one) => checker.equates(one.sign))) {
      const sign = relations.some((relation) => relation.sign === "≈") ? "≈" : "=";
      // What the rounding of its numbers did to a step is in the result too.
      const steps = sides.filter((side) => side.kind === "numbers" && !isLone(side.node));
      const rounded = Math.max(0, ...steps.map((side) => side.amount.slack));
      for (const side of sides) {
        const carried = side.node === said ? rounded : 0;
        if (side.kind === "numbers" && !agree(head, side, sign, slipsOf(head, side), carried)) return false;
      }
    }
    return true;
  };

  // What one member of a chain comes to, its bare numbers scaled.
  function sideAmount(question, index, scaling, valueOf) {
    const member = question.members[index];
    const numbers = checker.literalsIn(member);
    const bare = numbers.length > 0 && numbers.every((item) => item.bare);
    const isLast = index === question.members.length - 1 && member.node === "literal";
    // Pure numbers have no prefix: twice a current.
    const inside = (!bare || checker.kindOf(member) === "mixed") && !question.pure[index] ? scaling.inside : 0;
    const found = checker.workOut(member, valueOf, (literal) => {
      const meaning = literal.meanings[0];
      const coefficient = checker.isCoefficient(literal);
      const lift = inside && literal.bare && !coefficient ? Number(`1e${inside}`) : 1;
      const [value, step] = [meaning.value * lift, meaning.step * lift];
      const exact = coefficient || question.exact.some((item) => Math.abs(value - item) <= 1e-9 * Math.abs(item));
      return checker.amount(value, exact ? 0 : checker.rounding(value, step), Math.abs(value));
    });
    const power = bare && checker.kindOf(member) === "numbers" ? (isLast ? scaling.last : scaling.whole) : 0;
    if (found === null || !power) return found;
    const lift = Number(`1e${power}`);
    return checker.amount(found.value * lift, found.slack * lift, found.reach * lift);
  }

  // Whether two sides agree within the bands of a hand-written line; `carried` is what rounding did before.
  function agree(left, right, sign, slips, carried) {
    const [a, b] = [left.amount, right.amount];
    let room = band(left, right, sign, carried || 0);
    const numbers = [left, right].filter((side) => side.kind === "numbers");
    if (numbers.length === 1 && slips.length > 0 && checker.equates(sign)) {
      const written = numbers[0].amount.value;
      const truth = numbers[0] === left ? b.value : a.value;
      const near = slips
        .filter(([right_, slip]) => Math.abs(right_ - truth) <= 1e-6 * Math.abs(truth) && slip !== truth)
        .map((pair) => pair[1]);
      // A known slip this near the truth would hide in the band, however wide; and what is written is a slip when it is
      // that slip's value much rather than the true one, at whatever corner.
      for (const slip of near) {
        const towards = (slip - truth) * (written - truth) > 0;
        if (towards && sign !== "≈") room = Math.min(room, limits.SLIP_SHARE * Math.abs(slip - truth));
      }
      const away = Math.abs(written - truth);
      if (slips.some(([, slip]) => Math.abs(written - slip) < limits.SLIP_SHARE * away)) return false;
      if (sign === "≈" && near.some((slip) => Math.abs(written - slip) < away)) return false;
    }
    return within(a.value, b.value, sign, room);
  }

  // How far apart two sides may be (SI).
  function band(left, right, sign, carried) {
    const [a, b] = [left.amount, right.amount];
    const size = measure(a, b);
    let room = 0;
    if (left.kind === "numbers" && right.kind === "numbers") {
      room = base(isLone(right.node) ? right : left, size);
    } else {
      const written = right.kind === "numbers" ? right : left;
      const numbered = left.kind === "numbers" || right.kind === "numbers";
      room = numbered ? base(written, size) : 1e-9 * Math.max(a.reach, b.reach);
      // A lone number's own rounding is its band already.
      const slack = (isLone(left.node) ? 0 : a.slack) + (isLone(right.node) ? 0 : b.slack);
      room = Math.min(room + slack + carried, limits.RESULT_BAND * size);
    }
    return sign === "≈" ? Math.max(room, limits.RESULT_BAND * size) : room;
  }

  // 1 %, or half a unit of a lone number's last figure, never more than 3 %.
  function base(side, size) {
    const node = checker.unsigned(side.node);
    let half = 0;
    if (node.node === "literal" && node.meanings[0].value) {
      const meaning = node.meanings[0];
      half = Math.abs((meaning.step / 2 / meaning.value) * side.amount.value);
    }
    return Math.min(Math.max(NUMBER_BAND * size, half), MOST_BAND * size);
  }

  function isLone(node) {
    return checker.unsigned(node).node === "literal";
  }

  // The measure of a comparison: the values, or the largest term where terms cancel.
  function measure(a, b) {
    const size = Math.max(Math.abs(a.value), Math.abs(b.value));
    const reach = Math.max(a.reach, b.reach);
    return size < limits.CANCELLED * reach ? reach : size;
  }

  // Values that a written number may be equal to without any rounding.
  checker.exactValues = function (given, choices) {
    return [...given.values(), ...choices.values()].filter((value) => value !== 0);
  };
})();
