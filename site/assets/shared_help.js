// Puts the help with typing into the page: pages of problems share its rows and keys (typing.js, by number).
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  for (const place of document.querySelectorAll("[data-shared]")) {
    const numbers = place.dataset.shared;
    place.removeAttribute("data-shared");
    for (const number of numbers ? numbers.split(" ") : []) Steadyrail.build(place, Steadyrail.typing[Number(number)]);
  }
})();
