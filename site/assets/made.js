// What scripts make for a page: an element, a file to save.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  const SAVED_AFTER = 10000; // milliseconds, by which a browser has taken the file

  // An element with its class ("" for none) and what is in it, texts and nodes in order.
  Steadyrail.element = function (tag, className, ...children) {
    const made = document.createElement(tag);
    if (className) made.className = className;
    made.append(...children);
    return made;
  };

  // Lets the browser save a text as a file of this name.
  Steadyrail.saveFile = function (name, text, type) {
    const link = document.createElement("a");
    link.download = name;
    link.href = URL.createObjectURL(new Blob([text], { type: type }));
    document.body.append(link);
    link.click();
    link.remove();
    window.setTimeout(() => URL.revokeObjectURL(link.href), SAVED_AFTER);
  };
})();
