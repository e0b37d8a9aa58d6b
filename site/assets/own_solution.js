// The worked solution of somebody's own numbers on the page: the regions tried, the steps, checks, warnings, and a
// table of everything that follows; as `solve` sets it out (tutor/solution/own.py).
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { element, own } = Steadyrail;
  const LOADED = [
    ["P_Z", "P_ZM"],
    ["P_R", "P_RM"],
    ["P_Q", "P_QM"],
  ];
  const SIGNS = { ">=": "≥", "<=": "≤" };

  function words(plan) {
    return Steadyrail.ownData.regions[plan.region];
  }

  function given(name, worked) {
    const { unit } = own.symbol(name);
    return Steadyrail.checker.write(worked.values.get(name), unit, worked.exact.has(name) ? 12 : 3);
  }

  // A region assumed and found wanting is part of the working.
  function triedStep(tried) {
    const item = element("li", "step");
    item.append(
      element("h3", "step-title", `Assume that ${words(tried.plan)}`),
      element("p", "why", "A region is assumed, solved and then tested; this one fails its test."),
      element(
        "div",
        "lines",
        element("p", "after", ...own.sentence(`With these values ${tried.why}. So the assumption falls.`)),
      ),
    );
    return item;
  }

  // The steps shown: those that the circuit's report takes, and part values that follow beside them.
  function placesShown(plan, values) {
    const steps = own.stepsOf(plan.steps);
    const last = steps.reduce((found, step, at) => (plan.asked.includes(step.target) ? at : found), -1);
    return plan.steps.filter((place, at) => {
      const { target } = steps[at];
      return values.has(target) && (at <= last || Steadyrail.ownData.constants.includes(target));
    });
  }

  function check(text, isHeld) {
    const said = element("span", "holds", isHeld ? "holds" : "does not hold");
    return element("li", "", ...own.sentence(text), ": ", said, ".");
  }

  function regionChecks(worked) {
    const { plan, values } = worked;
    const valued = (name) => `${name} = ${own.text(name, values.get(name))}`;
    const told = (side) => (side[0] === "s" ? valued(side[1]) : String(side[1]));
    return plan.bounds
      .filter((bound) => bound.lhs[0] === "s" && "sn".includes(bound.rhs[0]))
      .filter((bound) => bound.names.every((name) => values.has(name)))
      .map((bound) => {
        const text = `${told(bound.lhs)} ${SIGNS[bound.relation]} ${told(bound.rhs)}: ${words(plan)}, as assumed`;
        return check(text, own.holds(bound, values));
      });
  }

  // An approximation in use: its error, found by working the exact circuit beside it.
  function approximationChecks(set, numbers, worked) {
    const checks = [];
    if (set.exact < 0) return checks;
    const exact = own.resolve(Steadyrail.ownData.sets[set.exact], numbers);
    if (exact.isStopped) return checks;
    for (const pair of Object.entries(set.conventions)) {
      const key = pair.join("=");
      const variant = Steadyrail.ownData.variants[key];
      if (!variant) continue;
      const [watches, against, limit] = variant;
      const scale = Math.abs(exact.values.get(against) || 0);
      if (scale === 0 || !exact.values.has(watches) || !worked.values.has(watches)) continue;
      const error = Math.abs(exact.values.get(watches) - worked.values.get(watches)) / scale;
      const isHeld = error <= limit * (1 + 1e-9);
      const [shown, allowed] = [error, limit].map((share) => Steadyrail.checker.write(share, "%"));
      const more = isHeld ? "" : "; work it exactly";
      const item = check(`: the error is ${shown} of ${against}, and up to ${allowed} is allowed${more}`, isHeld);
      item.prepend(document.importNode(document.getElementById(`variant-${key}`).content, true));
      checks.push(item);
    }
    return checks;
  }

  function warnings(values) {
    const found = [];
    const volts = [...values].filter(([name]) => /^V_[IO]/.test(name)).map((pair) => pair[1]);
    const most = Math.max(...volts);
    if (most > Steadyrail.ownData.safeVolts) {
      const told = Steadyrail.checker.write(most, "V");
      found.push(`A supply of ${told} is above 60 V d.c. end to end and counts as a hazard: on paper only.`);
    }
    if (values.has("I_Z") && values.has("I_ZK") && values.get("I_Z") < values.get("I_ZK")) {
      found.push("The zener carries less than its least current: its voltage is not well held.");
    }
    for (const [power, rating] of LOADED) {
      if (values.has(power) && values.has(rating) && values.get(power) > values.get(rating)) {
        found.push(`${power} exceeds ${rating}: the part would be overloaded.`);
      }
    }
    return found;
  }

  function valueRow(name, worked) {
    const row = element("tr", "");
    const letter = element("th", "letter", own.letter(name));
    letter.scope = "row";
    const meaning = element("td", "", ...own.sentence(own.symbol(name).meaning));
    const value = element("td", "value", given(name, worked).replace(/([0-9]) /, "$1\u00a0"));
    value.dataset.value = String(worked.values.get(name));
    row.append(letter, meaning, value);
    row.dataset.name = name;
    return row;
  }

  function stateTold(worked) {
    const told = [`With these numbers ${words(worked.plan)}`];
    const others = worked.tried.length;
    if (others) told.push(`; ${others === 1 ? "another state was" : "others were"} tried first`);
    told.push(".");
    return told.join("");
  }

  function assumedTold(set, worked) {
    const used = Object.entries(worked.plan.defaults).map(([name, value]) => {
      return `${name} = ${Steadyrail.checker.write(value, own.symbol(name).unit, 12)}`;
    });
    const taken = Object.entries(set.conventions).map(([name, value]) => `${name}: ${value}`);
    return [...used, ...taken].length ? `Assumed: ${[...used, ...taken].join(", ")}.` : "";
  }

  // Writes the solution of a set with its numbers into `section`; `ratings` are known beside them.
  own.showSolution = function (section, set, numbers, ratings, state) {
    const part = (picked) => section.querySelector(picked);
    const exact = new Set([...numbers.keys(), ...Object.keys(state.plan.defaults)]);
    const worked = { ...state, exact: exact };
    const places = placesShown(state.plan, state.values);
    part(".own-state").replaceChildren(...own.sentence(stateTold(state)));
    part(".own-assumed").replaceChildren(...own.sentence(assumedTold(set, state)));
    const steps = places.map((place) => own.stepWith(place, worked));
    part(".own-steps").replaceChildren(...state.tried.map(triedStep), ...steps);
    const checks = [...regionChecks(worked), ...approximationChecks(set, numbers, worked)];
    part(".own-checks").replaceChildren(...checks);
    part(".own-checks").previousElementSibling.hidden = checks.length === 0;
    const told = [...warnings(new Map([...state.values, ...ratings])), ...own.furtherStates(state)];
    const minded = told.map((text) => element("li", "", ...own.sentence(text)));
    part(".own-warnings").replaceChildren(...minded);
    part(".own-mind").hidden = minded.length === 0;
    const names = Steadyrail.ownData.order.filter((name) => state.values.has(name) && !numbers.has(name));
    part(".own-values tbody").replaceChildren(...names.map((name) => valueRow(name, worked)));
  };
})();
