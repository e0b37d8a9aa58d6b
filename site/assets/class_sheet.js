// One problem of a set as it stands on the sheet and in the key, made from its page.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { element } = Steadyrail;
  const { wholeName, marksOf, inMarks } = Steadyrail.classSet;
  const { version } = Steadyrail.classBank;

  function headed(question, at, page) {
    const heading = element("h3", "class-heading");
    heading.append(`${at}. `, ...Steadyrail.copiedInside(page.querySelector("h1")));
    heading.append(" ", element("span", "class-worth", `(${inMarks(marksOf(question))})`));
    return heading;
  }

  function named(question) {
    const line = element("p", "class-name");
    line.append(element("code", "", wholeName(question)), ` · Steadyrail ${version}`);
    return line;
  }

  // A problem without anything that tells its answers: statement, drawing, table, and what is asked.
  function onSheet(question, at, page) {
    const problem = element("section", "class-problem");
    const body = element("div", "class-body");
    body.append(headed(question, at, page));
    for (const piece of page.querySelector(".statement").children) body.append(Steadyrail.copied(piece));
    for (const words of body.querySelectorAll(".in-words")) words.remove();
    const asked = element("ol", "class-parts");
    for (const point of page.querySelectorAll(".answer")) asked.append(askedIn(point));
    if (asked.children.length) body.append(asked);
    problem.append(body, element("div", "class-room"), named(question));
    return problem;
  }

  // What one answer line asks, in words, with the options or places to choose from.
  function askedIn(point) {
    const item = element("li");
    const prompt = point.querySelector(".prompt, legend");
    const line = element("p");
    line.append(...Steadyrail.copiedInside(prompt));
    item.append(line);
    const places = point.querySelectorAll(".place-line > span");
    let options = Array.from(point.querySelectorAll(".state > span"));
    if (places.length) {
      const list = element("ul", "class-places");
      for (const place of places) list.append(filled("li", place));
      item.append(list);
      options = Array.from(point.querySelector(".placed").options).filter((option) => option.value);
    }
    if (options.length) {
      const list = element("ul", places.length ? "class-choices" : "class-options");
      for (const option of options) list.append(filled("li", option));
      item.append(list);
    }
    return item;
  }

  function filled(tag, from) {
    const made = element(tag);
    made.append(...Steadyrail.copiedInside(from));
    return made;
  }

  function inKey(question, at, page) {
    const problem = element("section", "class-problem");
    problem.append(headed(question, at, page), named(question));
    const answers = element("dl", "class-answers");
    for (const point of page.querySelectorAll(".answer")) {
      const prompt = point.querySelector(".prompt, legend");
      answers.append(filled("dt", prompt), element("dd", "", answerOf(point)));
    }
    problem.append(answers);
    const solution = page.querySelector(".solution .stepwise");
    for (const piece of solution.querySelectorAll(":scope > .steps, :scope > .closing")) {
      problem.append(Steadyrail.copied(piece));
    }
    return problem;
  }

  function answerOf(point) {
    const { kind, unit, answer, accepted, state } = point.dataset;
    const written = (value) => Steadyrail.checker.write(Number(value), unit);
    if (kind === "choice" && accepted) {
      const fits = accepted.split(" ").map(written);
      return fits.length > 1 ? `any of ${fits.join(", ")}` : fits[0];
    }
    return answer ? written(answer) : state;
  }

  Steadyrail.classSheet = { onSheet, inKey };
})();
