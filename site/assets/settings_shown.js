// Shows a page by the settings: its decimal sign, the letters of input, output and gain, the symbols of its drawings.
// Only what is shown changes: data attributes, values of fields and choices, templates and stored banks stay as they
// are, and every changed text remembers what it was. Names of problems, code, keys to type and quotations stay too.
(function () {
  "use strict";
  const Steadyrail = (window.Steadyrail = window.Steadyrail || {});
  const { settings } = Steadyrail;
  const LEFT_ALONE = "code, kbd, samp, pre, script, style, textarea, template, .line-copy, [data-literal]";
  const SPOKEN = ["alttext", "aria-label", "aria-valuetext", "title"];
  const QUOTED = "‘[^’]*’|“[^”]*”";
  // A place in a book or a standard, whose point is no decimal sign, or a number with a point.
  const NUMBER = new RegExp(
    `${QUOTED}|(?<!\\p{L})(?:eqs?|figs?|tables?|sections?|chapters?|edition|pp?|§)[.,]? ?[0-9][0-9.]*|` +
      "(?<![\\p{L}\\p{N}_.,])[0-9]+\\.[0-9]+(?![0-9]*\\.[0-9])|(?<![\\p{L}\\p{N}_.,])[0-9]+(?:\\.[0-9]+){2,}",
    "giu",
  );
  const POINTED = /^[0-9]+\.[0-9]+$/;
  const NAME = new RegExp(`${QUOTED}|(?<![\\w-])(D?[VIP])_I(?![A-Za-z0-9])|(?<![\\w-])(D?[VP])_O(?![A-Za-z0-9])`, "g");
  const GAIN = new RegExp(`${QUOTED}|(?<![\\w-])h_FE(?:\\(([a-z]+)\\)|(?![A-Za-z0-9]))`, "g");
  const DRAWN = "svg[data-drawing]";
  const SVG = "http://www.w3.org/2000/svg";
  const ROOM = 4; // pixels round a drawing
  const texts = new WeakMap(); // text node -> { from, to }
  const attributes = new WeakMap(); // element -> Map of attribute -> { from, to }
  // Key of a drawing -> its strokes in the other style; a page that stands alone brings them all with it.
  const drawings = new Map(Object.entries(Steadyrail.drawings || {}));
  const asked = new Set(); // keys of drawings that were sent for
  const first = new WeakMap(); // drawing -> { strokes, viewBox, width, height } as the page came
  let observer = null;

  function withComma(text) {
    return text.replace(NUMBER, (found) => (POINTED.test(found) ? found.replace(".", ",") : found));
  }

  // A name as it is typed, in the letters settled on: V_in_MIN for V_I_MIN, β_1 for h_FE_1.
  function spelt(text) {
    let found = text;
    if (settings.get("names") === "V_in") {
      found = found.replace(NAME, (all, input, output) => (input ? `${input}_in` : output ? `${output}_out` : all));
    }
    if (settings.get("gain") === "beta") {
      found = found.replace(GAIN, (all, end) => (all.startsWith("h") ? `β${end ? `_${end}` : ""}` : all));
    }
    return found;
  }

  function ofText(text, isSource) {
    const named = text.includes("_") ? spelt(text) : text;
    if (isSource) return named; // a number there may be the place in a book
    return settings.get("decimal") === "comma" && named.includes(".") ? withComma(named) : named;
  }

  function original(node, attribute) {
    if (attribute !== undefined) {
      const known = (attributes.get(node) || new Map()).get(attribute);
      const now = node.getAttribute(attribute);
      return known && known.to === now ? known.from : now;
    }
    const known = texts.get(node);
    return known && known.to === node.data ? known.from : node.data;
  }

  function wholeText(element) {
    return Array.from(element.childNodes, (node) => (node.nodeType === 3 ? original(node) : "")).join("");
  }

  // The elements of a letter and its subscript that `element` is one of; null where it is part of no such pair.
  function pairOf(element) {
    const { parentElement: parent, previousElementSibling: before, nextElementSibling: after } = element;
    if (!parent) return null;
    if (parent.localName === "msub" || parent.localName === "msubsup") {
      const [main, lowered] = parent.children;
      return element === main || element === lowered ? [main, lowered] : null;
    }
    const isDropped = (other) => other.localName === "tspan" && other.getAttribute("dy") > 0;
    const lowers = (other) => other && (other.localName === "sub" || isDropped(other));
    if (lowers(element) && before) return [before, element];
    return lowers(after) ? [element, after] : null;
  }

  // The two texts of a letter with its subscript, in the letters settled on.
  function lettered(main, lowered) {
    if (settings.get("gain") === "beta" && main === "h" && lowered.startsWith("FE")) {
      return ["β", lowered.slice(2).replace(/^\(([a-z]+)\)$/, "$1")];
    }
    if (settings.get("names") !== "V_in") return [main, lowered];
    if (/^[VIP]$/.test(main) && /^I(?![A-Za-z])/.test(lowered)) return [main, `in${lowered.slice(1)}`];
    if (/^[VP]$/.test(main) && /^O(?![A-Za-z])/.test(lowered)) return [main, `out${lowered.slice(1)}`];
    return [main, lowered];
  }

  function setText(node) {
    const from = original(node);
    const pair = /\p{L}/u.test(from) && from.length < 12 ? pairOf(node.parentElement) : null;
    let to = "";
    if (pair) {
      const [main, lowered] = lettered(wholeText(pair[0]), wholeText(pair[1]));
      to = node.parentElement === pair[0] ? main : lowered;
    } else {
      to = ofText(from, Boolean(node.parentElement.closest(".source")));
    }
    if (to === node.data) return;
    texts.set(node, { from: from, to: to });
    node.data = to;
  }

  function setSpoken(element) {
    for (const name of SPOKEN) {
      if (!element.hasAttribute(name)) continue;
      const from = original(element, name);
      const to = ofText(from);
      if (to === element.getAttribute(name)) continue;
      if (!attributes.has(element)) attributes.set(element, new Map());
      attributes.get(element).set(name, { from: from, to: to });
      element.setAttribute(name, to);
    }
  }

  // Sends for the other style of a drawing; a script element works from a folder too.
  function sendFor(key) {
    if (asked.has(key)) return;
    asked.add(key);
    const script = document.createElement("script");
    script.src = `${settings.root}drawings/${key}.js`;
    script.addEventListener("error", () => script.remove()); // the drawing stays in the style it has
    document.head.append(script);
  }

  // Called by each drawing's file, which is one call with two literals.
  Steadyrail.takeDrawing = function (key, strokes) {
    drawings.set(key, strokes);
    for (const drawing of document.querySelectorAll(`svg[data-drawing="${key}"]`)) draw(drawing);
  };

  function strokesOf(text) {
    const parsed = new DOMParser().parseFromString(`<svg xmlns="${SVG}">${text}</svg>`, "image/svg+xml");
    return Array.from(parsed.documentElement.childNodes, (node) => document.importNode(node, true));
  }

  function draw(drawing) {
    const wanted = settings.get("drawings");
    const isOther = drawing.dataset.drawn === "IEEE";
    if ((wanted === "IEEE") !== isOther) {
      const key = drawing.dataset.drawing;
      if (wanted === "IEEE" && !drawings.has(key)) {
        sendFor(key);
        return;
      }
      const strokes = drawing.querySelector("g");
      const known = remember(drawing);
      if (wanted === "IEEE") strokes.replaceChildren(...strokesOf(drawings.get(key)));
      else strokes.replaceChildren(...known.strokes);
      drawing.dataset.drawn = wanted;
    }
    fit(drawing);
  }

  function remember(drawing) {
    if (!first.has(drawing)) {
      const [viewBox, width, height] = ["viewBox", "width", "height"].map((name) => drawing.getAttribute(name));
      const strokes = Array.from(drawing.querySelector("g").childNodes);
      first.set(drawing, { strokes: strokes, viewBox: viewBox, width: width, height: height });
    }
    return first.get(drawing);
  }

  // Other letters and symbols may need a little more room than the drawing came with.
  function fit(drawing) {
    const known = remember(drawing);
    const [left, top, width, height] = known.viewBox.split(" ").map(Number);
    const box = drawing.getBBox();
    if (!box.width) return; // not laid out: its labels take the room they had
    const [x, y] = [Math.min(left, box.x - ROOM), Math.min(top, box.y - ROOM)];
    const right = Math.max(left + width, box.x + box.width + ROOM);
    const bottom = Math.max(top + height, box.y + box.height + ROOM);
    const isAsCame = x === left && y === top && right === left + width && bottom === top + height;
    drawing.setAttribute("viewBox", isAsCame ? known.viewBox : [x, y, right - x, bottom - y].join(" "));
    drawing.setAttribute("width", isAsCame ? known.width : String(Math.ceil(right - x)));
    drawing.setAttribute("height", isAsCame ? known.height : String(Math.ceil(bottom - y)));
  }

  function isPlain() {
    return ["decimal", "names", "gain", "drawings"].every((name) => settings.get(name) === settings.choices(name)[0]);
  }

  // Everything under `root`, itself included, by the settings.
  function show(root) {
    if (root.nodeType === Node.TEXT_NODE) {
      if (root.parentElement && !root.parentElement.closest(LEFT_ALONE)) setText(root);
      return;
    }
    if (root.nodeType !== Node.ELEMENT_NODE || root.closest(LEFT_ALONE)) return;
    const isLeftAlone = (node) => node.nodeType === Node.ELEMENT_NODE && node.matches(LEFT_ALONE);
    const walker = document.createTreeWalker(root, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT, (node) =>
      isLeftAlone(node) ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT,
    );
    for (let node = walker.currentNode; node; node = walker.nextNode()) {
      if (node.nodeType === Node.TEXT_NODE) setText(node);
      else setSpoken(node);
    }
    showWhen(root);
    for (const drawing of root.querySelectorAll(DRAWN)) draw(drawing);
    if (root.matches(DRAWN)) draw(root);
  }

  function showChanged(changes) {
    for (const change of changes) {
      if (change.type === "childList") change.addedNodes.forEach((node) => node.isConnected && show(node));
      else if (change.type === "characterData") show(change.target);
      else if (!change.target.closest(LEFT_ALONE)) setSpoken(change.target);
    }
  }

  // Words that are so only under one setting carry data-when="decimal=comma".
  function showWhen(root) {
    for (const part of root.querySelectorAll("[data-when]")) {
      const [name, value] = part.dataset.when.split("=");
      part.hidden = settings.get(name) !== value;
    }
  }

  function showAll() {
    showWhen(document);
    if (isPlain() && !observer) return; // nothing differs from the page as it came
    show(document.body);
    if (observer) return;
    observer = new MutationObserver(showChanged);
    observer.observe(document.body, {
      subtree: true,
      childList: true,
      characterData: true,
      attributes: true,
      attributeFilter: SPOKEN,
    });
  }

  settings.original = original;
  settings.spelt = spelt;
  settings.asShown = ofText;
  settings.showWhen = showWhen;
  settings.whenChanged(showAll);
  showAll();
})();
