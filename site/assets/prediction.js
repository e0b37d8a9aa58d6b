// The question at the head of a lesson: choosing an answer shows its reason, and the others stay open to be read.
(function () {
  "use strict";
  document.querySelectorAll("form.prediction").forEach((form) => {
    const said = form.querySelector('[role="status"]');
    const choices = Array.from(form.querySelectorAll(".choice"));
    const reasons = choices.map((choice) => choice.querySelector(".reason"));
    reasons.forEach((reason) => reason.classList.add("covered"));
    choices.forEach((choice, place) => {
      choice.querySelector("input").addEventListener("change", () => {
        reasons[place].classList.remove("covered");
        said.textContent = reasons[place].textContent;
      });
    });
    form.addEventListener("submit", (event) => event.preventDefault());
  });
})();
