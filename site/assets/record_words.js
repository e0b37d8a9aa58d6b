// What the record says, in the words of a printed page: dates, what holds, what comes next. It knows no page.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const rules = Steadyrail.recordRules;
  const words = (Steadyrail.recordWords = {});
  const MONTHS = [
    ...["January", "February", "March", "April", "May", "June"],
    ...["July", "August", "September", "October", "November", "December"],
  ];
  const COUNTS = [
    ...["no", "one", "two", "three", "four", "five", "six"],
    ...["seven", "eight", "nine", "ten", "eleven", "twelve"],
  ];

  // "3 November", with its year where that is another one than now.
  words.date = function (moment, now) {
    const date = new Date(moment);
    const year = date.getFullYear() === now.getFullYear() ? "" : ` ${date.getFullYear()}`;
    return `${date.getDate()}\u00a0${MONTHS[date.getMonth()]}${year}`;
  };

  words.count = (number) => COUNTS[number] || String(number);

  // "right on 3 November": what was last made of one problem; "" where nothing was.
  words.madeOf = function (entries, kind, number, now) {
    const mine = entries.filter((entry) => entry.kind === kind && entry.number === number);
    if (!mine.length) return "";
    const done = mine.filter((entry) => entry.done).pop();
    if (!done) return `begun on ${words.date(mine[mine.length - 1].at, now)}`;
    return `${done.right ? "right" : "not right"} on ${words.date(done.at, now)}`;
  };

  function isPast(day, now) {
    return rules.dayOf(day.getTime()) <= rules.dayOf(now.getTime());
  }

  // The kinds of a family that the record knows of.
  words.kindsOf = function (states, family) {
    return [...states.values()].filter((state) => rules.partsOf(state.kind).family === family);
  };

  // "worked on 3 November; due again 10 November"; "" for a family of which nothing is known.
  words.dates = function (states, family, now) {
    const kinds = words.kindsOf(states, family);
    if (!kinds.length) return "";
    const worked = kinds.filter((state) => state.attempts || state.done);
    const last = Math.max(...(worked.length ? worked : kinds).map((state) => state.last));
    const said = `${worked.length ? "worked" : "read"} on ${words.date(last, now)}`;
    const comings = kinds.map((state) => rules.comesBack(states, state.kind)).filter(Boolean);
    if (!comings.length) return said;
    const [next] = comings.sort((one, other) => one - other);
    return `${said}; ${isPast(next, now) ? "due since" : "due again"} ${words.date(next, now)}`;
  };

  const NEXT = {
    new: "Next: the lesson, then the worked problem.",
    example: "Next: the worked problem, step by step.",
    faded: "Next: a part-worked problem.",
    whole: "Next: a whole problem, with nothing given away.",
    mixed: "Next: this kind among others, in a mixed set.",
  };

  // What should come next in a family, in a sentence: for its highest level that was worked, or for its first.
  words.next = function (states, family, levels) {
    const worked = words.kindsOf(states, family).filter((state) => state.attempts || state.done);
    const level = Math.max(levels[0], ...worked.map((state) => rules.partsOf(state.kind).level));
    const stage = rules.stageOf(states, `${family}:${level}`);
    const higher = levels.find((other) => other > level);
    return stage === "mixed" && higher ? `Next: level ${higher}, and this kind in mixed sets.` : NEXT[stage];
  };

  // Whether a kind holds: the last problem of it done right, without help.
  words.holds = (state) => state.wasRight && state.help === 0;

  // What is known of a kind that was worked, in a sentence without its name.
  words.standing = function (state, now) {
    const tried = state.tried.size;
    const count = words.count(tried);
    const problems = `${count.slice(0, 1).toUpperCase()}${count.slice(1)} problem${tried === 1 ? "" : "s"} tried`;
    if (!state.done) return `${problems}, none finished; last on ${words.date(state.last, now)}.`;
    const last = words.date(state.lastDone, now);
    if (words.holds(state)) {
      const held = " It has come back after a day, three, seven and 21, and held.";
      const again = state.step >= rules.DAYS.length ? held : "";
      const row = state.inARow > 1 ? `the last ${words.count(state.inARow)} right` : "the last one right";
      return `${problems}, ${row} and without help, on ${last}.${again}`;
    }
    if (state.wasRight) {
      return `${problems}, the last one right, with some of its steps given or after a miss, on ${last}.`;
    }
    return `${problems}, the last one not right without its solution, on ${last}.`;
  };

  // The slip made most often, where one was made twice at least: its name and how often; null where none was.
  words.commonSlip = function (state) {
    let found = null;
    for (const [slip, times] of state.slips) {
      const name = state.slipWords.get(slip) || slip.replace(/-/g, " ");
      if (times > 1 && (!found || times > found.times)) found = { name: name, times: times };
    }
    return found;
  };
})();
