// Copies of parts of a page, for the board of presenting.js and the sheets of class_sheet.js.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  let copies = 0;

  // A copy of a part of the page: ids and what refers to them get an ending of their own, so that none stands twice.
  Steadyrail.copied = function (original) {
    const copy = original.cloneNode(true);
    const ending = `-copy${(copies += 1)}`;
    for (const part of [copy, ...copy.querySelectorAll("*")]) {
      if (part.id) part.id += ending;
      for (const name of ["aria-labelledby", "aria-describedby", "for"]) {
        const targets = part.getAttribute(name);
        if (targets) part.setAttribute(name, targets.trim().split(/\s+/).map((target) => target + ending).join(" "));
      }
      part.classList.remove("covered");
      if (part.tagName === "DETAILS") part.open = false;
    }
    return copy;
  };

  // The inside of a part, copied.
  Steadyrail.copiedInside = function (original) {
    return Array.from(Steadyrail.copied(original).childNodes);
  };
})();
