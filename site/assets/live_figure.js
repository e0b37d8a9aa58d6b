// The figure on a circuit's page that a reader disturbs: sliders move part values, line and load, and the state that
// own_resolve.js finds is shown as numbers and bars, with its region in words. It is told aloud only once all is still.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const own = Steadyrail.own;
  const data = Steadyrail.ownData;
  const section = document.querySelector(".live");
  if (!section || !data) return; // without its data the section stays hidden
  const STILL = 600; // milliseconds without a move
  const WARMED = "DT"; // the change of temperature that parts drift by
  const ROOM = 1.1; // how much longer a whole bar is than the longest at the start, before it is rounded up
  const set = data.sets[0];
  const sliders = Array.from(section.querySelectorAll("input[type=range]"));
  const shown = section.querySelector(".live-state");
  const heard = section.querySelector(".live-heard");
  const groups = Array.from(section.querySelectorAll(".live-group"), (table) => ({
    full: table.querySelector(".live-full"),
    rows: Array.from(table.querySelectorAll("tr[data-name]"), (row) => ({
      name: row.dataset.name,
      row: row,
      fill: row.querySelector(".live-fill"),
      was: row.querySelector(".live-was"),
      value: row.querySelector(".live-value"),
    })),
  }));
  const told = groups.flatMap((group) => group.rows.map((row) => row.name));
  const output = data.outputs.find((name) => told.includes(name));
  let start = new Map(); // what followed from the typical numbers
  let frame = 0;
  let timer = 0;
  let lastHeard = "";

  function written(name, value) {
    return own.unitBound(Steadyrail.checker.write(value, own.symbol(name).unit, 3));
  }

  function numberOf(slider) {
    return (Number(slider.dataset.step) * Number(slider.value)) / 100;
  }

  function numbers() {
    const found = new Map(Object.entries(data.start));
    for (const slider of sliders) found.set(slider.dataset.name, numberOf(slider));
    return found;
  }

  // The state of the numbers as they stand; where parts drift, with each drift and what it makes of the outputs.
  function state() {
    const told = numbers();
    if (!data.drifts.length) return own.resolve(set, told);
    const warm = own.run(data.drifts, told, []);
    const [there, here] = [told, warm].map((values) => {
      const given = new Map(values);
      given.delete(WARMED);
      return own.resolve(set, given);
    });
    if (here.isStopped) return here;
    for (const step of data.drifts) here.values.set(`D${step.target}`, warm.get(step.target) - told.get(step.target));
    for (const name of there.isStopped || there.plan !== here.plan ? [] : data.outputs) {
      if (there.values.has(name)) here.values.set(`D${name}`, here.values.get(name) - there.values.get(name));
    }
    return here;
  }

  // The least of 1, 1.5, 2, 3, ... 10, 15, ... that is not less.
  function roundUp(value) {
    const decade = 10 ** Math.floor(Math.log10(value));
    return decade * [1, 1.5, 2, 3, 4, 5, 6, 8, 10].find((step) => step * decade >= value * (1 - 1e-9));
  }

  function longest(rows, values) {
    return Math.max(0, ...rows.map((row) => Math.abs(values.get(row.name) || 0)));
  }

  function percent(share) {
    return `${(100 * Math.min(1, Math.abs(share))).toFixed(2)}%`;
  }

  function showGroup(group, values) {
    const most = Math.max(longest(group.rows, start) * ROOM, longest(group.rows, values));
    const whole = most > 0 ? roundUp(most) : 1;
    group.full.textContent = written(group.rows[0].name, whole);
    for (const { name, row, fill, was, value } of group.rows) {
      const here = values.get(name);
      const isThere = here !== undefined;
      row.classList.toggle("below", isThere && here < 0);
      fill.style.width = percent(isThere ? here / whole : 0);
      was.style.left = percent((start.get(name) || 0) / whole);
      value.textContent = isThere ? written(name, here) : "no value";
      value.dataset.value = isThere ? String(here) : "";
    }
  }

  // The region in words and, away from the usual one, what the usual one would need.
  function regionTold(found) {
    if (found.isStopped) {
      const why = /^no region of .* holds with these values \((.*)\)$/.exec(found.sentence);
      return why ? `No state of the circuit fits these values. Tried: ${why[1]}.` : `${own.capital(found.sentence)}.`;
    }
    const usual = set.plans[0];
    const here = `${own.capital(data.regions[found.plan.region])}.`;
    const passed = found.tried.find((item) => item.plan === usual);
    if (found.plan === usual || !passed) return here;
    const why = passed.why.replace(/^it needs (.*), but (?=[^,]*$)/, "it would need $1, but would have ");
    return `${here} That ${data.regions[usual.region]} no longer fits: ${why}.`;
  }

  function show() {
    frame = 0;
    for (const slider of sliders) {
      const text = written(slider.dataset.name, numberOf(slider));
      slider.setAttribute("aria-valuetext", text);
      slider.closest(".live-slider").querySelector(".live-now").textContent = text;
    }
    const found = state();
    const values = found.isStopped ? new Map() : found.values;
    if (!start.size) start = values;
    for (const group of groups) showGroup(group, values);
    const text = regionTold(found);
    const isUsual = !found.isStopped && found.plan === set.plans[0];
    section.classList.toggle("left", !isUsual);
    section.dataset.region = found.isStopped ? "" : found.plan.region;
    if (shown.dataset.text !== text) {
      shown.dataset.text = text;
      shown.replaceChildren(...own.tiedSentence(text));
    }
    return output && values.has(output) ? `${output} = ${written(output, values.get(output))}. ${text}` : text;
  }

  function tell() {
    const text = show();
    if (text === lastHeard) return;
    lastHeard = text;
    heard.replaceChildren(...own.tiedSentence(text));
  }

  function moved() {
    if (!frame) frame = window.requestAnimationFrame(show);
    window.clearTimeout(timer);
    timer = window.setTimeout(tell, STILL);
  }

  function putBack() {
    for (const slider of sliders) slider.value = slider.defaultValue;
    moved();
  }

  for (const slider of sliders) slider.addEventListener("input", moved);
  section.querySelector(".live-back").addEventListener("click", putBack);
  for (const slider of sliders) slider.value = slider.defaultValue; // a browser may bring back where they stood
  lastHeard = show();
  section.hidden = false;
})();
