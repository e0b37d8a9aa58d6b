// The answer lines of a problem: checks a line when asked, writes the finding beside it, keeps what was typed.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  const KEPT = "steadyrail:answers:";
  // Stands in a sentence for the name of a slip, which may hold a formula and is set from the page's own markup.
  const MARK = "\ue000";

  // What to look at after a miss of which no more is known than what the judge says.
  const TERMS =
    "No usual slip leads here: hold each term of your relation, its sign and its corner, against the drawing.";
  const LOOK = new Map([
    ["too-large", TERMS],
    ["too-small", TERMS],
    ["wrong", TERMS],
    ["factor-two", "Look for a half, a pair, or a value from peak to peak."],
    ["does-not-fit", "Hold it against each bound that it must keep to, its tolerance and its margin included."],
    ["some-places", "Go through the places one by one, and ask of each what it rests on."],
  ]);

  const heard = new WeakMap(); // line -> what was written for it and told
  const TOLD = ["right", "wrong", "slip", "units"]; // outcomes that the record hears of

  function lookAt(finding) {
    if (finding.outcome !== "wrong") return "";
    const sentences = Steadyrail.tables.judging.sentences;
    const said = Array.from(LOOK.keys()).find((saying) => {
      const [start, end] = sentences[saying].split("{names}");
      return finding.sentence.startsWith(start) && finding.sentence.endsWith(end || "");
    });
    return said ? LOOK.get(said) : "";
  }

  function numbers(text) {
    return text ? text.split(" ").map(Number) : [];
  }

  function remarksOf(line) {
    return Array.from(line.querySelectorAll(":scope > .remark"));
  }

  // What the judge needs to know of a line: its waypoint, as the page states it. `tell` gives the name, the reason and
  // the question of a slip or a remark on a wrong option.
  Steadyrail.waypointOf = function (line, tell) {
    const data = line.dataset;
    const said = remarksOf(line).map((remark, place) => ({
      id: remark.dataset.part,
      value: Number(remark.dataset.value),
      option: remark.dataset.option,
      ...tell(remark, place),
    }));
    const options = line.querySelectorAll("input[type=radio], .placed:first-of-type option");
    return {
      key: data.part,
      kind: data.kind,
      answer: data.answer === "" ? null : { value: Number(data.answer), unit: data.unit },
      unit: data.unit,
      low: Number(data.low),
      high: Number(data.high),
      accepted: numbers(data.accepted),
      options: Array.from(options, (option) => option.value).filter((option) => option !== ""),
      state: data.state,
      slips: said.filter((remark) => remark.option === undefined),
      remarks: said.filter((remark) => remark.option !== undefined),
      places: placesOf(line).length,
      arrangements: data.arrangements ? data.arrangements.split("|") : [],
    };
  };

  function marked(remark, place) {
    return { name: remark.dataset.named === "" ? "" : MARK + place + MARK, why: "", hint: "" };
  }

  function placesOf(line) {
    return Array.from(line.querySelectorAll(".placed"));
  }

  function typedIn(line) {
    const written = line.querySelector(".written");
    if (written) return written.value;
    const places = placesOf(line);
    if (places.some((place) => place.value)) return places.map((place) => place.value).join("; ");
    if (places.length > 0) return "";
    const chosen = line.querySelector("input:checked");
    return chosen ? chosen.value : "";
  }

  function read(name) {
    try {
      return JSON.parse(window.localStorage.getItem(KEPT + name)) || {};
    } catch (error) {
      return {}; // storage is shut or holds something else: the page works without it
    }
  }

  function keep(name, lines) {
    const typed = {};
    for (const line of lines) {
      const text = typedIn(line);
      if (text) typed[line.dataset.part] = text;
    }
    try {
      window.localStorage.setItem(KEPT + name, JSON.stringify(typed));
    } catch (error) {
      return; // storage is shut: what was typed lasts as long as the page
    }
  }

  function restore(line, text) {
    const written = line.querySelector(".written");
    if (written) written.value = text;
    for (const option of line.querySelectorAll("input[type=radio]")) option.checked = option.value === text;
    const chosen = text.split("; ");
    placesOf(line).forEach((place, at) => {
      place.value = chosen[at] || "";
    });
  }

  // A paragraph of the margin; a slip's mark in its text becomes the slip's name.
  function paragraph(text, line) {
    const made = document.createElement("p");
    text.split(MARK).forEach((piece, place) => {
      if (place % 2 === 0) made.append(piece);
      else made.append(...remarksOf(line)[Number(piece)].querySelector(".slip-name").cloneNode(true).childNodes);
    });
    return made;
  }

  // Why a right answer is right: the reason that the worked solution gives for its line.
  function reasonOf(line) {
    const steps = line.closest("article").querySelectorAll(".solution .steps > .step");
    const step = Array.from(steps).find((one) => one.dataset.part.endsWith(` ${line.dataset.part}`));
    // The step of an order gives the reason of its last place alone.
    if (step && line.dataset.kind === "arrangement") {
      return [paragraph("The worked solution says of each place why.", line)];
    }
    const why = step ? step.querySelector(".why") || step.querySelector(".after") : null;
    if (why === null) return [];
    const told = document.createElement("p");
    told.className = "right-why";
    told.append(...Array.from(why.childNodes, (node) => node.cloneNode(true)));
    return [told];
  }

  function helpUsed(article, line) {
    const hints = Steadyrail.hintsGiven ? Steadyrail.hintsGiven(line) : 0;
    return Math.max(hints, Number(article.dataset.worked || 0));
  }

  // The kind and the number of a problem, from its name: zener-resistor:2 and 17.
  function placeOf(article) {
    const [family, level, number] = article.dataset.name.split(/[:@+]/);
    return { kind: `${family}:${level}`, number: Number(number) };
  }

  function finish(article, lines, right) {
    if (article.dataset.finished) return;
    article.dataset.finished = "yes";
    const help = Math.max(...lines.map((line) => helpUsed(article, line)));
    if (Steadyrail.record) Steadyrail.record.finished({ ...placeOf(article), right: right, help: help });
  }

  // What was written for a line and judged, in its box or in a working.
  function heardOf(line) {
    if (!heard.has(line)) heard.set(line, new Set());
    return heard.get(line);
  }

  // Tells the record of an answer that was judged, and of a problem that is done. A near miss tells nothing yet, nor
  // does the same line checked twice; who read the worked solution first has read an example.
  function tell(line, finding, typed) {
    const article = line.closest("article");
    const lines = Array.from(article.querySelectorAll(".answer"));
    const isRight = finding.outcome === "right";
    const isNew = !heardOf(line).has(typed) && TOLD.includes(finding.outcome);
    if (isNew) article.dataset.tried = "yes";
    heardOf(line).add(typed);
    if (isRight) line.dataset.settled = "yes";
    if (isNew && Steadyrail.record && !article.dataset.example) {
      const slip = remarksOf(line).find((known) => known.dataset.part === finding.slip);
      Steadyrail.record.attempt({
        ...placeOf(article),
        key: line.dataset.part,
        right: isRight,
        slip: finding.slip,
        words: slip ? slip.querySelector(".slip-name").textContent : "",
        help: helpUsed(article, line),
        when: new Date(),
      });
    }
    if (isRight) article.dispatchEvent(new CustomEvent("settled"));
    else offerFresh(article);
    const isDone = (one) => one.dataset.settled === "yes" || one.dataset.given === "yes";
    if (lines.every(isDone)) finish(article, lines, !article.dataset.opened);
  }

  // What a working came to; `wasThere`: it stood on the page before, so the record has heard of it.
  Steadyrail.tellAnswer = function (line, finding, typed, wasThere) {
    const isRight = finding.outcome === "right";
    const isNew = !heardOf(line).has(typed);
    if (wasThere) {
      heardOf(line).add(typed);
      if (isRight) line.dataset.settled = "yes";
    } else if (isNew) tell(line, finding, typed);
    const place = line.querySelector(".verdict");
    if (isRight && place.childNodes.length === 0) place.replaceChildren(paragraph("Your working reaches this.", line));
  };

  // After a miss another problem of the same kind is offered, in words, once.
  function offerFresh(article) {
    const place = article.querySelector(".fresh");
    const holder = article.closest("[data-count]");
    if (!place || !holder || place.childNodes.length > 0) return;
    const { number } = placeOf(article);
    const count = Number(holder.dataset.count);
    const next = (from) => Steadyrail.settings.nextNumber(holder.dataset.mains, from, 1, count);
    const other = next(number) || next(0) || number;
    if (other === number) return;
    const link = document.createElement("a");
    link.href = `#${other}`;
    link.textContent = `number ${other}`;
    place.append("When this one is done, take a fresh one: ", link, " is of the same kind.");
  }

  // Writes the finding in the margin: a sentence, and for a slip that is known, why it is one and a question.
  function remark(line) {
    const place = line.querySelector(".verdict");
    const typed = typedIn(line).trim();
    if (!typed) {
      const { kind } = line.dataset;
      const isWritten = kind === "value" || kind === "choice";
      const wanted = kind === "arrangement" ? "for each place" : "one of these";
      const words = isWritten ? "Nothing is written here yet." : `Choose ${wanted} first.`;
      place.replaceChildren(paragraph(words, line));
      return;
    }
    const finding = Steadyrail.judge(Steadyrail.waypointOf(line, marked), typed);
    const said = [paragraph(finding.sentence, line)];
    // Where several slips lead to one value, their ids come together and no single reason is right.
    const slip = remarksOf(line).find((known) =>
      known.dataset.option === undefined ? known.dataset.part === finding.slip : known.dataset.option === typed,
    );
    if (slip) {
      for (const part of slip.querySelectorAll(".slip-why, .slip-hint")) said.push(part.cloneNode(true));
    }
    if (finding.outcome === "right") said.push(...reasonOf(line));
    if (said.length < 2 && lookAt(finding)) said.push(paragraph(lookAt(finding), line));
    place.dataset.outcome = finding.outcome;
    place.replaceChildren(...said);
    if (finding.outcome !== "unread") tell(line, finding, typed);
  }

  Steadyrail.prepareAnswers = function (article) {
    const name = article.dataset.name;
    const lines = Array.from(article.querySelectorAll(".answer"));
    const kept = read(name);
    const fresh = document.createElement("p");
    fresh.className = "fresh";
    fresh.setAttribute("role", "status");
    article.querySelector(".answer-lines").after(fresh);
    const solution = article.querySelector(".solution");
    if (solution) solution.addEventListener("toggle", () => {
      if (!solution.open) return;
      article.dataset.opened = "yes";
      if (article.dataset.tried) finish(article, lines, false);
      else {
        article.dataset.example = article.dataset.finished = "yes";
        if (Steadyrail.record) Steadyrail.record.seen({ kind: placeOf(article).kind, what: "example" });
      }
    });
    for (const line of lines) {
      if (typeof kept[line.dataset.part] === "string") restore(line, kept[line.dataset.part]);
      line.querySelector(".check").hidden = false;
      line.querySelector("form").addEventListener("submit", (event) => {
        event.preventDefault();
        remark(line);
      });
      line.addEventListener("input", () => {
        line.querySelector(".verdict").replaceChildren();
        keep(name, lines);
      });
    }
  };
})();
