// The lines of the working sheet: writing, inserting, joining, moving and taking out, by keys and by buttons.
// A line is a text field over a copy of its text: the copy gives the field its height, carries the marks that point at
// columns, and is what is printed.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { element } = Steadyrail;
  const MOST_RULES = 24; // ruled lines under one line with its finding; what is over is cut off
  let made = 0; // numbers the ids of fields and findings; they stay with their line when it moves

  // The rules under a line, each a border: it prints evenly on any paper, which a picture of rules does not.
  function makeRules() {
    const rules = element("div", "line-rules");
    rules.setAttribute("aria-hidden", "true");
    for (let at = 0; at < MOST_RULES; at += 1) rules.append(element("span", "rule"));
    return rules;
  }

  function makeLine() {
    made += 1;
    const item = element("li", "working-line");
    const number = element("span", "line-number");
    number.setAttribute("aria-hidden", "true");
    const sheet = element("div", "line-sheet");
    const copy = element("div", "line-copy");
    copy.setAttribute("aria-hidden", "true");
    const field = element("textarea", "line-field");
    field.id = `line-${made}`;
    field.rows = 1;
    field.spellcheck = false;
    field.setAttribute("autocomplete", "off");
    field.setAttribute("autocapitalize", "off");
    field.setAttribute("autocorrect", "off");
    const finding = element("div", "line-finding");
    finding.id = `finding-${made}`;
    field.setAttribute("aria-describedby", finding.id);
    sheet.append(copy, field);
    item.append(makeRules(), number, sheet, finding);
    return { item: item, number: number, field: field, copy: copy, finding: finding, shown: "", columns: null };
  }

  // Copies the text of a line under its field, with what is pointed at marked.
  function draw(line) {
    const text = line.field.value;
    if (!line.columns) {
      line.copy.textContent = text;
      return;
    }
    const [before, pointed, after] = Steadyrail.cutAt(text, line.columns);
    const mark = element("span", pointed ? "pointed" : "pointed pointed-gap", pointed || "\u00a0");
    line.copy.replaceChildren(before, mark, after);
  }

  // The buttons of the line in hand: they stand behind its field and go with the writer from line to line.
  function makeTools(act) {
    const tools = element("div", "line-tools");
    tools.setAttribute("role", "group");
    for (const [what, sign, short, words] of [
      ["insert", "+", "new line", "new line below"],
      ["up", "↑", "up", "move up"],
      ["down", "↓", "down", "move down"],
      ["delete", "×", "take out", "take out"],
    ]) {
      const button = element("button", "line-tool");
      button.type = "button";
      button.dataset.does = what;
      button.title = words;
      button.setAttribute("aria-label", words);
      button.append(element("span", "tool-sign", sign), element("span", "tool-words", short));
      button.addEventListener("mousedown", (event) => event.preventDefault()); // the caret stays in the line
      button.addEventListener("click", () => act(what));
      tools.append(button);
    }
    return tools;
  }

  // The lines of one sheet, in `list`. `told` is called back: edited(line, at), arranged(at), taken(text, at),
  // entered(line).
  Steadyrail.makeLines = function (list, told) {
    const lines = [];
    let current = null;

    const tools = makeTools((what) => {
      const at = lines.indexOf(current);
      if (what === "insert") insertNew(at + 1);
      else if (what === "delete") takeOut(at);
      else move(at, what === "up" ? -1 : 1);
    });

    function settle() {
      lines.forEach((line, at) => {
        line.number.textContent = String(at + 1);
        line.field.setAttribute("aria-label", `Line ${at + 1}`);
      });
      const at = lines.indexOf(current);
      tools.setAttribute("aria-label", `Line ${at + 1}`);
      tools.querySelector('[data-does="up"]').disabled = at <= 0;
      tools.querySelector('[data-does="down"]').disabled = at === lines.length - 1;
      tools.querySelector('[data-does="delete"]').disabled = lines.length === 1 && lines[0].field.value === "";
    }

    function put(at, text) {
      const line = makeLine();
      line.field.value = text;
      list.insertBefore(line.item, lines[at] ? lines[at].item : null);
      lines.splice(at, 0, line);
      draw(line);
      return line;
    }

    function drop(at) {
      const [line] = lines.splice(at, 1);
      if (line === current) {
        current = null;
        tools.remove();
      }
      line.item.remove();
    }

    function focus(at, caret) {
      const field = lines[at].field;
      field.focus();
      field.setSelectionRange(caret, caret);
    }

    function insertNew(at) {
      put(at, "");
      settle();
      focus(at, 0);
      told.arranged(at);
    }

    function takeOut(at) {
      const text = lines[at].field.value;
      if (lines.length === 1) put(1, "");
      drop(at);
      settle();
      focus(Math.min(at, lines.length - 1), 0);
      if (text) told.taken(text, at);
      told.arranged(Math.min(at, lines.length - 1));
    }

    function move(at, by) {
      const to = at + by;
      if (to < 0 || to >= lines.length) return;
      const [line] = lines.splice(at, 1);
      lines.splice(to, 0, line);
      const caret = line.field.selectionStart;
      // The neighbour steps over, so that the field in hand is never taken from the page and keeps its keyboard.
      const neighbour = lines[at].item;
      if (by < 0) line.item.after(neighbour);
      else line.item.before(neighbour);
      settle();
      focus(to, caret);
      told.arranged(Math.min(at, to));
    }

    // Text with line breaks, typed or pasted, becomes as many lines.
    function breakUp(at) {
      const field = lines[at].field;
      const before = field.value.slice(0, field.selectionStart).split("\n");
      const [first, ...others] = field.value.split("\n");
      field.value = first;
      draw(lines[at]);
      others.forEach((text, place) => put(at + 1 + place, text));
      settle();
      focus(at + before.length - 1, before[before.length - 1].length);
      told.arranged(at);
    }

    // Joins line `at` to the one before it.
    function joinUp(at) {
      const field = lines[at - 1].field;
      const caret = field.value.length;
      field.value += lines[at].field.value;
      draw(lines[at - 1]);
      focus(at - 1, caret);
      drop(at);
      settle();
      told.arranged(at - 1);
    }

    function alone(line) {
      return line.copy.offsetHeight < 1.5 * line.number.offsetHeight; // not wrapped
    }

    function keyed(event, at) {
      const line = lines[at];
      const field = line.field;
      const [start, end] = [field.selectionStart, field.selectionEnd];
      const vertical = event.key === "ArrowUp" ? -1 : event.key === "ArrowDown" ? 1 : 0;
      if (vertical && event.altKey && !event.ctrlKey && !event.metaKey) {
        move(at, vertical);
        return true;
      }
      if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey || event.isComposing) return false;
      if (vertical && lines[at + vertical]) {
        const edge = vertical < 0 ? end === 0 : start === field.value.length;
        if (!edge && !alone(line)) return false;
        focus(at + vertical, Math.min(start, lines[at + vertical].field.value.length));
        return true;
      }
      if (start !== end) return false;
      if (event.key === "Backspace" && start === 0 && at > 0) joinUp(at);
      else if (event.key === "Backspace" && field.value === "" && lines.length > 1) takeOut(at);
      else if (event.key === "Delete" && start === field.value.length && lines[at + 1]) joinUp(at + 1);
      else return false;
      return true;
    }

    function placeOf(event) {
      return lines.findIndex((line) => line.field === event.target);
    }

    list.addEventListener("input", (event) => {
      const at = placeOf(event);
      if (at < 0) return;
      if (lines[at].field.value.includes("\n") && !event.isComposing) {
        breakUp(at);
        return;
      }
      lines[at].columns = null;
      draw(lines[at]);
      settle();
      told.edited(lines[at], at);
    });
    list.addEventListener("keydown", (event) => {
      const at = placeOf(event);
      if (at >= 0 && keyed(event, at)) event.preventDefault();
    });
    list.addEventListener("focusin", (event) => {
      const at = placeOf(event);
      if (at < 0 || lines[at] === current) return;
      current = lines[at];
      current.item.append(tools);
      settle();
      told.entered(current);
    });
    // The ruled lines below the last one can be written on: a click there is a new line.
    list.nextElementSibling.addEventListener("click", () => {
      const last = lines.length - 1;
      if (lines[last].field.value === "") focus(last, 0);
      else insertNew(last + 1);
    });

    return {
      all: lines,
      texts: () => lines.map((line) => line.field.value),
      current: () => current || lines[lines.length - 1],
      focus: focus,
      put: (at, text) => {
        put(at, text);
        settle();
      },
      set: (texts) => {
        while (lines.length) drop(lines.length - 1);
        (texts.length ? texts : [""]).forEach((text, at) => put(at, text));
        settle();
      },
      point: (line, columns) => {
        line.columns = columns;
        draw(line);
      },
    };
  };
})();
