// On a page that stands alone: puts the level that the address asks for in the place of the first.
(function () {
  "use strict";
  const wanted = new URLSearchParams(window.location.search).get("level");
  const holder = document.getElementById("problem");
  const other = [...document.querySelectorAll("template.other-level")].find((level) => level.dataset.level === wanted);
  if (other) {
    delete holder.dataset.mains;
    Object.assign(holder.dataset, other.dataset);
    holder.replaceChildren(other.content.cloneNode(true));
  }
  for (const way of document.querySelectorAll(".to-level")) {
    if (way.dataset.level === holder.dataset.level) way.setAttribute("aria-current", "page");
  }
})();
