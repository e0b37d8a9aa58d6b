// The choices of the settings: each acts at once, on this page and on every other.
(function () {
  "use strict";
  const { settings } = window.Steadyrail;
  const form = document.querySelector(".settings-form");
  const kept = document.querySelector(".settings-kept");

  function show() {
    for (const field of form.elements) {
      if (field.name) field.checked = settings.get(field.name) === field.value;
    }
  }

  form.addEventListener("change", (event) => {
    settings.set(event.target.name, event.target.value);
    kept.textContent = settings.isKept()
      ? "Kept in this browser."
      : "This browser keeps nothing once the page is closed; the choice holds on this page alone.";
  });
  settings.whenChanged(show);
  show();
  form.hidden = false;
})();
