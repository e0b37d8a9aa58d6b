// Turns the pages of one family and level: another problem, the previous one, or a number, from its bank.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const holder = document.getElementById("problem");
  const form = document.getElementById("turn");
  const previous = document.getElementById("previous");
  const another = document.getElementById("another");
  const wanted = document.getElementById("number");
  const place = document.getElementById("place");
  const turned = document.getElementById("turned");
  const desk = document.getElementById("desk"); // on the pages of problems in which parts are chosen
  const count = Number(holder.dataset.count);
  const { settings } = Steadyrail;
  const { mains } = holder.dataset; // of each number, where the mains has a frequency here
  let current = 1;

  // The next number that the settings ask for, up (1) or down (-1); 0 for none.
  function near(from, step) {
    return settings.nextNumber(mains, from, step, count);
  }

  // The first number that the settings ask for; 1 where none is of that sort.
  function first() {
    return near(0, 1) || 1;
  }

  function placeWords(number) {
    const wanted = settings.get("mains");
    const isChosen = mains && wanted !== "both" && near(0, 1) > 0;
    return `Problem ${number} of ${count}${isChosen ? `, those at ${wanted} Hz by your settings` : ""}`;
  }

  function settle(number) {
    current = number;
    place.textContent = placeWords(number);
    previous.disabled = near(number, -1) === 0;
    another.disabled = near(number, 1) === 0;
    wanted.value = "";
    if (desk) desk.hash = String(number);
    document.title = document.title.replace(/^(number \d+, )?/, number === 1 ? "" : `number ${number}, `);
    const article = holder.firstElementChild;
    Steadyrail.prepareSteps(article);
    Steadyrail.prepareWorking(article);
    Steadyrail.prepareAnswers(article);
    Steadyrail.prepareHints(article);
    Steadyrail.preparePartWorked(article, holder.dataset.kind, number);
  }

  function say(sentence) {
    turned.textContent = sentence;
    turned.classList.remove("heard");
  }

  function show(number) {
    Steadyrail.withBank(
      holder.dataset.kind,
      holder.dataset.bank,
      () => {
        holder.replaceChildren(Steadyrail.pageOf(holder.dataset.kind, number));
        settle(number);
        turned.classList.add("heard");
        turned.textContent = `Problem ${number} of ${count} is on the page.`;
        const heading = holder.querySelector("h1");
        heading.focus({ preventScroll: true });
        window.scrollTo({ top: 0, behavior: "instant" });
      },
      () => say("The other problems could not be fetched; look for the folder named bank beside this page's folder."),
    );
  }

  // The number the address asks for; 1 when it asks for none, null when it is no number of this kind.
  function asked() {
    const text = window.location.hash.slice(1);
    if (text === "") return first();
    if (!/^[0-9]+$/.test(text)) return current; // a place on the page, such as #text
    const number = Number(text);
    return number >= 1 && number <= count ? number : null;
  }

  function follow() {
    const number = asked();
    const typed = window.location.hash.slice(1);
    if (number === null) say(`There is no number ${typed} here; the numbers go from 1 to ${count}.`);
    else if (number !== current) show(number);
  }

  function turn(number) {
    window.location.hash = String(number);
  }

  previous.addEventListener("click", () => turn(near(current, -1)));
  another.addEventListener("click", () => turn(near(current, 1)));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const number = Number(wanted.value.trim());
    if (Number.isInteger(number) && number >= 1 && number <= count) turn(number);
    else say(`The numbers go from 1 to ${count}; you asked for “${wanted.value.trim()}”.`);
  });
  window.addEventListener("hashchange", follow);
  for (const part of document.querySelectorAll(".scripted-only")) part.hidden = false;
  settle(1);
  follow();
})();
