// The page of a design desk: a problem's specification, a part chosen from each shelf, the table of corners. How it is
// judged is told in design_desk_judge.js; the sweep is drawn in design_desk_figure.js. Nothing is chosen at first.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { element, own, designs, ownData: data } = Steadyrail;
  const page = document.querySelector(".desk");
  if (!page || !data || !data.desk) return; // without its data the page stays as it is printed
  const LONG = 30; // a shelf longer than this is told by decades
  const EXACT = 12; // figures of a value that is told or stands on a shelf
  const count = Number(page.dataset.count);
  const number = document.getElementById("desk-number");
  const verdict = page.querySelector(".desk-verdict");
  const rows = Array.from(page.querySelectorAll(".desk-row"));
  const each = page.querySelector(".desk-each");
  const told = Array.from(page.querySelectorAll("td[data-key]"));
  const parts = data.desk.parts.map((part) => {
    const item = page.querySelector(`.desk-part[data-key="${part.key}"]`);
    return {
      ...part,
      select: item.querySelector("select"),
      less: item.querySelector(".desk-less"),
      more: item.querySelector(".desk-more"),
      told: item.querySelector(".desk-told"),
    };
  });
  let numbers = new Map();

  designs.written = function (name, value, figures) {
    if (!Number.isFinite(value)) return "no value";
    return own.unitBound(Steadyrail.checker.write(value, own.symbol(name).unit, figures || 3));
  };

  function writtenSpare(demand, spare) {
    return own.unitBound(Steadyrail.checker.write(Math.abs(spare), demand.spareUnit, 3));
  }

  // A part of a list is described beside its value, unless that says the value over again.
  function optionOf(part, value, at) {
    const text = designs.written(part.key, value, EXACT);
    const about = part.described ? part.described[at].replace(/ /g, "\u00a0") : "";
    const option = element("option", "", about && !about.includes(text) ? `${text}: ${part.described[at]}` : text);
    option.value = String(at);
    return option;
  }

  function fillShelf(part) {
    const options = part.shelf.map((value, at) => optionOf(part, value, at));
    if (part.shelf.length <= LONG) return part.select.append(...options);
    const decades = new Map();
    part.shelf.forEach((value, at) => {
      const decade = Math.floor(Math.log10(value) + 1e-9);
      decades.set(decade, [...(decades.get(decade) || []), at]);
    });
    for (const places of decades.values()) {
      const group = document.createElement("optgroup");
      const ends = [places[0], places[places.length - 1]].map((at) => designs.written(part.key, part.shelf[at], EXACT));
      group.label = places.length > 1 ? ends.join(" to ") : ends[0];
      group.append(...places.map((at) => options[at]));
      part.select.append(group);
    }
    return undefined;
  }

  function placeOf(part) {
    return part.select.value === "" ? -1 : Number(part.select.value);
  }

  function chosen() {
    return new Map(parts.filter((part) => placeOf(part) >= 0).map((part) => [part.key, part.shelf[placeOf(part)]]));
  }

  // A part's tolerance in words, and how far it may lie.
  function tellPart(part) {
    const at = placeOf(part);
    part.less.disabled = at === 0;
    part.more.disabled = at === part.shelf.length - 1;
    const spread = part.tolerance ? numbers.get(part.tolerance) : 0;
    let text = "";
    if (spread) {
      const ends = [1 - spread, 1 + spread].map((factor) => designs.written(part.key, part.shelf[at] * factor));
      const percent = Steadyrail.checker.write(spread, "%");
      text = at < 0 ? `Its tolerance is ${percent}.` : `With ${percent} it lies between ${ends[0]} and ${ends[1]}.`;
    }
    part.told.replaceChildren(...own.tiedSentence(text));
  }

  // The corner of a row: what the stage stood at, apart from parts at their face value and what does not range.
  function cornerTexts(demand, here) {
    const box = here.corner.map(([base, end, value]) => {
      const words = ["least", "greatest", "in between"][end];
      return `${base} = ${designs.written(base, value, end === designs.INSIDE ? 3 : EXACT)} (${words})`;
    });
    const taken = demand.stage.inputs
      .filter(([base, expr]) => !(expr[0] === "s" && expr[1] === base))
      .map(([base]) => `${base} = ${designs.written(base, here.bases.get(base))}`);
    return [...box, ...taken];
  }

  // A letter, its relation and its value stay on one line.
  function cornerParts(demand, here) {
    const texts = cornerTexts(demand, here);
    return texts.flatMap((text, at) => {
      const [pair, end] = text.split(/(?= \()/);
      const rest = `${end || ""}${at < texts.length - 1 ? ", " : ""}`;
      return [element("span", "desk-pair", ...own.tiedSentence(pair)), rest];
    });
  }

  function limitText(demand, found) {
    const words = demand.relation === ">=" ? "at least" : "at most";
    const name = demand.limit || demand.stage.quantity;
    return `${words} ${designs.written(own.symbol(name) ? name : demand.stage.quantity, found.limit, 4)}`;
  }

  function spareText(demand, found) {
    if (demand.kind === "aim") {
      const off = own.unitBound(Steadyrail.checker.write(Math.abs(found.spare), "%", 3));
      const way = found.spare > 0 ? "above" : "below";
      if (found.passes) return found.spare === 0 ? "exactly what is aimed at" : `none lies nearer; ${off} ${way}`;
      return `${off} ${way}; another value lies nearer`;
    }
    const largest = Math.max(Math.abs(found.value), Math.abs(found.limit));
    if (Math.abs(found.spare) <= 1e-9 * largest) return "nothing to spare";
    const short = demand.relation === ">=" ? "missing" : "too much";
    return `${writtenSpare(demand, found.spare)} ${found.passes ? "to spare" : short}`;
  }

  function valueText(demand, found) {
    if (demand.kind === "aim") return designs.written(demand.limit, found.value, EXACT);
    const text = designs.written(demand.stage.quantity, found.value);
    return `${text}; ${limitText(demand, found)} is ${demand.relation === ">=" ? "needed" : "allowed"}`;
  }

  // Where regulation is lost at a row's corner, the words of the region there.
  function regionText(found, env) {
    const region = designs.regionAt(found, env);
    if (region === null || region === data.usual) return "";
    return region ? `There ${data.regions[region]}.` : "There no state of the circuit fits.";
  }

  function fill(row, name, text) {
    row.querySelector(`.${name} .desk-filled`).replaceChildren(...own.tiedSentence(text));
  }

  function openNames(demand, env) {
    const needed = new Set([...demand.stage.keys, ...(demand.kind === "region" ? [] : [demand.limit])]);
    for (const [key, stage] of [...data.desk.feeds].reverse()) {
      if (needed.has(key)) for (const name of stage.keys) needed.add(name);
    }
    return parts.map((part) => part.key).filter((key) => needed.has(key) && !env.has(key));
  }

  function showRow(row, demand, found, env) {
    row.classList.toggle("fails", Boolean(found) && !found.passes);
    row.classList.toggle("open", !found);
    row.dataset.value = found ? String(found.value) : "";
    row.dataset.limit = found ? String(found.limit) : "";
    row.dataset.passes = found ? String(found.passes) : "";
    if (!found) {
      fill(row, "desk-corner", "");
      fill(row, "desk-value", "");
      fill(row, "desk-judged", `choose ${own.listed(openNames(demand, env))} first`);
      return;
    }
    const region = found.passes && demand.kind === "aim" ? "" : regionText(found, env);
    row.dataset.region = region;
    const corner = cornerParts(demand, found.worst);
    const place = corner.length ? [demand.kind === "aim" ? "for " : "", ...corner] : ["the same at every corner"];
    row.querySelector(".desk-corner .desk-filled").replaceChildren(...place);
    fill(row, "desk-value", valueText(demand, found));
    fill(row, "desk-judged", "");
    const judged = row.querySelector(".desk-judged .desk-filled");
    judged.append(element("strong", "", found.passes ? "passes" : "fails"), ", ", spareText(demand, found), ". ");
    judged.append(...own.tiedSentence(region));
  }

  function wordsOf(row) {
    const copy = row.querySelector(".desk-words").cloneNode(true);
    return [...copy.childNodes];
  }

  // What is to be said of the design as a whole, as text and letters.
  function verdictParts(results) {
    const judged = results.filter(Boolean).length;
    const failing = results.map((found, at) => [found, at]).filter(([found]) => found && !found.passes);
    const open = results.length - judged;
    const waiting = `${open} ${judged ? "more " : ""}${open === 1 ? "waits" : "wait"} for a choice.`;
    const left = open ? ` ${waiting}` : "";
    if (!chosen().size) return ["Nothing is chosen yet."];
    if (!judged) return [`Nothing can be judged yet.${left}`];
    if (!failing.length && !open) return ["Every corner passes."];
    if (!failing.length) return [`So far every corner passes: ${judged} of ${results.length}.${left}`];
    const [[found, at]] = failing;
    const all = judged === 1 ? "The one judged" : judged === 2 ? "Both" : `All ${judged}`;
    const count = failing.length === judged ? all : `${failing.length} of ${judged}`;
    const head = failing.length === 1 ? `${count} fails: ` : `${count} fail; the first: `;
    return [head, ...wordsOf(rows[at]), `, ${spareText(data.desk.demands[at], found)}.${left}`];
  }

  function showVerdict(results) {
    const said = verdictParts(results);
    const text = said.map((part) => (typeof part === "string" ? part : part.textContent)).join("");
    verdict.classList.toggle("fails", chosen().size > 0 && results.some((found) => found && !found.passes));
    if (verdict.dataset.text === text) return; // who listens is not told the same twice
    verdict.dataset.text = text;
    verdict.replaceChildren(...said);
  }

  function eachLine(demand, found, here) {
    const value = demand.factor * here.value;
    const passes = designs.meets(value, found.limit, demand.relation);
    const comes = element("td", "desk-number-cell", designs.written(demand.stage.quantity, value));
    const judged = element("td", "", passes ? "passes" : "fails");
    return element("tr", passes ? "" : "fails", element("td", "", ...cornerParts(demand, here)), comes, judged);
  }

  // Each corner of each row by itself: made only while the list is open.
  function showEach(results) {
    if (!each.open) return;
    const lists = results.map((found, at) => {
      const demand = data.desk.demands[at];
      if (!found || found.corners.length < 2 || demand.kind === "aim") return null;
      const limit = own.tiedSentence(`${demand.stage.quantity}, ${limitText(demand, found)}`);
      const lines = found.corners.map((here) => eachLine(demand, found, here));
      const caption = element("caption", "", ...wordsOf(rows[at]), ": ", ...limit);
      return element("table", "desk-corner-list", caption, element("tbody", "", ...lines));
    });
    const there = lists.filter(Boolean);
    const none = element("p", "", "Nothing that is judged so far has more than one corner.");
    each.querySelector(".desk-list").replaceChildren(...(there.length ? there : [none]));
  }

  function show() {
    const env = designs.environment(numbers, chosen());
    const results = designs.judge(env);
    for (const part of parts) tellPart(part);
    rows.forEach((row, at) => showRow(row, data.desk.demands[at], results[at], env));
    showVerdict(results);
    showEach(results);
    const keys = parts.map((part) => part.key);
    if (designs.showSweep) designs.showSweep(env, keys);
  }

  function clear() {
    for (const part of parts) part.select.value = "";
    show();
  }

  function turnTo(wanted) {
    numbers = designs.numbersOf(wanted);
    number.value = String(wanted);
    document.getElementById("desk-problem").hash = String(wanted);
    for (const cell of told) cell.textContent = designs.written(cell.dataset.key, numbers.get(cell.dataset.key), EXACT);
    clear();
  }

  function asked() {
    const wanted = Number(window.location.hash.slice(1));
    return Number.isInteger(wanted) && wanted >= 1 && wanted <= count ? wanted : 1;
  }

  function step(part, by) {
    const at = placeOf(part);
    // From nothing chosen, the middle of the shelf is as good a start as any.
    const next = at < 0 ? Math.floor(part.shelf.length / 2) : Math.min(part.shelf.length - 1, Math.max(0, at + by));
    part.select.value = String(next);
    show();
  }

  for (const part of parts) {
    fillShelf(part);
    part.select.addEventListener("change", show);
    part.less.addEventListener("click", () => step(part, -1));
    part.more.addEventListener("click", () => step(part, 1));
  }
  for (let at = 1; at <= count; at += 1) {
    const option = element("option", "", String(at));
    option.value = String(at);
    number.append(option);
  }
  number.addEventListener("change", () => {
    window.location.hash = number.value;
  });
  window.addEventListener("hashchange", () => {
    if (/^#[0-9]+$/.test(window.location.hash)) turnTo(asked());
  });
  page.querySelector(".desk-clear").addEventListener("click", clear);
  each.addEventListener("toggle", show);
  for (const hidden of page.querySelectorAll(".desk-turn, .desk-work")) hidden.hidden = false;
  turnTo(asked());
})();
