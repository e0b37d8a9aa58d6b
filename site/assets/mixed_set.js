// Mixed sets: problems of several kinds in an order in which neighbours are never of one family nor of one method, so
// that each asks anew which way to go. Drawn from the date, so that a set stays the same all day. It knows no page.
// Steadyrail.path: { stages: [{ number, title }],
// families: [{ id, title, stage, levels: [{ level, count, method }] }] }; levels whose methods are the same number are worked alike.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const rules = Steadyrail.recordRules;
  const mixed = (Steadyrail.mixed = {});
  const MOST_OF_ONE = 2; // problems of one kind in a set
  mixed.COUNT = 8;

  // Numbers from 0 up to 1 out of a text: its 32-bit FNV-1a hash, then xorshift (G. Marsaglia, "Xorshift RNGs", 2003).
  mixed.randomFrom = function (text) {
    let state = 2166136261;
    for (const letter of text) state = Math.imul(state ^ letter.codePointAt(0), 16777619);
    state = state || 1;
    const next = () => {
      state ^= state << 13;
      state ^= state >>> 17;
      state ^= state << 5;
      return (state >>> 0) / 4294967296;
    };
    for (let at = 0; at < 8; at += 1) next();
    return next;
  };

  function shuffled(items, random) {
    const found = items.slice();
    for (let at = found.length - 1; at > 0; at -= 1) {
      const other = Math.floor(random() * (at + 1));
      [found[at], found[other]] = [found[other], found[at]];
    }
    return found;
  }

  mixed.isAlike = (one, other) => one.family === other.family || one.method === other.method;

  // The longest row of at most `count` candidates without alike neighbours, none more than twice.
  mixed.arranged = function (candidates, count, random, most) {
    const order = shuffled(candidates, random);
    const times = new Map(order.map((item) => [item, 0]));
    const row = [];
    let best = [];
    let left = 20000; // rows tried: only few kinds, all much alike, come near that

    function go() {
      if (row.length > best.length) best = row.slice();
      left -= 1;
      if (best.length === count || left < 0) return;
      const last = row[row.length - 1];
      const may = (item) => times.get(item) < (most || MOST_OF_ONE) && !(last && mixed.isAlike(last, item));
      const open = order.filter(may);
      for (const item of open.sort((one, other) => times.get(one) - times.get(other))) {
        row.push(item);
        times.set(item, times.get(item) + 1);
        go();
        times.set(item, times.get(item) - 1);
        row.pop();
        if (best.length === count || left < 0) return;
      }
    }
    go();
    return best;
  };

  // A number of a kind that was not tried yet, as long as there is one; not among `taken` either.
  mixed.freshNumber = function (count, tried, random, taken) {
    const all = Array.from({ length: count }, (_, at) => at + 1).filter((number) => !taken || !taken.has(number));
    const fresh = all.filter((number) => !tried.has(number));
    const open = fresh.length ? fresh : all.length ? all : [1];
    return open[Math.floor(random() * open.length)];
  };

  mixed.candidate = function (family, level) {
    return {
      ...{ family: family.id, kind: `${family.id}:${level.level}`, title: family.title },
      ...{ level: level.level, count: level.count, method: level.method },
    };
  };

  // The kind of each family that was worked before today, at its highest level worked.
  mixed.workedBefore = function (path, states) {
    const found = [];
    for (const family of path.families) {
      const worked = family.levels.filter((level) => {
        const state = states.get(`${family.id}:${level.level}`);
        return state && (state.attempts || state.done);
      });
      if (worked.length) found.push(mixed.candidate(family, worked[worked.length - 1]));
    }
    return found;
  };

  mixed.ofStage = function (path, stage) {
    return path.families
      .filter((family) => family.stage === stage && family.levels.length)
      .map((family) => mixed.candidate(family, family.levels[0]));
  };

  // The set of a day: from what was worked before it, or from a stage where one is asked for or too little was worked.
  // `entries` are those of the record; gives { from: "worked" or the stage's number,
  // problems: [candidate and number] }.
  mixed.setOf = function (path, entries, now, stage) {
    const today = rules.dayOf(now.getTime());
    const states = rules.statesOf(entries.filter((entry) => rules.dayOf(entry.at) < today));
    const known = mixed.workedBefore(path, states);
    const random = mixed.randomFrom(`mixed ${today} ${stage || ""}`);
    let from = stage || "worked";
    let row = stage ? [] : mixed.arranged(known, mixed.COUNT, random);
    if (row.length < 3) {
      const first = path.families.length ? path.families[0].stage : 1;
      const last = known.length ? known[known.length - 1].family : null;
      const home = last === null ? first : path.families.find((family) => family.id === last).stage;
      from = stage || home;
      row = mixed.arranged(mixed.ofStage(path, from), mixed.COUNT, random);
    }
    const taken = new Map();
    const problems = row.map((item) => {
      const state = states.get(item.kind);
      if (!taken.has(item.kind)) taken.set(item.kind, new Set());
      const number = mixed.freshNumber(item.count, state ? state.tried : new Set(), random, taken.get(item.kind));
      taken.get(item.kind).add(number);
      return { ...item, number: number };
    });
    return { from: from, problems: problems };
  };

  // What is due, in an order without alike neighbours as far as that goes; what cannot be fitted in comes after. Its
  // numbers are new as the record stood this morning, so that they stay all day.
  mixed.dueOf = function (path, entries, now) {
    const states = rules.statesOf(entries);
    const today = rules.dayOf(now.getTime());
    const morning = rules.statesOf(entries.filter((entry) => rules.dayOf(entry.at) < today));
    const families = new Map(path.families.map((family) => [family.id, family]));
    const waiting = [];
    for (const coming of rules.due(states, now)) {
      const { family, level } = rules.partsOf(coming.kind);
      const here = families.get(family);
      const at = here && here.levels.find((item) => item.level === level);
      if (at) waiting.push({ ...mixed.candidate(here, at), since: coming.since, last: coming.last });
    }
    const row = [];
    while (waiting.length) {
      const last = row[row.length - 1];
      const next = waiting.findIndex((item) => !last || !mixed.isAlike(last, item));
      row.push(...waiting.splice(Math.max(0, next), 1));
    }
    return row.map((item) => {
      const state = morning.get(item.kind);
      const random = mixed.randomFrom(`due ${today} ${item.kind}`);
      return { ...item, number: mixed.freshNumber(item.count, state ? state.tried : new Set(), random) };
    });
  };
})();
