// Puts the one problem of a page to work: a page of a class's set, which has no others to turn to.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const holder = document.getElementById("problem");
  const article = holder.firstElementChild;
  Steadyrail.prepareSteps(article);
  Steadyrail.prepareWorking(article);
  Steadyrail.prepareAnswers(article);
  Steadyrail.prepareHints(article);
  Steadyrail.preparePartWorked(article, holder.dataset.kind, Number(holder.dataset.number));
})();
