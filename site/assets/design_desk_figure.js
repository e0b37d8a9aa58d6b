// The sweep of a design as a figure: curves over load or line, what is specified marked, what is demanded as a line across,
// and in words where the region changes. The curves are worked out in design_desk_judge.js; this file only draws.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { own, designs, ownData: data } = Steadyrail;
  const section = document.querySelector(".desk-sweep");
  if (!section || !data || !data.desk || !data.desk.sweep) return;
  const SVG = "http://www.w3.org/2000/svg";
  const STEPS = 120; // points of a curve
  const ROWS = 12; // rows of its table
  const [LEFT, RIGHT, TOP, BOTTOM] = [66, 12, 30, 48];
  const TALL = 300;
  const figure = section.querySelector(".sweep-figure");
  const drawing = section.querySelector(".sweep-drawing");
  const caption = section.querySelector(".sweep-caption");
  const missing = section.querySelector(".sweep-missing");
  const table = section.querySelector(".sweep-table");
  const ofHeight = document.getElementById("sweep-height");
  const ofWay = document.getElementById("sweep-way");
  let last = null;

  function node(tag, attributes, ...children) {
    const made = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
    made.append(...children);
    return made;
  }

  // A letter as it is printed: the main letter slanted, its subscript lowered.
  function letter(name) {
    const [main, lowered] = own.symbol(name).letter;
    const parts = [node("tspan", { class: main.length > 1 ? "" : "slanted" }, main)];
    if (lowered) parts.push(node("tspan", { class: "lowered", dy: "0.25em" }, lowered), node("tspan", { dy: "-0.19em" }, "\u200b"));
    return parts;
  }

  // Round places for strokes on an axis: 1, 2 or 5 times a power of ten apart.
  function strokes(from, to, most) {
    const rough = (to - from) / most;
    const decade = 10 ** Math.floor(Math.log10(rough));
    const step = decade * [1, 2, 5, 10].find((item) => item * decade >= rough * (1 - 1e-9));
    const found = [];
    for (let at = Math.ceil(from / step - 1e-9); at * step <= to + step * 1e-9; at += 1) found.push(at * step);
    return found.map((value) => (Math.abs(value) < step * 1e-9 ? 0 : Number(value.toPrecision(12))));
  }

  function limitsOf(height, env) {
    const found = data.desk.demands
      .filter((demand) => demand.stage.quantity === height && demand.kind !== "aim" && demand.factor === 1)
      .filter((demand) => env.has(demand.limit) || demand.kind === "region")
      .map((demand) => ({ value: env.has(demand.limit) ? env.get(demand.limit) : demand.fixed, relation: demand.relation }));
    return found.filter((one, at) => found.findIndex((other) => other.value === one.value) === at);
  }

  function heightsOf(found, limits) {
    const seen = found.curves.flatMap((curve) => curve.points.map((point) => point.height)).filter(Number.isFinite);
    if (!seen.length) return null;
    let [low, high] = [Math.min(...seen), Math.max(...seen)];
    const span = high - low || Math.abs(high) || 1;
    for (const { value } of limits) {
      if (value >= low - 2 * span && value <= high + 2 * span) [low, high] = [Math.min(low, value), Math.max(high, value)];
    }
    if (low > 0 && low < 0.5 * high) low = 0;
    const room = 0.06 * (high - low || Math.abs(high) || 1);
    return [low === 0 ? 0 : low - room, high + room];
  }

  function pathOf(points, placed) {
    let path = "";
    let isDown = false;
    for (const point of points) {
      if (Number.isFinite(point.height)) path += `${isDown ? "L" : "M"}${placed(point).map((item) => item.toFixed(1)).join(" ")}`;
      isDown = Number.isFinite(point.height);
    }
    return path;
  }

  // A curve in pieces of one region each: whole where the circuit works as supposed, broken elsewhere.
  function piecesOf(points) {
    const pieces = [];
    for (const point of points) {
      const piece = pieces[pieces.length - 1];
      if (piece && piece[0].region === point.region) piece.push(point);
      else pieces.push([point]);
    }
    return pieces;
  }

  function bare(name, value) {
    return Steadyrail.checker.write(value, own.symbol(name).unit, 3);
  }

  function draw(found, way, height, env) {
    const limits = limitsOf(height, env);
    const span = heightsOf(found, limits);
    const wide = Math.max(260, Math.min(drawing.clientWidth || 560, 760));
    const [from, to] = found.extent;
    const [low, high] = span;
    const across = (value) => LEFT + ((value - from) / (to - from)) * (wide - LEFT - RIGHT);
    const up = (value) => TALL - BOTTOM - ((value - low) / (high - low)) * (TALL - TOP - BOTTOM);
    const svg = node("svg", { viewBox: `0 0 ${wide} ${TALL}`, width: wide, height: TALL, role: "img", "aria-labelledby": "sweep-name sweep-words" });
    const name = `${height} along ${way}`;
    svg.append(node("title", { id: "sweep-name" }, name), node("desc", { id: "sweep-words" }, wordsOf(found, way, height)));
    const [first, second] = found.specified.map(across);
    const band = { x: first, y: TOP, width: Math.max(second - first, 0.1), height: TALL - TOP - BOTTOM };
    svg.append(node("rect", { class: "sweep-specified", ...band }));
    for (const end of new Set([first, second])) svg.append(node("line", { class: "sweep-end", x1: end, x2: end, y1: TOP, y2: TALL - BOTTOM }));
    svg.append(node("text", { class: "sweep-label", x: Math.min(Math.max((first + second) / 2, LEFT + 30), wide - 40), y: TOP - 8, "text-anchor": "middle" }, "specified"));
    for (const value of strokes(low, high, 6)) {
      svg.append(node("line", { class: "sweep-grid", x1: LEFT, x2: wide - RIGHT, y1: up(value), y2: up(value) }));
      svg.append(node("text", { class: "sweep-label", x: LEFT - 6, y: up(value) + 4, "text-anchor": "end" }, bare(height, value)));
    }
    for (const value of strokes(from, to, Math.max(3, Math.floor(wide / 95)))) {
      svg.append(node("line", { class: "sweep-stroke", x1: across(value), x2: across(value), y1: TALL - BOTTOM, y2: TALL - BOTTOM + 5 }));
      svg.append(node("text", { class: "sweep-label", x: across(value), y: TALL - BOTTOM + 19, "text-anchor": "middle" }, bare(way, value)));
    }
    svg.append(node("path", { class: "sweep-axis", d: `M${LEFT} ${TOP}V${TALL - BOTTOM}H${wide - RIGHT}` }));
    svg.append(node("text", { class: "sweep-letter", x: LEFT - 6, y: TOP - 8, "text-anchor": "end" }, ...letter(height)));
    svg.append(node("text", { class: "sweep-letter", x: wide - RIGHT, y: TALL - 10, "text-anchor": "end" }, ...letter(way)));
    for (const { value, relation } of limits) {
      if (value < low || value > high) continue;
      svg.append(node("line", { class: "sweep-limit", x1: LEFT, x2: wide - RIGHT, y1: up(value), y2: up(value) }));
      const words = `${relation === ">=" ? "at least" : "at most"} ${bare(height, value)}`;
      const above = up(value) - 5 > TOP + 10 ? up(value) - 5 : up(value) + 15;
      svg.append(node("text", { class: "sweep-label of-limit", x: wide - RIGHT - 2, y: above, "text-anchor": "end" }, words));
    }
    found.curves.forEach((curve, at) => {
      const placed = (point) => [across(point.at), up(point.height)];
      for (const piece of piecesOf(curve.points)) {
        const isUsual = piece[0].region === data.usual;
        svg.append(node("path", { class: `sweep-curve number-${at + 1}${isUsual ? "" : " lost"}`, d: pathOf(piece, placed) }));
      }
      for (const border of curve.borders) {
        const point = curve.points.find((item) => item.at === border.at);
        if (point && Number.isFinite(point.height)) svg.append(node("circle", { class: "sweep-border", cx: across(point.at), cy: up(point.height), r: 3.5 }));
      }
    });
    drawing.replaceChildren(svg);
  }

  function curveName(found, curve) {
    return found.beside ? `at ${found.beside} = ${designs.written(found.beside, curve.beside, 4)}` : "the curve";
  }

  function regionWords(id) {
    if (id) return data.regions[id];
    return data.sets[0].plans.length > 1 ? "no state of the circuit fits" : "that does not hold any more";
  }

  // What a curve does, in words: from where to where it goes, and where the region changes.
  function curveWords(found, curve, way, height) {
    const seen = curve.points.filter((point) => Number.isFinite(point.height));
    if (!seen.length) return `${curveName(found, curve)}: ${regionWords(curve.points[0].region)}`;
    const [first, end] = [seen[0], seen[seen.length - 1]];
    const ends = `${height} goes from ${designs.written(height, first.height)} to ${designs.written(height, end.height)}`;
    const regions = curve.borders.map((item) => `from ${way} = ${designs.written(way, item.at)} on ${regionWords(item.to)}`);
    const start = regions.length || first.region !== data.usual ? `; ${[regionWords(curve.points[0].region), ...regions].join("; ")}` : "";
    return `${curveName(found, curve)} ${ends}${start}`;
  }

  function wordsOf(found, way, height) {
    const ends = found.extent.map((value) => designs.written(way, value));
    const told = found.curves.map((curve) => own.capital(curveWords(found, curve, way, height)));
    return `${way} from ${ends[0]} to ${ends[1]}. ${told.join(". ")}.`;
  }

  function captionParts(found, way, height, env) {
    const items = found.curves.map((curve, at) => {
      const mark = node("svg", { class: "sweep-key", viewBox: "0 0 34 10", width: 34, height: 10, "aria-hidden": "true" });
      mark.append(node("path", { class: `sweep-curve number-${at + 1}`, d: "M1 5H33" }));
      return own.element("li", "", mark, " ", ...designs.sentence(`${own.capital(curveWords(found, curve, way, height))}.`));
    });
    const isLost = found.curves.some((curve) => curve.points.some((point) => point.region !== data.usual));
    const stood = found.middle.map(([name, value]) => `${name} = ${designs.written(name, value)}`);
    const notes = ["Parts stand at their face value."];
    if (stood.length) notes.push(`In the middle of its range stands ${stood.join(", ")}.`);
    if (isLost) notes.push(`Broken curve: no longer so that ${data.regions[data.usual]}.`);
    const off = limitsOf(height, env).filter((limit) => {
      const [low, high] = heightsOf(found, limitsOf(height, env)) || [0, 0];
      return limit.value < low || limit.value > high;
    });
    for (const { value, relation } of off) notes.push(`Off the figure: ${relation === ">=" ? "at least" : "at most"} ${designs.written(height, value)}.`);
    return [own.element("ul", "sweep-keys", ...items), own.element("p", "", ...designs.sentence(notes.join(" ")))];
  }

  // The curves as a table: made only while it is open.
  function fillTable(found, way, height) {
    if (!table.open) return;
    const [from, to] = found.extent;
    const head = own.element("tr", "", own.element("th", "", own.letter(way)));
    for (const curve of found.curves) {
      const words = found.beside ? `${height}, ${curveName(found, curve)}` : height;
      head.append(own.element("th", "", ...designs.sentence(words)));
    }
    for (const cell of head.children) cell.scope = "col";
    const lines = [];
    for (let at = 0; at <= ROWS; at += 1) {
      const place = from + ((to - from) * at) / ROWS;
      const first = own.element("th", "", designs.written(way, place));
      first.scope = "row";
      const cells = found.curves.map((curve) => {
        const point = curve.points.reduce((best, item) => (Math.abs(item.at - place) < Math.abs(best.at - place) ? item : best));
        const value = designs.written(height, point.height);
        return own.element("td", "", point.region === data.usual ? value : `${value} (${regionWords(point.region)})`);
      });
      lines.push(own.element("tr", "", first, ...cells));
    }
    const whole = own.element("table", "", own.element("thead", "", head), own.element("tbody", "", ...lines));
    table.querySelector(".table-box").replaceChildren(whole);
  }

  function missingParts(env, keys) {
    const spoken = JSON.stringify(data.desk.sweep.ends);
    const feeds = data.desk.feeds.filter(([key]) => spoken.includes(`"${key}"`)).flatMap(([, stage]) => stage.keys);
    return keys.filter((key) => !env.has(key) && (spoken.includes(`"${key}"`) || feeds.includes(key)));
  }

  designs.showSweep = function (env, keys) {
    last = { env: env, keys: keys };
    const [way, height] = [ofWay.value, ofHeight.value];
    const found = designs.sweep(way, height, env, STEPS);
    const isThere = found && heightsOf(found, []) !== null;
    figure.hidden = !isThere;
    const open = missingParts(env, keys);
    const words = found ? "Nothing that could be drawn follows here." : `Choose ${open.join(", ")} first.`;
    missing.replaceChildren(...(isThere ? [] : designs.sentence(words)));
    missing.hidden = Boolean(isThere);
    if (!isThere) return;
    draw(found, way, height, env);
    caption.replaceChildren(...captionParts(found, way, height, env));
    fillTable(found, way, height);
  };

  function again() {
    if (last) designs.showSweep(last.env, last.keys);
  }

  ofWay.addEventListener("change", again);
  ofHeight.addEventListener("change", again);
  table.addEventListener("toggle", again);
  window.addEventListener("resize", again);
})();
