// The record of what was learnt and when: first its rules, which know neither storage nor page, then where it is kept.
// Vocabulary: a *kind* is a family at a level ("zener-resistor:2"); an *entry* is one thing that happened: a lesson or
// an example *seen*, an *attempt* at one answer, a problem *done*. The record is its entries and nothing else: what is
// offered and what is due is worked out anew each time, so that better rules need no other record.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  if (Steadyrail.recordRules) return;
  const rules = (Steadyrail.recordRules = {});
  const FORM = 1; // of the text; a bare list of entries is form 0
  const OF = "steadyrail record";
  const DAYS = [1, 3, 7, 21]; // after which what was learnt comes back; whether they grow or not has made no difference
  const MOST_HELP = 3;
  const KIND = /^[a-z][a-z0-9-]{0,60}:[1-9]$/;
  const SEEN = ["lesson", "example"];
  const LAST_TIME = 8.64e15; // the last moment that a Date can hold

  rules.DAYS = DAYS;
  rules.nothing = () => ({ form: FORM, entries: [], others: [], rest: {} });

  function isCount(value) {
    return Number.isInteger(value) && value >= 1 && value <= 1e9;
  }

  function short(text) {
    return typeof text === "string" ? text.slice(0, 200) : "";
  }

  // What an entry says, with nothing else in it; null where it is none.
  rules.entryOf = function (item) {
    if (!item || typeof item !== "object" || Array.isArray(item)) return null;
    const at = typeof item.at === "string" ? Date.parse(item.at) : Number(item.at);
    if (!(at > 0 && at < LAST_TIME) || typeof item.kind !== "string" || !KIND.test(item.kind)) return null;
    const entry = { at: at, kind: item.kind };
    if (item.seen !== undefined) return SEEN.includes(item.seen) ? { ...entry, seen: item.seen } : null;
    if (!isCount(item.number) || typeof item.right !== "boolean") return null;
    const help = Number.isInteger(item.help) ? Math.min(MOST_HELP, Math.max(0, item.help)) : 0;
    if (item.done === true) return { ...entry, number: item.number, done: true, right: item.right, help: help };
    if (item.done !== undefined || typeof item.key !== "string" || !item.key) return null;
    const slip = short(item.slip);
    const words = slip ? short(item.words) : ""; // the slip's name, for people
    const told = { ...entry, number: item.number, key: short(item.key), right: item.right, slip: slip, help: help };
    return words ? { ...told, words: words } : told;
  };

  // The record that a text holds, whatever form it has; null where the text is no record. What cannot be read in it (a
  // newer form may say more) is kept word for word and written back.
  rules.read = function (text) {
    let data = null;
    try {
      data = JSON.parse(text);
    } catch (error) {
      return null;
    }
    const whole = Array.isArray(data) ? { form: 0, entries: data } : data;
    if (!whole || !Array.isArray(whole.entries) || !Number.isInteger(whole.form) || whole.form < 0) return null;
    const { form, of, entries, ...rest } = whole;
    const read = entries.map((item) => rules.entryOf(item));
    const others = entries.filter((item, at) => read[at] === null);
    const isOurs = of === OF || form === 0;
    if (!isOurs || (form === 0 && others.length > 0)) return null;
    const known = sorted(read.filter((entry) => entry !== null));
    return { form: Math.max(form, FORM), entries: known, others: others, rest: rest };
  };

  // A record as text, an entry a line.
  rules.write = function (record) {
    const told = record.entries.map((entry) => ({ ...entry, at: new Date(entry.at).toISOString() }));
    const lines = [...told, ...record.others].map((item) => JSON.stringify(item));
    const head = JSON.stringify({ ...record.rest, of: OF, form: record.form }).slice(0, -1);
    return `${head},"entries":[${lines.length ? `\n${lines.join(",\n")}\n` : ""}]}\n`;
  };

  function sorted(entries) {
    return entries.slice().sort((one, other) => one.at - other.at);
  }

  // What is in either of two records, each entry once.
  rules.merged = function (one, other) {
    const has = new Set(one.entries.map((entry) => JSON.stringify(entry)));
    const more = other.entries.filter((entry) => {
      const told = JSON.stringify(entry);
      return has.has(told) ? false : has.add(told);
    });
    const kept = new Set(one.others.map((item) => JSON.stringify(item)));
    return {
      form: Math.max(one.form, other.form),
      entries: more.length ? sorted(one.entries.concat(more)) : one.entries,
      others: one.others.concat(other.others.filter((item) => !kept.has(JSON.stringify(item)))),
      rest: { ...other.rest, ...one.rest },
    };
  };

  // The calendar day, counted, of a moment here: what is due today is due all day.
  rules.dayOf = function (at) {
    const date = new Date(at);
    return Math.round(Date.UTC(date.getFullYear(), date.getMonth(), date.getDate()) / 86400000);
  };

  // So many days after the day of a moment, as the moment at which that day begins here.
  function daysAfter(at, days) {
    const date = new Date(at);
    return new Date(date.getFullYear(), date.getMonth(), date.getDate() + days);
  }

  rules.partsOf = function (kind) {
    const [family, level] = kind.split(":");
    return { family: family, level: Number(level) };
  };

  function unknown(kind) {
    return {
      ...{ kind: kind, first: null, last: null, seen: new Set(), attempts: 0, tried: new Set(), missed: new Map() },
      ...{ slips: new Map(), slipWords: new Map(), done: 0, right: 0, inARow: 0, isWhole: false, help: null },
      ...{ step: -1, counted: null, lastDone: null, lastRight: null, wasRight: false },
    };
  }

  // A level that is new is offered one more help than the level below it is; the first one, or any whose level below
  // is not known, is offered all of it: too little costs a beginner more than too much.
  function firstHelp(states, kind) {
    const { family, level } = rules.partsOf(kind);
    const below = level > 1 ? states.get(`${family}:${level - 1}`) : undefined;
    return below && below.help !== null ? Math.min(MOST_HELP, below.help + 1) : MOST_HELP;
  }

  function take(states, state, entry) {
    const missed = state.missed.get(entry.number) || 0;
    state.missed.delete(entry.number);
    state.done += 1;
    state.lastDone = entry.at;
    state.wasRight = entry.right;
    const before = state.help === null ? firstHelp(states, entry.kind) : state.help;
    if (!entry.right) {
      state.help = Math.min(MOST_HELP, before + 1);
      state.inARow = 0;
      state.isWhole = false;
      state.step = 0;
      state.counted = entry.at;
      return;
    }
    // Right at last, after misses, neither gives help nor takes it away.
    state.help = missed ? before : Math.max(0, Math.min(before, entry.help) - 1);
    state.isWhole = state.isWhole || (entry.help === 0 && missed === 0);
    state.right += 1;
    state.inARow += 1;
    state.lastRight = entry.at;
    const isBack = state.step >= 0 && state.step < DAYS.length;
    if (state.step < 0) state.step = 0;
    else if (isBack && rules.dayOf(entry.at) >= rules.dayOf(state.counted) + DAYS[state.step]) state.step += 1;
    else return; // the same again before its day proves little, and moves no date
    state.counted = entry.at;
  }

  // What the entries say of each kind.
  rules.statesOf = function (entries) {
    const states = new Map();
    for (const entry of entries) {
      if (!states.has(entry.kind)) states.set(entry.kind, unknown(entry.kind));
      const state = states.get(entry.kind);
      state.first = state.first === null ? entry.at : state.first;
      state.last = entry.at;
      if (entry.seen) {
        state.seen.add(entry.seen);
        continue;
      }
      state.tried.add(entry.number);
      if (entry.done) {
        take(states, state, entry);
        continue;
      }
      state.attempts += 1;
      if (entry.right) continue;
      state.missed.set(entry.number, (state.missed.get(entry.number) || 0) + 1);
      if (entry.words) state.slipWords.set(entry.slip, entry.words);
      for (const slip of entry.slip.split(" ").filter(Boolean)) state.slips.set(slip, (state.slips.get(slip) || 0) + 1);
    }
    return states;
  };

  rules.helpOf = function (states, kind) {
    const state = states.get(kind);
    return state && state.help !== null ? state.help : firstHelp(states, kind);
  };

  rules.stageOf = function (states, kind) {
    const state = states.get(kind);
    if (!state) return "new";
    if (!state.attempts && !state.done) return state.seen.has("example") ? "faded" : "example";
    if (rules.helpOf(states, kind) > 0) return "faded";
    return state.isWhole ? "mixed" : "whole";
  };

  // The day a kind comes back, as the moment at which that day begins; null where it does not. A level rests when a
  // higher one of its family has been done right since.
  rules.comesBack = function (states, kind) {
    const state = states.get(kind);
    if (!state || state.step < 0 || state.step >= DAYS.length) return null;
    const { family, level } = rules.partsOf(kind);
    for (const [other, higher] of states) {
      const parts = rules.partsOf(other);
      const isHigher = parts.family === family && parts.level > level;
      if (isHigher && higher.lastRight !== null && higher.lastRight > state.counted) return null;
    }
    return daysAfter(state.counted, DAYS[state.step]);
  };

  // Every kind with a day to come back, the earliest first.
  rules.comings = function (states) {
    const found = [];
    for (const [kind, state] of states) {
      const since = rules.comesBack(states, kind);
      if (since) found.push({ kind: kind, since: since, last: new Date(state.lastDone) });
    }
    return found.sort((one, other) => one.since - other.since || (one.kind < other.kind ? -1 : 1));
  };

  rules.due = function (states, now) {
    const today = rules.dayOf(now.getTime());
    return rules.comings(states).filter((coming) => rules.dayOf(coming.since.getTime()) <= today);
  };
})();

