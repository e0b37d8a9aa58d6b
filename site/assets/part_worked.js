// A problem part worked: steps of its worked solution stand among the answer lines, and the telling ones are left out
// for the learner to fill in. Which are left out first stands on the page (tutor/solution/fading.py). What comes after a
// gap shows once the gap is filled, since it would give the answer away.
// How much is worked at first is what the record says, or nothing; a reader asks for more or less, or turns help off.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { element } = Steadyrail;
  const MOST = 3;
  const SEEN = "steadyrail:part-worked:"; // which numbers of a kind were part worked; what was learnt is the record's
  const NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];

  function inWords(count) {
    return NUMBERS[count] || String(count);
  }

  // How many of `count` answers are left to the learner when so much help is given (3: most, 0: none).
  Steadyrail.gapsAt = function (help, count) {
    if (help <= 0) return count;
    if (help >= MOST) return Math.min(1, count);
    return help === 2 ? Math.ceil(count / 2) : Math.max(count - 1, 1);
  };

  function partOf(step) {
    const told = step.dataset.part;
    const cut = told.indexOf(" ");
    return { law: told.slice(0, cut), key: told.slice(cut + 1) };
  }

  // The steps that lead to each answer line, by its key: those since the line before, its own last.
  function stepsByKey(article, lines) {
    const keys = new Set(lines.map((line) => line.dataset.part));
    const found = new Map();
    let stretch = [];
    for (const step of article.querySelectorAll(".solution .steps > .step")) {
      stretch.push(step);
      const { key } = partOf(step);
      if (!keys.has(key)) continue;
      found.set(key, stretch);
      stretch = [];
    }
    return found;
  }

  function seen(kind) {
    try {
      const kept = JSON.parse(window.localStorage.getItem(SEEN + kind));
      return Array.isArray(kept) ? kept : [];
    } catch (error) {
      return [];
    }
  }

  function note(kind, number) {
    const kept = seen(kind);
    if (kept.includes(number)) return;
    try {
      window.localStorage.setItem(SEEN + kind, JSON.stringify(kept.concat(number)));
    } catch (error) {
      return; // storage is shut: each part-worked problem counts as the first
    }
  }

  // At first as much as the record says, once it knows that this kind is at its part-worked problems.
  function helpAtFirst(kind) {
    const record = Steadyrail.record;
    if (!record || !Steadyrail.helpIsOn()) return 0;
    if (record.stageOf && record.stageOf(kind) !== "faded") return 0;
    return record.helpOf ? Math.max(0, Math.min(MOST, record.helpOf(kind))) : 0;
  }

  // Copies of steps, under the numbers that they have in the worked solution: other steps name them by these.
  function worked(steps) {
    const list = element("ol", "steps");
    list.style.counterReset = `step ${Array.from(steps[0].parentNode.children).indexOf(steps[0])}`;
    for (const step of steps) {
      const copy = step.cloneNode(true);
      copy.classList.remove("covered");
      copy.querySelectorAll("[tabindex]").forEach((part) => part.removeAttribute("tabindex"));
      list.append(copy);
    }
    return list;
  }

  function holds(letters, key) {
    return letters.split(" ").some((letter) => key === letter || key.startsWith(`${letter}_`));
  }

  // Four laws of the circuit to pick from: the one that the worked solution takes, and three that do not hold what is
  // asked for, so that none of these could give it. Null where there are too few.
  function principles(key, step, number) {
    const list = document.getElementById("principles");
    const { law } = partOf(step);
    if (!list || law === "") return null;
    const title = step.querySelector(".step-title");
    const same = (item) => item.textContent.trim() === title.textContent.trim();
    const laws = Array.from(list.children);
    if (!laws.some((item) => holds(item.dataset.of, key))) return null; // a name of this problem's own: no law says it
    const others = laws.filter((item) => !holds(item.dataset.of, key) && !same(item));
    if (others.length < 2) return null;
    const start = (number * 7) % others.length;
    const taken = others.map((_, at) => others[(start + at) % others.length]).slice(0, 3);
    const options = taken.map((item) => ({ item: item, right: false }));
    options.splice(number % (options.length + 1), 0, { item: title, right: true });
    return options;
  }

  function asked(key, step, number, name) {
    const options = principles(key, step, number);
    if (options === null) return null;
    const box = element("fieldset", "principle");
    box.append(element("legend", "", "First: which principle gives the next line? (You may pass this over.)"));
    const said = element("p", "principle-said");
    said.setAttribute("role", "status");
    for (const option of options) {
      const label = element("label", "state");
      const choice = document.createElement("input");
      choice.type = "radio";
      choice.name = name;
      const words = element("span");
      words.append(...Array.from(option.item.childNodes, (node) => node.cloneNode(true)));
      label.append(choice, " ", words);
      choice.addEventListener("change", () => {
        const why = step.querySelector(".why");
        if (option.right) {
          said.replaceChildren("That is the one the worked solution takes. ");
          if (why) said.append(...Array.from(why.childNodes, (node) => node.cloneNode(true)));
        } else {
          said.replaceChildren("What is asked for does not stand in that relation: look for one that holds it.");
        }
      });
      box.append(label);
    }
    box.append(said);
    return box;
  }

  Steadyrail.preparePartWorked = function (article, kind, number) {
    const list = article.querySelector(".answer-lines");
    const lines = Array.from(list.querySelectorAll(":scope > .answer"));
    const groups = stepsByKey(article, lines);
    const order = article.dataset.fades.split(" ").filter((key) => groups.has(key));
    if (order.length === 0) return;
    const earlier = seen(kind).filter((other) => other !== number).length;
    let help = helpAtFirst(kind);
    const bar = element("div", "part-bar");
    const told = element("p", "part-told");
    told.setAttribute("role", "status");
    const more = element("button", "", "show more of it worked");
    const less = element("button", "", "show less of it worked");
    more.type = less.type = "button";
    bar.append(told, more, less);
    list.before(bar);

    // The steps on the way to a gap that may stand there: those of a value. Of an answer in words they tell too much.
    function wayTo(key) {
      const line = lines.find((one) => one.dataset.part === key);
      return line.dataset.kind === "value" ? groups.get(key).slice(0, -1) : [];
    }

    function gaps() {
      return new Set(order.slice(0, Steadyrail.gapsAt(help, order.length)));
    }

    // Puts the worked steps where they belong, and hides what comes after the first gap that is not filled yet.
    function lay() {
      list.querySelectorAll(":scope > .worked-part").forEach((part) => part.remove());
      const left = gaps();
      let open = true;
      lines.forEach((line, at) => {
        const key = line.dataset.part;
        const steps = groups.get(key) || [];
        const isGap = !steps.length || left.has(key);
        line.hidden = help > 0 && (!open || !isGap);
        line.dataset.given = help > 0 && !isGap ? "yes" : "";
        if (help === 0 || !open) return;
        const own = steps.length ? steps[steps.length - 1] : null;
        const shown = isGap ? (help >= 2 && own ? wayTo(key) : []) : steps;
        const part = element("li", "worked-part");
        if (shown.length) part.append(worked(shown));
        const settled = line.dataset.settled === "yes";
        if (isGap && own && earlier > 0 && line.dataset.kind === "value" && !settled) {
          const box = asked(key, own, number, `principle-${at}`);
          if (box) part.append(box);
        }
        if (part.childNodes.length) line.before(part);
        if (isGap && !settled) open = false;
      });
      list.classList.toggle("part-laid", help > 0);
      say(left);
    }

    // What a help level shows: how many gaps, and whether the way to them is worked. Levels that show the same are one.
    function shownAt(level) {
      const count = order.length;
      const left = order.slice(0, Steadyrail.gapsAt(level, count));
      const way = level >= 2 && left.some((key) => wayTo(key).length > 0);
      return `${left.length} ${way}`;
    }

    function next(step) {
      for (let level = help + step; level >= 0 && level <= MOST; level += step) {
        if (shownAt(level) !== shownAt(help)) return shownAt(level) === shownAt(0) ? 0 : level;
      }
      return null;
    }

    function say(left) {
      const count = order.length;
      const isOn = Steadyrail.helpIsOn();
      bar.hidden = !isOn;
      more.hidden = next(1) === null;
      less.hidden = next(-1) === null;
      if (more.hidden && less.hidden) bar.hidden = true; // one line leads to the one answer: nothing to work in part
      if (help === 0) told.textContent = "The whole of it is left to you.";
      else {
        const given = count - left.size;
        const rest = left.size === 1 ? "one gap is" : `${inWords(left.size)} gaps are`;
        const some = `${inWords(given)} of ${inWords(count)} results are worked`;
        const lead = given === 0 ? "The way there is worked" : some;
        const head = `${lead[0].toUpperCase()}${lead.slice(1)}; ${rest} left to you.`;
        told.textContent = `${head} What follows a gap shows when it is filled.`;
      }
    }

    function turn(step) {
      const level = next(step);
      if (level === null) return;
      help = level;
      article.dataset.worked = String(Math.max(help, Number(article.dataset.worked || 0)));
      lay();
      if (step > 0 ? more.hidden : less.hidden) (step > 0 ? less : more).focus();
    }

    more.addEventListener("click", () => turn(1));
    less.addEventListener("click", () => turn(-1));
    article.addEventListener("settled", () => {
      if (help > 0) note(kind, number);
      lay();
    });
    article.addEventListener("help-changed", () => {
      if (!Steadyrail.helpIsOn()) help = 0;
      lay();
    });
    if (shownAt(help) === shownAt(0)) help = 0;
    article.dataset.worked = String(help);
    lay();
  };

  if (Steadyrail.settings) {
    Steadyrail.settings.whenChanged(() => {
      const article = document.querySelector("article.problem");
      if (article) article.dispatchEvent(new CustomEvent("help-changed"));
    });
  }
})();
