// The rows of keys over the working sheet: each writes its text into the line in hand, where the caret stands.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  const BETWEEN = /^[×∥±≈≤≥]$/; // signs between two sides, set with a space on either
  const NAMED = /^[A-Za-zΔ]/; // a letter after a name or number is a product: 2 R, not the code 2R
  const NAME_END = /[A-Za-z0-9_)\]]$/;

  function spaced(text, before) {
    if (BETWEEN.test(text)) return `${before && !before.endsWith(" ") ? " " : ""}${text} `;
    return NAMED.test(text) && NAME_END.test(before) ? ` ${text}` : text;
  }

  function write(lines, key) {
    const line = lines.current();
    const field = line.field;
    const before = field.value.slice(0, field.selectionStart);
    const named = Steadyrail.settings ? Steadyrail.settings.spelt(key.dataset.writes) : key.dataset.writes;
    const text = spaced(named, before);
    const [start, end] = [field.selectionStart, field.selectionEnd];
    lines.focus(lines.all.indexOf(line), start);
    field.setSelectionRange(start, end);
    // Typed for the writer, so that the browser's own undo takes it back.
    if (document.execCommand && document.execCommand("insertText", false, text)) return;
    field.setRangeText(text, start, end, "end");
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }

  // One stop for the Tab key in each row; the arrows go along it (ARIA Authoring Practices, toolbar).
  function prepareRow(row, lines) {
    const keys = Array.from(row.querySelectorAll(".key"));
    const only = (chosen) => keys.forEach((key) => key.setAttribute("tabindex", key === chosen ? "0" : "-1"));
    only(keys[0]);
    row.addEventListener("mousedown", (event) => event.preventDefault()); // the caret stays in the line
    row.addEventListener("click", (event) => {
      const key = event.target.closest(".key");
      if (!key) return;
      only(key);
      write(lines, key);
    });
    row.addEventListener("keydown", (event) => {
      const at = keys.indexOf(document.activeElement);
      const to = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: keys.length - 1 }[event.key];
      if (at < 0 || to === undefined) return;
      event.preventDefault();
      const next = keys[(to + keys.length) % keys.length];
      only(next);
      next.focus();
    });
  }

  Steadyrail.prepareKeys = function (section, lines) {
    section.querySelectorAll(".key-row").forEach((row) => prepareRow(row, lines));
  };
})();
