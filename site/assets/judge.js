// Judges one answer against its waypoint: the counterpart of tutor/generate/judging.py, function for function.
// Its words and bands come from Steadyrail.tables.judging. A waypoint is { kind, answer: { value, unit } or null, low,
// high, accepted, options, state, slips: [{ id, value, name, why, hint }], remarks: [{ option, id, name, why, hint }],
// places (how many), arrangements (every right one, its options joined by "; ") }; the verdict is { outcome, sentence,
// slip, why, hint }, where `slip` holds ids separated by a space when several slips lead to one value.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});

  function words() {
    return Steadyrail.tables.judging;
  }

  function verdict(outcome, sentence, slip, why, hint) {
    return { outcome: outcome, sentence: sentence, slip: slip || "", why: why || "", hint: hint || "" };
  }

  function say(outcome, saying) {
    return verdict(outcome, words().sentences[saying]);
  }

  function right(saying, one) {
    const sentences = words().sentences;
    return verdict("right", one.unitDue ? `${sentences[saying]} ${sentences["write-unit"]}` : sentences[saying]);
  }

  // A reason with a capital and a full stop; only plain letters have capitals here.
  function asSentence(reason) {
    const first = reason.slice(0, 1);
    return (first >= "a" && first <= "z" ? first.toUpperCase() : first) + reason.slice(1) + ".";
  }

  // The power of ten between the stored value and the number printed for it: 3 for 4.9 mA, 2 for 5 %.
  function ownPower(value, unit) {
    const row = Steadyrail.tables.units[unit];
    const size = Math.abs(Number(value.toExponential(2))) * Number(`1e${row.shownPower}`);
    let best = row.powers[0];
    for (const power of row.powers) {
      if (size >= Number(`1e${power}`)) best = power;
    }
    if (row.powers.includes(0) && ((row.plainFrom <= size && size < 1) || size === 0)) best = 0;
    return row.shownPower - best;
  }

  function candidatesOf(reading, answer) {
    const pure = Steadyrail.tables.units[answer.unit].exponents.every((exponent) => exponent === 0);
    const half = reading.step / 2;
    const due = !reading.unitGiven && !(pure && answer.unit !== "dB");
    const stated = { value: reading.value, half: half, unitDue: due };
    const power = ownPower(answer.value, answer.unit);
    if (!reading.bare || power === 0) return [stated];
    const scale = Number(`1e${power}`);
    return [stated, { value: reading.value / scale, half: half / scale, unitDue: answer.unit !== "" }];
  }

  function slack(half, goal) {
    return Math.min(half, words().mostSlack * Math.abs(goal));
  }

  function judgeValue(waypoint, answer, candidates) {
    const goal = answer.value;
    for (const one of candidates) {
      if (waypoint.low <= one.value && one.value <= waypoint.high) return right("right", one);
    }
    for (const one of candidates) {
      const slips = slipsAt(waypoint, one, goal);
      if (slips.length > 0) return slipVerdict(slips);
      if (Math.abs(one.value - goal) <= slack(one.half, goal)) return right("right", one);
    }
    if (candidates.some((one) => Math.abs(one.value - goal) <= words().nearBand * Math.abs(goal))) {
      return say("near", "near");
    }
    for (const [reason, holds] of REASONS) {
      if (candidates.some((one) => holds(one, goal))) return say("wrong", reason);
    }
    return say("wrong", direction(candidates, goal));
  }

  // The slips that give this value, when it is nearer to them than to the answer.
  function slipsAt(waypoint, one, goal) {
    return waypoint.slips.filter((slip) => {
      const away = Math.abs(one.value - slip.value);
      const reach = Math.max(words().slipBand * Math.abs(slip.value), slack(one.half, slip.value));
      const met = away <= reach || estimates(waypoint, one.value, slip.value, goal);
      return met && away < Math.abs(one.value - goal);
    });
  }

  // Whether a value comes as near to a slip as it must to the answer, where an estimate of that is enough.
  function estimates(waypoint, value, slip, goal) {
    const low = words().estimate * waypoint.low;
    if (!(0 < low && low <= waypoint.high) || slip === 0) return false;
    const scaled = (value * goal) / slip;
    return waypoint.low <= scaled && scaled <= waypoint.high;
  }

  function slipVerdict(slips) {
    const names = slips.map((slip) => slip.name).join("; ");
    const ids = slips.map((slip) => slip.id).join(" ");
    const sentence = words().sentences[slips.length > 1 ? "one-of" : "slip"].split("{names}").join(names);
    if (slips.length > 1) return verdict("slip", sentence, ids);
    return verdict("slip", sentence, ids, slips[0].why, slips[0].hint);
  }

  // Whether the value is `factor` times the answer, as closely as a slip must be met.
  function agrees(one, factor, goal) {
    const wanted = factor * goal;
    const reach = Math.max(words().slipBand * Math.abs(wanted), slack(one.half, wanted));
    return goal !== 0 && Math.abs(one.value - wanted) <= reach;
  }

  function isPower(one, goal, powers) {
    return powers.some(
      (power) => agrees(one, Number(`1e${power}`), goal) || agrees(one, Number(`1e-${power}`), goal),
    );
  }

  const REASONS = [
    ["sign", (one, goal) => agrees(one, -1, goal)],
    ["power", (one, goal) => isPower(one, goal, words().powers)],
    ["factor-two", (one, goal) => agrees(one, 2, goal) || agrees(one, 0.5, goal)],
    ["inverse", (one, goal) => goal !== 0 && Math.abs(one.value * goal - 1) <= words().slipBand],
  ];

  // Too large or too small, said only where every candidate agrees and the signs do.
  function direction(candidates, goal) {
    const alike = candidates.every((one) => one.value * goal > 0);
    if (alike && candidates.every((one) => Math.abs(one.value) > Math.abs(goal))) return "too-large";
    if (alike && candidates.every((one) => Math.abs(one.value) < Math.abs(goal))) return "too-small";
    return "wrong";
  }

  function same(value, accepted) {
    return Math.abs(value - accepted) <= words().choiceBand * Math.abs(accepted);
  }

  function judgeChoice(waypoint, answer, candidates) {
    const accepted = waypoint.accepted;
    for (const one of candidates) {
      if (accepted.some((value) => same(one.value, value))) {
        return right(same(one.value, answer.value) ? "fits" : "fits-other", one);
      }
    }
    for (const one of candidates) {
      const band = words().slipBand;
      const slips = waypoint.slips.filter((slip) => Math.abs(one.value - slip.value) <= band * Math.abs(slip.value));
      if (slips.length > 0) return slipVerdict(slips);
    }
    if (accepted.length === 0) return say("wrong", "does-not-fit");
    for (const one of candidates) {
      if (Math.min(...accepted) < one.value && one.value < Math.max(...accepted)) return say("wrong", "not-on-shelf");
    }
    const exact = candidates.map((one) => ({ value: one.value, half: 0, unitDue: false }));
    const prefixes = words().prefixPowers;
    const isOff = exact.some((one) => accepted.some((value) => isPower(one, value, prefixes)));
    return say("wrong", isOff ? "choice-power" : "does-not-fit");
  }

  function judgeState(waypoint, typed) {
    const said = typed.replace(/^ +| +$/g, "");
    if (said === waypoint.state) return say("right", "state-right");
    if (waypoint.options.includes(said)) return remarked(waypoint, said) || say("wrong", "state-wrong");
    return verdict("unread", words().sentences["no-option"].split("{names}").join(waypoint.options.join("; ")));
  }

  // What there is to say of a wrong option: the belief that leads to it by name, or only why it is wrong.
  function remarked(waypoint, said) {
    const found = (waypoint.remarks || []).find((remark) => remark.option === said);
    if (!found) return null;
    const sentences = words().sentences;
    if (!found.name) return verdict("wrong", sentences["option-wrong"], "", found.why, found.hint);
    return verdict("slip", sentences.slip.split("{names}").join(found.name), found.id, found.why, found.hint);
  }

  function judgeArrangement(waypoint, typed) {
    const pieces = typed.split(";").map((piece) => piece.replace(/^ +| +$/g, ""));
    const sentences = words().sentences;
    if (pieces.length !== waypoint.places || pieces.some((piece) => !waypoint.options.includes(piece))) {
      return verdict("unread", sentences["all-places"].split("{names}").join(String(waypoint.places)));
    }
    const said = pieces.join("; ");
    if (waypoint.arrangements.includes(said)) return say("right", "state-right");
    const found = remarked(waypoint, said);
    if (found) return found;
    const alike = waypoint.arrangements.map((right) => {
      const places = right.split("; ");
      return pieces.filter((piece, place) => piece === places[place]).length;
    });
    const told = `${Math.max(...alike)} of ${pieces.length}`;
    return verdict("wrong", sentences["some-places"].split("{names}").join(told));
  }

  // The verdict on one typed answer.
  Steadyrail.judge = function (waypoint, typed, decimalComma) {
    if (waypoint.kind === "arrangement") return judgeArrangement(waypoint, typed);
    if (waypoint.kind === "state" || !waypoint.answer) return judgeState(waypoint, typed);
    const answer = waypoint.answer;
    const reading = Steadyrail.readQuantity(typed, answer.unit, decimalComma);
    if (reading.value === null) {
      const kind = reading.fault === "wrong-kind" || reading.fault === "kelvin" ? "units" : "unread";
      return verdict(kind, asSentence(reading.reason));
    }
    const candidates = candidatesOf(reading, answer);
    return waypoint.kind === "choice"
      ? judgeChoice(waypoint, answer, candidates)
      : judgeValue(waypoint, answer, candidates);
  };
})();