// Where the record is kept: in this browser, under one key, and in memory where storage is shut.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = root.Steadyrail;
  if (Steadyrail.record) return;
  const rules = Steadyrail.recordRules;
  const KEY = "steadyrail:record";
  const ASIDE = "steadyrail:record:set-aside";
  const MOST_TEXT = 20e6; // characters of a file that are read
  let held = rules.nothing(); // what is known of the record on this page
  let seenText = null; // the text that `held` was last read from or written to
  let isKept = true;

  function asideKeys() {
    const keys = [];
    try {
      for (let at = 1; at <= 50; at += 1) {
        const key = at === 1 ? ASIDE : `${ASIDE}-${at}`;
        if (root.localStorage.getItem(key) !== null) keys.push(key);
      }
    } catch (error) {
      return keys; // storage is shut
    }
    return keys;
  }

  // Keeps a text that is no record of ours under a key of its own; whether it is safe there.
  function setAside(text) {
    try {
      const keys = asideKeys();
      if (keys.some((key) => root.localStorage.getItem(key) === text)) return true;
      let at = 1;
      while (keys.includes(at === 1 ? ASIDE : `${ASIDE}-${at}`)) at += 1;
      root.localStorage.setItem(at === 1 ? ASIDE : `${ASIDE}-${at}`, text);
      return at <= 50;
    } catch (error) {
      return false;
    }
  }

  // The record as it stands, with what other pages have written since.
  function load() {
    let text = null;
    try {
      text = root.localStorage.getItem(KEY);
    } catch (error) {
      isKept = false;
      return held;
    }
    if (text === null || text === seenText) return held;
    const read = rules.read(text);
    if (read) held = rules.merged(read, held);
    if (read || setAside(text)) seenText = text;
    else isKept = false;
    return held;
  }

  function save(record) {
    held = record;
    const text = rules.write(record);
    try {
      const there = root.localStorage.getItem(KEY);
      // What is neither a record nor safe elsewhere is not written over.
      if (there !== null && there !== seenText && !rules.read(there) && !setAside(there)) throw new Error("not safe");
      root.localStorage.setItem(KEY, text);
      seenText = text;
      isKept = true;
    } catch (error) {
      isKept = false; // storage is shut or full
    }
    if (root.document) root.document.dispatchEvent(new root.CustomEvent("steadyrail:recorded"));
  }

  let known = { entries: null, states: null };
  function states() {
    const entries = load().entries;
    if (known.entries !== entries) known = { entries: entries, states: rules.statesOf(entries) };
    return known.states;
  }

  function add(told) {
    const when = told.when === undefined ? new Date() : told.when;
    const { when: _, ...said } = told;
    const entry = rules.entryOf({ ...said, at: Number(when) });
    if (!entry) return false;
    save(rules.merged(load(), { ...rules.nothing(), entries: [entry] }));
    return true;
  }

  Steadyrail.record = {
    // Each says whether it was taken: what is no entry is left alone.
    attempt: (told) => add({ ...told, done: undefined, seen: undefined }),
    finished: (told) => add({ ...told, done: true, seen: undefined }),
    seen: (told) => add({ ...told, seen: told.what }),
    stageOf: (kind) => rules.stageOf(states(), kind),
    helpOf: (kind) => rules.helpOf(states(), kind),
    due: (now) => rules.due(states(), now || new Date()),
    states: states,
    entries: () => load().entries,
    exported: () => rules.write(load()),
    // Takes in what a text holds beside what is here; nothing that is here is lost by it.
    readBack: function (text) {
      if (typeof text !== "string" || text.length > MOST_TEXT) {
        return { why: "This is too long for a record; choose the file that was saved on today’s page." };
      }
      const read = rules.read(text.replace(/^\ufeff/, ""));
      if (!read) return { why: "This is no record of these pages; choose the file that was saved on today’s page." };
      const before = load();
      const after = rules.merged(before, read);
      save(after);
      return { taken: after.entries.length - before.entries.length };
    },
    isKept: function () {
      load();
      return isKept;
    },
    // Texts that stood in the place of the record and are none.
    setAside: () => asideKeys().map((key) => root.localStorage.getItem(key)),
  };
})();
