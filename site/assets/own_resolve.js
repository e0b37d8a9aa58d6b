// Which region holds for somebody's own numbers, and every value there: the counterpart of tutor/plan/regions.py over
// plans that Python wrote. A region is assumed, worked out and tested; where it fails the next is tried.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const own = (Steadyrail.own = Steadyrail.own || {});
  const UNTOLD = "nothing given tells whether it holds";

  // Leaves the working of a region from any depth; caught in `resolve` alone.
  function stopped(kind, sentence) {
    return { isStopped: true, kind: kind, sentence: sentence };
  }

  own.stepsOf = function (places) {
    return places.map((place) => Steadyrail.ownData.steps[place]);
  };

  function lawsOf(plan) {
    return plan.laws.map((place) => Steadyrail.ownData.laws[place]);
  }

  function refusedAtSight(plan, given) {
    const values = own.run(own.stepsOf(plan.sight), given, []);
    for (const [name, value] of values) if (!Number.isFinite(value)) values.delete(name);
    for (const [name, value] of given) values.set(name, value);
    const broken = own.brokenLaw(lawsOf(plan), values, [...given.keys()]);
    if (broken) throw stopped("contradiction", broken);
    const odd = own.unusual(values);
    const isOpen = odd === null ? null : { why: odd, refuted: false };
    return own.belowZero(values, []) || own.regionFails(plan.bounds, values) || own.turned(values) || isOpen;
  }

  function rootReason(ordered, refused) {
    const preference = Steadyrail.ownData.rootPreference;
    if (ordered.states.length > 1 && preference && ordered.toldApart) {
      const [name, greatest, words] = preference;
      const side = greatest ? "greater" : "smaller";
      return `both fit the circuit, and the one with the ${side} ${name} is taken: ${words}`;
    }
    if (ordered.states.length > 1) {
      return "more than one fits the circuit, and the one nearest to usual part values is taken";
    }
    return refused.length ? `the other root is refused: ${refused[0].why}` : "the only real root";
  }

  function broken(sentence, known, plan) {
    if (plan.forced) return stopped("contradiction", sentence);
    const names = [...known.keys()].join(", ");
    return stopped("unreachable", `no way by hand was found from ${names} to ${plan.asked.join(", ")}`);
  }

  // The outcome in one region, or why it is not taken; `atSight` tests what single laws tell before all else.
  function inRegion(plan, given, atSight) {
    const why = atSight || plan.whyNot ? refusedAtSight(plan, given) : null;
    if (why !== null) return { refused: why };
    if (plan.whyNot) throw stopped("unreachable", plan.whyNot);
    const steps = own.stepsOf(plan.steps);
    const laws = lawsOf(plan);
    const known = new Map([...given, ...Object.entries(plan.defaults)]);
    const names = [...known.keys()];
    const { allowed, refused } = own.statesOf(plan, steps, known);
    if (!allowed.length) {
      const sentence = own.brokenLaw(laws, new Map([...own.run(steps, known, []), ...known]), names);
      if (sentence && plan.forced) throw stopped("contradiction", sentence);
      return { refused: refused[0] || { why: "it has no real solution", refuted: true } };
    }
    const unbroken = allowed.filter((state) => own.brokenLaw(laws, state.values, []) === null);
    if (!unbroken.length) throw broken(own.brokenLaw(laws, allowed[0].values, names), known, plan);
    const ordered = own.inOrder(unbroken);
    const [taken, ...others] = ordered.states;
    const reason = rootReason(ordered, refused);
    const several = steps.filter(own.isSeveral);
    const roots = several.map((step, at) => ({ target: step.target, which: taken.roots[at], why: reason }));
    const further = others.map((state) => ({ plan: plan, values: state.values }));
    return { plan: plan, values: taken.values, roots: roots, others: further };
  }

  // Whether every inequality of the region could be tested; the usual region alone may be taken on trust, when no
  // standing value that follows speaks against it (one that is given, such as ideal diodes, is as it is given).
  function isTaken(outcome, isUsual, given) {
    if (outcome.plan.bounds.every((bound) => bound.names.every((name) => outcome.values.has(name)))) return true;
    const found = new Map([...outcome.values].filter((pair) => !given.has(pair[0])));
    return isUsual && own.unusual(found) === null;
  }

  function words(plan) {
    return Steadyrail.ownData.regions[plan.region];
  }

  function chosen(fitting) {
    const taken = fitting.find((item) => own.unusual(item.values) === null) || fitting[0];
    const passed = fitting.slice(0, fitting.indexOf(taken));
    const tried = passed.map((item) => ({ plan: item.plan, why: own.unusual(item.values) }));
    const further = fitting.filter((item) => item !== taken && !passed.includes(item));
    const beside = fitting.filter((item) => item !== taken).flatMap((item) => item.others);
    const candidates = [...taken.others, ...further, ...beside];
    const others = [];
    for (const state of candidates) {
      const before = [taken, ...others];
      if (!before.some((item) => own.alike(state.values, item.values))) others.push(state);
    }
    return { ...taken, tried: [...taken.tried, ...tried], others: others };
  }

  // Two quantities by which a further state differs, standing and part values first, then the output.
  function differing(state, other) {
    const { standing, constants, outputs } = Steadyrail.ownData;
    const roots = state.roots.map((choice) => choice.target);
    const first = [...Object.keys(standing), ...constants, ...roots, ...outputs];
    const ranked = [...first, ...state.plan.asked, ...other.values.keys()];
    const apart = [];
    for (const name of new Set(ranked)) {
      if (!state.values.has(name) || !other.values.has(name)) continue;
      const [here, there] = [state.values.get(name), other.values.get(name)];
      if (own.alike(new Map([[name, here]]), new Map([[name, there]]))) continue;
      const [taken, found] = [own.text(name, here), own.text(name, there)];
      apart.push([found === taken, `${name} = ${found} in place of ${taken}`]);
    }
    // Those that differ in the figures shown come first.
    const ordered = [...apart.filter((item) => !item[0]), ...apart.filter((item) => item[0])];
    return ordered.slice(0, 2).map((item) => item[1]);
  }

  // Other states that the same values fit: told, so that the answer does not pass for the only one.
  own.furtherStates = function (state) {
    return state.others.map((other) => {
      const where = other.plan === state.plan ? "" : `: ${words(other.plan)}`;
      const about = where && Steadyrail.ownData.further[other.plan.region];
      const said = about ? ` ${about}.` : "";
      return `These values fit a further state too${where}, with ${differing(state, other).join(" and ")}.${said}`;
    });
  };

  // The state of a circuit at `given` (a Map, SI): its plan, values, roots taken, regions tried; or { sentence, kind }
  // when the numbers contradict each other or do not tell.
  own.resolve = function (set, given) {
    const tried = [];
    const fitting = [];
    let failure = null;
    let isOpen = false;
    for (const plan of set.plans) {
      const isUsual = plan === set.plans[0];
      let outcome;
      try {
        outcome = inRegion(plan, given, fitting.length > 0);
      } catch (error) {
        if (!error.isStopped) throw error;
        if (fitting.length) continue;
        if (error.kind === "unreachable") {
          // Not refuted, only not settled: what holds in a further region would prove nothing.
          if (!tried.length) return error;
          isOpen = true;
        } else if (isUsual) failure = error;
        tried.push({ plan: plan, why: error.sentence });
        if (error.kind === "unreachable") break;
        continue;
      }
      if (outcome.values && fitting.length && plan.silent) continue;
      if (outcome.values && isTaken(outcome, isUsual, given)) fitting.push({ ...outcome, tried: [...tried] });
      else if (!fitting.length) {
        isOpen = isOpen || Boolean(outcome.values) || !outcome.refused.refuted;
        tried.push({ plan: plan, why: outcome.refused ? outcome.refused.why : own.unusual(outcome.values) || UNTOLD });
      }
    }
    if (fitting.length) return chosen(fitting);
    const reasons = tried.map((item) => `${words(item.plan)}: ${item.why}`).join("; ");
    const id = Steadyrail.ownData.circuit;
    if (isOpen) return stopped("unreachable", `these values do not tell in which state '${id}' is (${reasons})`);
    if (failure) return failure;
    return stopped("contradiction", `no region of '${id}' holds with these values (${reasons})`);
  };
})();
