// Rebuilds a problem's page from its bank: one template shared by all numbers, one row of slots for each.
// The form of a packed template is told at the head of tutor/views/bank.py; `expand` there does the same in Python.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  const banks = new Map();
  const waiting = new Map();
  const SPACES = new Map([
    ["svg", "http://www.w3.org/2000/svg"],
    ["math", "http://www.w3.org/1998/Math/MathML"],
  ]);
  const DECLARATIONS = "http://www.w3.org/2000/xmlns/";
  const HTML = "http://www.w3.org/1999/xhtml";

  function textOf(template, slots) {
    if (typeof template === "string") return template;
    return template
      .slice(1)
      .map((piece) => (typeof piece === "number" ? slots[piece] : piece))
      .join("");
  }

  function build(parent, template, slots, space) {
    if (typeof template === "string" || template[0] === "t") {
      const text = textOf(template, slots);
      if (text) parent.appendChild(document.createTextNode(text));
      return;
    }
    if (template[0] === "h") {
      for (const [variant, ...own] of slots[template[1]]) {
        build(parent, template[2 + variant], slots.concat(own), space);
      }
      return;
    }
    const [, tag, attributes, ...children] = template;
    const inner = SPACES.get(tag) || space;
    const element = document.createElementNS(inner, tag);
    for (let at = 0; at < attributes.length; at += 2) {
      const name = attributes[at];
      element.setAttributeNS(name === "xmlns" ? DECLARATIONS : null, name, textOf(attributes[at + 1], slots));
    }
    for (const child of children) build(element, child, slots, inner);
    parent.appendChild(element);
  }

  // What a template without slots stands for, put at the end of an element of HTML.
  Steadyrail.build = (parent, template) => build(parent, template, [], HTML);

  // Called by each bank file, which is one call with one literal.
  Steadyrail.takeBank = function (name, bank) {
    banks.set(name, bank);
  };

  // The page body of number `number` as an element, from a bank that has arrived.
  Steadyrail.pageOf = function (name, number) {
    const bank = banks.get(name);
    const holder = document.createDocumentFragment();
    build(holder, bank.template, bank.rows[number - 1], HTML);
    return holder.firstChild;
  };

  // Fetches a bank once, by a script element so that a folder opened from disk works too; then calls back.
  Steadyrail.withBank = function (name, address, ready, failed) {
    if (banks.has(name)) {
      ready();
      return;
    }
    const others = waiting.get(name);
    if (others) {
      others.push([ready, failed]);
      return;
    }
    waiting.set(name, [[ready, failed]]);
    const script = document.createElement("script");
    script.src = address;
    const settle = function (place) {
      const callbacks = waiting.get(name);
      waiting.delete(name);
      for (const pair of callbacks) pair[place]();
    };
    script.addEventListener("load", () => settle(banks.has(name) ? 0 : 1));
    script.addEventListener("error", () => {
      script.remove();
      settle(1);
    });
    document.head.appendChild(script);
  };
})();
