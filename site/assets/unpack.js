// Unpacks data that the site's build has packed (tutor/views/packed.py): LZMA, in base 64 (RFC 4648), JSON.
// It is done at once and in any browser, so that who takes the data needs to know nothing of it.
// The coding is that of the LZMA specification (Pavlov, public domain), without its head: a range coder over bits whose
// chances are learnt; LITERAL_BITS of the byte before choose how a byte is read, places count for nothing
// (lp = pb = 0).
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const LITERAL_BITS = 4;
  const STATES = 12; // what the last few steps were: bytes, matches, repeats
  const EVEN = 1024; // a chance of a half, in 2048ths
  const LEAST = 2; // the shortest match
  const ENDS = 0xffffffff; // the distance that ends the data

  const chances = (count) => new Uint16Array(count).fill(EVEN);

  function unlzma(bytes) {
    let at = 5;
    let range = 0xffffffff;
    let code = bytes.length < at ? 0 : ((bytes[1] << 24) | (bytes[2] << 16) | (bytes[3] << 8) | bytes[4]) >>> 0;
    let out = new Uint8Array(bytes.length * 12 + 1024);
    let size = 0;

    function normalise() {
      if (range >= 0x1000000) return;
      if (at >= bytes.length) throw new RangeError("packed data ends early");
      range = (range << 8) >>> 0;
      code = ((code << 8) | bytes[at++]) >>> 0;
    }

    function bit(found, place) {
      const bound = (range >>> 11) * found[place];
      const one = code >= bound;
      if (one) {
        range -= bound;
        code -= bound;
        found[place] -= found[place] >>> 5;
      } else {
        range = bound;
        found[place] += (2048 - found[place]) >>> 5;
      }
      normalise();
      return one ? 1 : 0;
    }

    // A number of so many bits, the highest first; each bit's chance hangs on those before it.
    function tree(found, count, from = 0) {
      let node = 1;
      for (let step = 0; step < count; step += 1) node = (node << 1) | bit(found, from + node);
      return node - (1 << count);
    }

    // The same, the lowest first.
    function turned(found, count, from = 0) {
      let node = 1;
      let number = 0;
      for (let step = 0; step < count; step += 1) {
        const next = bit(found, from + node);
        node = (node << 1) | next;
        number |= next << step;
      }
      return number;
    }

    function evenBits(count) {
      let number = 0;
      for (let step = 0; step < count; step += 1) {
        range >>>= 1;
        const one = code >= range;
        if (one) code -= range;
        normalise();
        number = number * 2 + (one ? 1 : 0);
      }
      return number;
    }

    const lengthCoder = () => ({ choice: chances(2), low: chances(8), middle: chances(8), high: chances(256) });
    function length(coder) {
      if (!bit(coder.choice, 0)) return LEAST + tree(coder.low, 3);
      if (!bit(coder.choice, 1)) return LEAST + 8 + tree(coder.middle, 3);
      return LEAST + 16 + tree(coder.high, 8);
    }

    const literals = chances(0x300 << LITERAL_BITS);
    const [isMatch, isRepeat, isOlder, isOlderYet, isOldest, isLong] = Array.from({ length: 6 }, () => chances(STATES));
    const [matches, repeats] = [lengthCoder(), lengthCoder()];
    const slots = Array.from({ length: 4 }, () => chances(64));
    const near = chances(128);
    const aligned = chances(16);

    function distance(matched) {
      const slot = tree(slots[Math.min(matched - LEAST, 3)], 6);
      if (slot < 4) return slot;
      const count = (slot >> 1) - 1;
      const base = (2 | (slot & 1)) * 2 ** count;
      if (slot < 14) return base + turned(near, count, base - slot);
      return base + evenBits(count - 4) * 16 + turned(aligned, 4);
    }

    function literal(state, far) {
      const from = 0x300 * (size ? out[size - 1] >> (8 - LITERAL_BITS) : 0);
      let node = 1;
      if (state >= 7) {
        // After a match the byte that the match would have gone on with is a hint.
        let hint = out[size - far];
        while (node < 0x100) {
          const hinted = (hint >> 7) & 1;
          hint <<= 1;
          const next = bit(literals, from + ((1 + hinted) << 8) + node);
          node = (node << 1) | next;
          if (hinted !== next) break;
        }
      }
      while (node < 0x100) node = (node << 1) | bit(literals, from + node);
      return node & 0xff;
    }

    function make(room) {
      if (size + room <= out.length) return;
      const wider = new Uint8Array(2 * out.length + room);
      wider.set(out);
      out = wider;
    }

    let state = 0;
    let last = [1, 1, 1, 1]; // the last four distances, the latest first
    for (;;) {
      if (!bit(isMatch, state)) {
        make(1);
        out[size] = literal(state, last[0]);
        size += 1;
        state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
        continue;
      }
      let count;
      if (!bit(isRepeat, state)) {
        count = length(matches);
        const far = distance(count);
        if (far === ENDS) return out.subarray(0, size);
        last = [far + 1, last[0], last[1], last[2]];
        state = state < 7 ? 7 : 10;
      } else {
        let which = 0;
        let isByte = false;
        if (!bit(isOlder, state)) isByte = !bit(isLong, state);
        else which = bit(isOlderYet, state) ? 2 + bit(isOldest, state) : 1;
        last = [last[which], ...last.filter((_, place) => place !== which)];
        count = isByte ? 1 : length(repeats);
        if (isByte) state = state < 7 ? 9 : 11;
        else state = state < 7 ? 8 : 11;
      }
      if (last[0] > size) throw new RangeError("packed data looks back past its start");
      make(count);
      for (let step = 0; step < count; step += 1) out[size + step] = out[size - last[0] + step];
      size += count;
    }
  }

  Steadyrail.unpack = function (text) {
    const found = atob(text);
    const bytes = new Uint8Array(found.length);
    for (let at = 0; at < found.length; at += 1) bytes[at] = found.charCodeAt(at);
    return JSON.parse(new TextDecoder().decode(unlzma(bytes)));
  };
  Steadyrail.unlzma = unlzma;
})();
