// The own-numbers page of a circuit: the set of givens chosen, the numbers typed, what is wrong with them, the worked
// solution, and the sheet for the working below. What is typed outlasts a reload.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const own = Steadyrail.own;
  const data = Steadyrail.ownData;
  if (data) takeTemplates();
  const article = document.querySelector("article.own");
  if (!data) {
    article.querySelector(".own-status").textContent =
      "No numbers can be worked here: this circuit’s data could not be fetched; look for it in the folder named own.";
    return;
  }
  const KEPT = `steadyrail:own:${data.circuit}`;
  const VERSION = 1;
  const WAITING = "Your lines are checked as soon as all the numbers above are there.";
  const UNFIT = "Your lines are kept but not checked: these numbers could not be worked, as is said above.";
  const NO_SHEET =
    "Your lines are kept but not checked: there is no sheet here for this circuit in this state; " +
    `in a terminal, steadyrail check --circuit ${data.circuit} may have one.`;
  const SOLVE_AFTER = 250; // milliseconds of rest
  const form = article.querySelector(".own-form");
  const list = form.querySelector(".own-fields");
  const status = article.querySelector(".own-status");
  const back = form.querySelector(".own-back");
  const solution = article.querySelector(".own-solution");
  const choices = Array.from(form.querySelectorAll('input[name="own-set"]'));
  const fields = new Map(Array.from(form.querySelectorAll(".number"), (row) => [row.dataset.name, row]));
  const blank = article.querySelector(".working").cloneNode(true); // the working sheet as the page has it
  let rest = {}; // what another version kept beside ours
  let timer = 0;
  let sheet = null;
  let replaced = null; // the numbers that an example or "clear" took out
  let unchecked = ""; // why there is no sheet

  function stored() {
    try {
      const kept = JSON.parse(window.localStorage.getItem(KEPT));
      return kept && typeof kept === "object" && !Array.isArray(kept) ? kept : {};
    } catch (error) {
      return {}; // storage is shut, or holds what no version of ours wrote
    }
  }

  function keep() {
    const texts = {};
    for (const [name, row] of fields) {
      const text = input(row).value;
      if (text) texts[name] = text;
    }
    const ours = { set: set().id, texts: texts, ...(solution.open ? {} : { folded: true }) };
    try {
      window.localStorage.setItem(KEPT, JSON.stringify({ ...rest, version: VERSION, ...ours }));
    } catch (error) {
      // storage is shut: the page works without it
    }
  }

  function input(row) {
    return row.querySelector(".written");
  }

  function set() {
    const chosen = choices.find((choice) => choice.checked) || choices[0];
    return data.sets.find((item) => item.id === chosen.value);
  }

  // What a field holds: its value in SI, or null with the sentence that says what is wrong ('' when it is empty).
  function reading(name) {
    const typed = input(fields.get(name)).value;
    if (!typed.trim()) return { value: null, why: "" };
    const { unit, sign } = own.symbol(name);
    const read = Steadyrail.readQuantity(typed, unit, false);
    if (read.value === null) return { value: null, why: read.reason };
    if (!Number.isFinite(read.value)) return { value: null, why: "a finite number is needed" };
    if (sign !== "~" && read.value < 0) return { value: null, why: `${name} cannot be negative` };
    if (sign === "+" && read.value === 0 && (unit === "ohm" || unit === "")) {
      return { value: null, why: `${name} must be above zero` };
    }
    return { value: read.value, why: "", isBare: !read.unitGiven && unit !== "" };
  }

  function tell(name, read) {
    const row = fields.get(name);
    row.classList.toggle("with-unit", read.value !== null && !read.isBare); // its unit need not stand beside it
    const told = row.querySelector(".number-told");
    const isWrong = read.why !== "";
    row.classList.toggle("wrong", isWrong);
    if (isWrong) input(row).setAttribute("aria-invalid", "true");
    else input(row).removeAttribute("aria-invalid");
    let text = "";
    if (isWrong) text = /[.?]$/.test(read.why) ? own.capital(read.why) : `${own.capital(read.why)}.`;
    else if (read.isBare) text = `Taken as ${Steadyrail.checker.write(read.value, own.symbol(name).unit, 12)}.`;
    told.replaceChildren(...own.sentence(text));
  }

  function say(text) {
    if (status.dataset.text === text) return;
    status.dataset.text = text;
    status.replaceChildren(...own.sentence(text));
  }

  function setSheet(found, why) {
    sheet = found;
    unchecked = why;
    Steadyrail.recheckWorking();
  }

  function nothing(sentence, why) {
    solution.hidden = true;
    say(sentence);
    setSheet(null, why);
  }

  function numbersOf(names) {
    const numbers = new Map();
    const [open, wrong] = [[], []];
    for (const name of names) {
      const read = reading(name);
      tell(name, read);
      if (read.value !== null) numbers.set(name, read.value);
      else (read.why ? wrong : open).push(name);
    }
    return { numbers: numbers, open: open, wrong: wrong };
  }

  function solve() {
    const chosen = set();
    const { numbers, open, wrong } = numbersOf(chosen.names);
    const ratings = numbersOf(data.ratings.filter((name) => !chosen.names.includes(name))).numbers;
    if (wrong.length) {
      const where = wrong.length > 1 ? "them" : "it";
      return nothing(`${own.listed(wrong)} cannot be used as written; see beside ${where}.`, WAITING);
    }
    if (open.length) return nothing(numbers.size ? `Still to be given: ${own.listed(open)}.` : "", WAITING);
    const state = own.resolve(chosen, numbers);
    if (state.isStopped) return nothing(`${own.capital(state.sentence)}.`, UNFIT);
    own.showSolution(solution, chosen, numbers, ratings, state);
    solution.hidden = false;
    say(`Worked: ${data.regions[state.plan.region]}.`);
    return setSheet(own.sheetOf(chosen, numbers, ratings, state), NO_SHEET);
  }

  // The fields of the set chosen, in its order; what was typed in the others stays.
  function arrange() {
    const chosen = set();
    const radio = choices.find((choice) => choice.value === chosen.id);
    for (const [name, row] of fields) row.hidden = !chosen.names.includes(name) && !data.ratings.includes(name);
    list.append(...chosen.names.map((name) => fields.get(name)));
    form.querySelector(".own-uses").textContent = `Given like this in: ${radio.dataset.uses}.`;
    for (const name of Object.keys(data.standing)) {
      const row = fields.get(name);
      if (row && chosen.names.includes(name) && !input(row).value) {
        const standing = Steadyrail.checker.write(data.standing[name], own.symbol(name).unit, 12);
        input(row).value = Steadyrail.settings.asShown(standing);
      }
    }
  }

  // A working belongs to its numbers' set: each has a sheet of its own.
  function openWorking() {
    article.querySelector(".working").replaceWith(blank.cloneNode(true));
    article.dataset.name = `own:${data.circuit}:${set().id}`;
    Steadyrail.prepareWorking(article);
  }

  function choose() {
    forgetReplaced();
    arrange();
    sheet = null;
    solve();
    openWorking();
    keep();
  }

  // What stands in some fields, the empty ones left out.
  function typed(names) {
    const written = names.filter((name) => input(fields.get(name)).value.trim());
    return Object.fromEntries(written.map((name) => [name, input(fields.get(name)).value]));
  }

  // Writes other numbers over those typed, which can be had back.
  function writeOver(texts) {
    const before = typed(set().names);
    write(texts);
    const now = typed(set().names);
    if (Object.keys(before).every((name) => now[name] === before[name])) return;
    replaced = before;
    back.hidden = false;
  }

  function forgetReplaced() {
    replaced = null;
    back.hidden = true;
  }

  // Steps and letters as the build has printed them, to make a solution from.
  function takeTemplates() {
    const found = new DOMParser().parseFromString(data.templates, "text/html");
    document.body.append(...found.querySelectorAll("template"));
  }

  // The example's numbers with the decimal sign that is settled on.
  function shownSample() {
    const shown = ([name, text]) => [name, Steadyrail.settings.asShown(text)];
    return Object.fromEntries(Object.entries(set().sample).map(shown));
  }

  function write(texts) {
    for (const name of set().names) input(fields.get(name)).value = texts[name] || "";
    arrange();
    keep();
    solve();
  }

  Steadyrail.sheetFor = () => sheet;
  Steadyrail.whyUnchecked = () => unchecked;
  Steadyrail.givenHere = () => typed([...set().names, ...data.ratings]);
  Steadyrail.recheckWorking = Steadyrail.recheckWorking || (() => {});

  for (const choice of choices) choice.addEventListener("change", choose);
  form.addEventListener("input", (event) => {
    if (!event.target.matches(".written")) return;
    forgetReplaced();
    keep();
    window.clearTimeout(timer);
    timer = window.setTimeout(solve, SOLVE_AFTER);
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    window.clearTimeout(timer);
    solve();
    if (solution.hidden) return;
    solution.open = true; // who asks for it wants to read it
    document.getElementById("own-solution-title").focus();
  });
  form.querySelector(".own-example").addEventListener("click", () => writeOver(shownSample()));
  form.querySelector(".own-clear").addEventListener("click", () => writeOver({}));
  back.addEventListener("click", () => {
    const before = replaced;
    forgetReplaced();
    write(before);
    input(fields.get(set().names[0])).focus();
  });

  const kept = stored();
  const { version, set: keptSet, texts, folded, ...others } = kept;
  solution.open = folded !== true;
  solution.addEventListener("toggle", keep);
  window.addEventListener("pagehide", keep); // a page left before it heard of the last change
  rest = others;
  for (const [name, text] of Object.entries(texts && typeof texts === "object" ? texts : {})) {
    if (fields.has(name) && typeof text === "string") input(fields.get(name)).value = text;
  }
  for (const choice of choices) if (choice.value === keptSet) choice.checked = true;
  for (const shown of article.querySelectorAll(".own-form.scripted")) shown.hidden = false;
  choose();
})();
