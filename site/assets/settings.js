// What a reader has settled for every page: kept in this browser alone, read before any other script runs.
// `Steadyrail.settings.get(name)`, `.set(name, value)` and `.whenChanged(f)`; a name's first value is what holds unless
// said otherwise, or what the page comes with (`data-usual` of its root). What another version of the site kept beside
// these stays as it is.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  const KEPT = "steadyrail:settings";
  const WHEN = "steadyrail:working-when"; // where the working sheet kept by itself when its lines are checked
  const CHOICES = new Map([
    ["decimal", ["point", "comma"]],
    ["mains", ["both", "50", "60"]],
    ["names", ["V_I", "V_in"]],
    ["gain", ["h_FE", "beta"]],
    ["drawings", ["IEC", "IEEE"]],
    ["help", ["on", "off"]],
    ["checking", ["at-once", "at-the-end"]],
  ]);
  // What the pages of a class's set come with, as its papers do, where their reader has settled nothing.
  const page = window.document ? window.document.documentElement : null;
  const usual = new URLSearchParams((page && page.dataset && page.dataset.usual) || "");
  const told = new Set();
  let isKept = true;
  let kept = read();

  function stored(key) {
    try {
      return window.localStorage.getItem(key);
    } catch (error) {
      isKept = false; // storage is shut: settings last as long as the page
      return null;
    }
  }

  function read() {
    const text = stored(KEPT);
    let found = null;
    try {
      found = JSON.parse(text);
    } catch (error) {
      found = null; // no version of ours wrote this; the first change writes anew
    }
    if (found && typeof found === "object" && !Array.isArray(found)) return found;
    return stored(WHEN) === "end" ? { checking: "at-the-end" } : {};
  }

  function choicesOf(name) {
    const choices = CHOICES.get(name);
    if (!choices) throw new RangeError(`no setting '${name}'; there are: ${[...CHOICES.keys()].join(", ")}`);
    return choices;
  }

  function get(name) {
    const choices = choicesOf(name);
    const own = Object.prototype.hasOwnProperty.call(kept, name) ? kept[name] : "";
    return [own, usual.get(name)].find((choice) => choices.includes(choice)) || choices[0];
  }

  function tell() {
    Steadyrail.readsComma = get("decimal") === "comma";
    for (const listener of told) listener();
  }

  function set(name, value) {
    const choices = choicesOf(name);
    if (!choices.includes(value)) {
      throw new RangeError(`the setting '${name}' takes ${choices.join(" or ")}, not '${value}'`);
    }
    kept = { ...kept, [name]: value };
    try {
      window.localStorage.setItem(KEPT, JSON.stringify(kept));
    } catch (error) {
      isKept = false;
    }
    tell();
  }

  // Whether a problem's mains frequency is one that is wanted. `mains` has a sign for each number: 5, 6, or - for none.
  function suits(mains, number) {
    const wanted = get("mains");
    const here = (mains || "")[number - 1];
    return wanted === "both" || !here || here === "-" || here === wanted[0];
  }

  // The next number after `from`, going up (1) or down (-1), whose mains frequency is wanted; 0 where there is none.
  function nextNumber(mains, from, step, count) {
    for (let number = from + step; number >= 1 && number <= count; number += step) {
      if (suits(mains, number)) return number;
    }
    return 0;
  }

  Steadyrail.settings = {
    get: get,
    set: set,
    suits: suits,
    nextNumber: nextNumber,
    whenChanged: (listener) => told.add(listener),
    choices: (name) => [...choicesOf(name)],
    isKept: () => isKept,
    root: new URL("../", document.currentScript.src || document.baseURI).href, // the top folder of the site
  };
  window.addEventListener("storage", (event) => {
    if (event.key !== KEPT && event.key !== null) return;
    kept = read();
    tell();
  });
  tell();
})();
