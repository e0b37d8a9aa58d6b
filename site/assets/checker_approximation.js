// Approximations that the circuit declares: a line true under one of them, its error here within the limit. The
// counterpart of tutor/working/approximation.py, function for function. `others` are pairs [convention, ground].
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});

  // The approximation of the circuit that makes a chain of symbols true within its limit, told with its error.
  checker.approximationTold = function (question, ground, others) {
    for (const [convention, other] of others) {
      if (!convention.approximate) continue;
      const stands = checker.linksOf(question).every(([relation, left, right]) => {
        return [other, ground].some((taken) => checker.trueOfCircuit(left, right, relation.sign, taken) !== null);
      });
      const told = stands ? checker.errorTold(question, convention, ground, others) : "";
      if (told) return told;
    }
    return "";
  };

  // The approximation and its error here, '' when the error is beyond its limit.
  checker.errorTold = function (question, convention, ground, others) {
    const bent = checker.linksOf(question).filter((link) => !isExact(link, ground));
    const links = bent.map((link) => errorOfLink(link, ground)).filter((error) => error !== null);
    const whole = errorOfQuantity(convention, ground, others);
    // Where the circuit says against what its error is measured, that is the measure; else it is this line's own.
    let error = links.length > 0 ? Math.max(...links) : whole;
    if (convention.against && whole !== null) error = whole;
    return error === null || isBeyond(error, convention) ? "" : told(error, convention);
  };

  function isBeyond(error, convention) {
    return error > convention.limit * (1 + 1e-9);
  }

  function told(error, convention) {
    const slots = { error: checker.write(error, "%", 2), title: checker.plain(convention.title) };
    return checker.say("approximation", slots);
  }

  // The approximation and what it does to the quantity a line of numbers speaks of; '' beyond the limit.
  checker.valueErrorTold = function (question, convention, ground, other, bent) {
    const head = question.members[0];
    const at = other.cases.indexOf(bent.case);
    let error = null;
    if (head.node === "name" && at >= 0) {
      const world = ground.cases[at].world;
      const alike = world.situations.length === bent.case.world.situations.length;
      const there = checker.valueIn(bent.case.world, bent.place, head.name);
      const here = alike ? checker.valueIn(world, bent.place, head.name) : null;
      if (here && there !== null) error = Math.abs(there - here) / Math.abs(here);
    }
    if (error === null) return checker.errorTold(question, convention, ground, [[convention, other]]);
    if (isBeyond(error, convention) && !convention.against) return "";
    if (convention.against && !checker.errorTold(question, convention, ground, [[convention, other]])) return "";
    return told(error, convention);
  };

  function isExact([relation, left, right], ground) {
    const symbols = checker.kindOf(left) === "symbols" && checker.kindOf(right) === "symbols";
    return symbols && checker.trueOfCircuit(left, right, relation.sign, ground) !== null;
  }

  // How much of `against` the quantity bent by an approximation is out, at the worst corner known.
  function errorOfQuantity(convention, ground, others) {
    const pair = others.find(([item]) => item === convention);
    if (pair === undefined) return null;
    const cases = pair[1].cases;
    for (let at = 0; at < Math.min(ground.cases.length, cases.length); at += 1) {
      const here = checker.plainSituations(ground.cases[at].world);
      const worst = errorInCase(convention, here, cases[at].world.situations);
      if (worst !== null) return worst;
    }
    return null;
  }

  function errorInCase(convention, here, there) {
    let worst = null;
    for (let at = 0; at < Math.min(here.length, there.length); at += 1) {
      const truth = here[at].values.get(convention.watches);
      const bent = there[at].values.get(convention.watches);
      const measure = here[at].values.get(convention.against || convention.watches);
      if (truth === undefined || bent === undefined || !measure) continue;
      const error = Math.abs(bent - truth) / Math.abs(measure);
      worst = worst === null ? error : Math.max(worst, error);
    }
    return worst;
  }

  // How far apart the two sides are with the true values, the best place taken; one at which both are nought, where
  // nothing flows, only when there is no other.
  function errorOfLink([, left, right], ground) {
    let best = null;
    let idle = null;
    const names = checker.namesIn([left, right]);
    for (const { world } of ground.cases.slice(0, 2)) {
      const lookup = (place, name) => checker.valueIn(world, place, name);
      for (const place of checker.distinct(checker.placesIn(world, names), names, lookup)) {
        const [a, b] = [sideOf(left, world, place), sideOf(right, world, place)];
        if (a === null || b === null) continue;
        const size = Math.max(Math.abs(a), Math.abs(b));
        if (size === 0) {
          idle = 0;
          continue;
        }
        const error = Math.abs(a - b) / size;
        best = best === null ? error : Math.min(best, error);
      }
    }
    return best === null ? idle : best;
  }

  function sideOf(node, world, place) {
    const found = checker.workOut(node, (name) => checker.valueIn(world, place, name), checker.plainAmount);
    return found === null ? null : found.value;
  }
})();
