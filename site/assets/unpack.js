// Unpacks data that the site's build has packed (tutor/views/packed.py): deflated (RFC 1951), in base 64 (RFC 4648), JSON.
// It is done at once and in any browser, so that who takes the data needs to know nothing of it.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const MOST_BITS = 15; // the longest code
  // RFC 1951, 3.2.5: lengths and distances by their codes, and how many further bits each has.
  const LENGTHS = [3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227, 258];
  const LENGTH_BITS = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0];
  const DISTANCE_BITS = Array.from({ length: 30 }, (_, code) => Math.max(0, (code >> 1) - 1));
  const DISTANCES = DISTANCE_BITS.reduce((found, bits, code) => [...found, code ? found[code - 1] + (1 << DISTANCE_BITS[code - 1]) : 1], []);
  const ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15]; // 3.2.7
  const END = 256;

  // A code by the lengths of its words: how many words of each length, and the signs in the order of their words (3.2.2).
  function codeOf(lengths) {
    const counts = new Uint16Array(MOST_BITS + 1);
    for (const length of lengths) counts[length] += 1;
    counts[0] = 0;
    const places = new Uint16Array(MOST_BITS + 2);
    for (let length = 1; length <= MOST_BITS; length += 1) places[length + 1] = places[length] + counts[length];
    const signs = new Uint16Array(lengths.length);
    lengths.forEach((length, sign) => {
      if (length) signs[places[length]++] = sign;
    });
    return { counts: counts, signs: signs };
  }

  const FIXED = [
    codeOf(Array.from({ length: 288 }, (_, sign) => (sign < 144 ? 8 : sign < 256 ? 9 : sign < 280 ? 7 : 8))),
    codeOf(new Array(30).fill(5)),
  ];

  function inflated(bytes) {
    let at = 0;
    let held = 0; // bits not yet taken, and how many
    let count = 0;
    let out = new Uint8Array(bytes.length * 8 + 1024);
    let size = 0;

    function bits(wanted) {
      while (count < wanted) {
        if (at >= bytes.length) throw new RangeError("packed data ends early");
        held |= bytes[at++] << count;
        count += 8;
      }
      const found = held & ((1 << wanted) - 1);
      held >>>= wanted;
      count -= wanted;
      return found;
    }

    function sign({ counts, signs }) {
      let word = 0;
      let first = 0;
      let place = 0;
      for (let length = 1; length <= MOST_BITS; length += 1) {
        word |= bits(1);
        const here = counts[length];
        if (word - first < here) return signs[place + word - first];
        place += here;
        first = (first + here) << 1;
        word <<= 1;
      }
      throw new RangeError("packed data holds a word of no code");
    }

    function make(room) {
      if (size + room <= out.length) return;
      const wider = new Uint8Array(2 * out.length + room);
      wider.set(out);
      out = wider;
    }

    // The two codes of a block that brings its own (3.2.7).
    function codes() {
      const [literals, distances, words] = [bits(5) + 257, bits(5) + 1, bits(4) + 4];
      const lengths = new Array(19).fill(0);
      for (let place = 0; place < words; place += 1) lengths[ORDER[place]] = bits(3);
      const code = codeOf(lengths);
      const found = [];
      while (found.length < literals + distances) {
        const next = sign(code);
        if (next < 16) found.push(next);
        else {
          const last = next === 16 ? found[found.length - 1] : 0;
          const times = next === 16 ? 3 + bits(2) : next === 17 ? 3 + bits(3) : 11 + bits(7);
          for (let time = 0; time < times; time += 1) found.push(last);
        }
      }
      return [codeOf(found.slice(0, literals)), codeOf(found.slice(literals))];
    }

    function block([literals, distances]) {
      for (let next = sign(literals); next !== END; next = sign(literals)) {
        if (next < END) {
          make(1);
          out[size++] = next;
          continue;
        }
        const length = LENGTHS[next - 257] + bits(LENGTH_BITS[next - 257]);
        const far = sign(distances);
        const from = size - DISTANCES[far] - bits(DISTANCE_BITS[far]);
        make(length);
        for (let step = 0; step < length; step += 1) out[size++] = out[from + step];
      }
    }

    function asItStands() {
      held = 0;
      count = 0; // the rest of the byte is left out
      const length = bytes[at] | (bytes[at + 1] << 8);
      at += 4;
      make(length);
      out.set(bytes.subarray(at, at + length), size);
      size += length;
      at += length;
    }

    for (let isLast = 0; !isLast; ) {
      isLast = bits(1);
      const kind = bits(2);
      if (kind === 0) asItStands();
      else block(kind === 1 ? FIXED : codes());
    }
    return out.subarray(0, size);
  }

  Steadyrail.unpack = function (text) {
    const found = atob(text);
    const bytes = new Uint8Array(found.length);
    for (let at = 0; at < found.length; at += 1) bytes[at] = found.charCodeAt(at);
    return JSON.parse(new TextDecoder().decode(inflated(bytes)));
  };
  Steadyrail.inflated = inflated;
})();
