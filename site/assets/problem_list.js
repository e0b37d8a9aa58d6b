// A line of a printed list of problems.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});

  // The line of a problem: a link, and after it what is said of it.
  Steadyrail.problemLine = function (problem, said) {
    const item = document.createElement("li");
    const link = document.createElement("a");
    link.href = `problems/${problem.kind.replace(":", "-")}.html#${problem.number}`;
    link.textContent = problem.title;
    item.append(link, `, level ${problem.level}, number ${problem.number}`);
    if (said) {
      const note = document.createElement("span");
      note.className = "said-of-it";
      note.textContent = said;
      item.append(" ", note);
    }
    return item;
  };
})();
