// Carries the record along the links from page to page where a browser keeps a store for each file opened from disk.
// The HTML Living Standard leaves that open, and according to MDN ("Window: localStorage property") a browser may give
// each file: address a store of its own; Chromium is known to keep one for all of them, and needs none of this. The
// record travels in the address of the page that a link leads to, which takes it in beside what it has. Only pages
// opened from disk read an address so: on the web anybody could write one.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = root.Steadyrail;
  const rules = Steadyrail.recordRules;
  // Characters of an address; Firefox takes a million (network.standard-url.max-length, from memory).
  const MOST = 400000;
  const carried = (Steadyrail.recordCarried = {});

  function coded(text) {
    return encodeURIComponent(text).replace(/[~!'()*]/g, (letter) => `%${letter.charCodeAt(0).toString(16)}`);
  }

  function packedEntry(entry) {
    const head = [entry.at.toString(36), entry.kind];
    if (entry.seen) return [...head, "s", entry.seen].join("~");
    const facts = [entry.number, entry.right ? 1 : 0, entry.help];
    if (entry.done) return [...head, "d", ...facts].join("~");
    return [...head, "a", ...facts, coded(entry.key), coded(entry.slip), coded(entry.words || "")].join("~");
  }

  // Entries as a piece of an address; where they are too many, the newest that fit, and no single attempts.
  carried.packed = function (entries) {
    const all = entries.map(packedEntry).join("!");
    if (all.length <= MOST) return all;
    const telling = entries.filter((entry) => entry.seen || entry.done);
    return telling.map(packedEntry).join("!").slice(-MOST).replace(/^[^!]*!/, "");
  };

  function unpackedEntry(text) {
    const [at, kind, what, ...facts] = text.split("~");
    const head = { at: parseInt(at, 36), kind: kind };
    if (what === "s") return { ...head, seen: facts[0] };
    const [number, right, help, ...texts] = facts;
    const known = { ...head, number: Number(number), right: right === "1", help: Number(help) };
    if (what === "d") return { ...known, done: true };
    const [key, slip, words] = texts.map(decodeURIComponent);
    return { ...known, key: key, slip: slip, words: words };
  }

  carried.unpacked = function (text) {
    const found = [];
    for (const piece of text.split("!").filter(Boolean)) {
      try {
        found.push(rules.entryOf(unpackedEntry(piece)));
      } catch (error) {
        continue; // an address that was cut or changed on the way
      }
    }
    return found.filter((entry) => entry !== null);
  };

  if (!root.document || root.location.protocol !== "file:") return;
  const arrived = /[?&]record=([^&]*)/.exec(root.location.search);
  if (arrived) {
    Steadyrail.record.readBack(rules.write({ ...rules.nothing(), entries: carried.unpacked(arrived[1]) }));
    try {
      root.history.replaceState(null, "", root.location.pathname + root.location.hash);
    } catch (error) {
      // the address stays long: taking the same in again changes nothing
    }
  }
  if (/Chrom(e|ium)\//.test(root.navigator.userAgent)) return;
  const carry = (event) => {
    const link = event.target.closest("a[href]");
    if (!link || link.download || link.protocol !== "file:" || link.pathname === root.location.pathname) return;
    const packed = carried.packed(Steadyrail.record.entries());
    if (packed) link.search = `?record=${packed}`;
  };
  root.document.addEventListener("click", carry, true);
  root.document.addEventListener("auxclick", carry, true);
})();
