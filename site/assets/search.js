// Finds places of the site by their words. The index is search_index.js (tutor/views/search_index.py), one row a place:
// [kind, title or [letter, subscript], address, about, keys, words, levels]. What is typed is folded as the index is.
(function () {
  "use strict";
  const { element } = window.Steadyrail;
  const { kinds, stop, places } = window.Steadyrail.searchIndex;
  const form = document.getElementById("search");
  const field = document.getElementById("looked-for");
  const said = document.getElementById("search-said");
  const list = document.getElementById("search-found");
  const SHOWN = 40;
  const STOP = new Set(stop);
  const WORD = /[\p{L}\p{N}]+(?:_[\p{L}\p{N}]+)*/gu;
  const HYPHENED = /[\p{L}\p{N}]+(?:-[\p{L}\p{N}]+)+/gu;
  // What a find is worth by where it stands: the whole word, the beginning of one.
  const WORTH = { key: [12, 6], title: [8, 5], meaning: [6, 3], about: [4, 2], words: [3, 1] };

  const words = (text) => (text.toLowerCase().match(WORD) || []).map((word) => word.replace(/_/g, ""));
  const joined = (text) => (text.toLowerCase().match(HYPHENED) || []).map((word) => word.replace(/-/g, ""));

  // The words of a text as the index has them, in order; one with hyphens also as a whole.
  const folded = (window.Steadyrail.folded = (text) => [...words(text), ...joined(text)]);

  const rows = places.map(([kind, title, href, about, keys, text, levels], at) => ({
    kind, title, href, about, levels, at,
    fields: {
      key: keys ? keys.split(" ") : [],
      title: typeof title === "string" ? folded(title) : [],
      meaning: typeof title === "string" ? [] : folded(about.split(",")[0]), // without its reference direction
      about: folded(about),
      words: text ? text.split(" ") : [],
    },
  }));
  const letters = new Set(rows.flatMap((row) => row.fields.key));

  // The words looked for. A letter with an index or an end (VBE1, Iz_max) stands for its letter where it is none
  // itself.
  function wanted(typed) {
    const asked = words(typed).map((word) => {
      if (letters.has(word)) return word;
      const bare = word.replace(/(?:min|max|nom)$/, "").replace(/[1-9]$/, "");
      return bare !== word && letters.has(bare) ? bare : word;
    });
    const telling = asked.filter((word) => !STOP.has(word));
    return telling.length ? telling : asked.filter((word) => letters.has(word));
  }

  // What one word is worth in a place: its best find there. One letter alone must be the whole word.
  function worth(row, word) {
    let best = 0;
    for (const [name, [whole, begun]] of Object.entries(WORTH)) {
      for (const there of row.fields[name]) {
        if (there === word) best = Math.max(best, whole);
        else if (word.length > 1 && there.startsWith(word)) best = Math.max(best, begun);
      }
    }
    return best;
  }

  function find(typed) {
    const asked = wanted(typed);
    const found = [];
    for (const row of asked.length ? rows : []) {
      const each = asked.map((word) => worth(row, word));
      if (Math.min(...each) > 0) found.push({ row, sum: each.reduce((sum, one) => sum + one, 0) });
    }
    found.sort((one, other) => other.sum - one.sum || one.row.kind - other.row.kind || one.row.at - other.row.at);
    return found.map((item) => item.row);
  }

  function linked(href, words) {
    const link = element("a", "", words);
    link.href = href;
    return link;
  }

  function shown(row) {
    const item = element("li");
    const line = element("div", "entry");
    const name = element("span", "entry-name");
    const link = linked(row.href, typeof row.title === "string" ? row.title : "");
    if (typeof row.title !== "string") {
      const letter = element("span", "entry-letter", row.title[0]);
      if (row.title[1]) letter.append(element("sub", "", row.title[1]));
      link.append(letter);
    }
    name.append(link);
    const leader = element("span", "leader");
    leader.setAttribute("aria-hidden", "true");
    const end = element("span", "entry-end", row.levels ? "level " : kinds[row.kind]);
    for (const [number, href] of row.levels || []) {
      const level = linked(href, String(number));
      level.setAttribute("aria-label", `level ${number}`);
      end.append(level, " ");
    }
    line.append(name, leader, end);
    item.append(line);
    if (row.about) item.append(element("p", "search-about", row.about));
    return item;
  }

  function look() {
    const typed = field.value.trim();
    const found = typed ? find(typed) : [];
    list.replaceChildren(...found.slice(0, SHOWN).map(shown));
    if (!typed) said.textContent = "";
    else if (!found.length) said.textContent = `Nothing here begins with all of “${typed}”.`;
    else if (found.length > SHOWN) {
      said.textContent = `${found.length} places; the nearest ${SHOWN} are listed. A further word narrows them.`;
    } else said.textContent = found.length === 1 ? "One place." : `${found.length} places.`;
    try {
      window.history.replaceState(null, "", typed ? `#${encodeURIComponent(typed)}` : "#");
    } catch {
      // A browser that lets no page from disk write its address: the words are not kept there.
    }
  }

  field.addEventListener("input", look);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    look();
    const first = list.querySelector("a");
    if (first) first.focus();
  });
  form.hidden = false;
  try {
    field.value = decodeURIComponent(window.location.hash.slice(1));
  } catch {
    field.value = "";
  }
  if (field.value === "text") field.value = ""; // the way past the running head leads to #text
  look();
})();
