// The sweep of a design as a figure: curves over load or line, what is specified marked, what is demanded as a line
// across, and in words where the region changes. The curves are worked out in design_desk_judge.js; this file draws.
(function () {
  "use strict";
  const Steadyrail = window.Steadyrail;
  const { element, own, designs, ownData: data } = Steadyrail;
  const section = document.querySelector(".desk-sweep");
  if (!section || !data || !data.desk || !data.desk.sweep) return;
  const SVG = "http://www.w3.org/2000/svg";
  const STEPS = 60; // points of a curve, those at its borders apart
  const ROWS = 12; // rows of its table
  const [LEFT, RIGHT, TOP, BOTTOM] = [66, 12, 30, 48];
  const TALL = 300;
  const FLOOR = TALL - BOTTOM;
  const figure = section.querySelector(".sweep-figure");
  const drawing = section.querySelector(".sweep-drawing");
  const caption = section.querySelector(".sweep-caption");
  const missing = section.querySelector(".sweep-missing");
  const table = section.querySelector(".sweep-table");
  const ofHeight = document.getElementById("sweep-height");
  const ofWay = document.getElementById("sweep-way");
  let last = null;
  let frame = 0;

  function node(tag, attributes, ...children) {
    const made = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
    made.append(...children);
    return made;
  }

  function line(name, x1, y1, x2, y2) {
    return node("line", { class: name, x1: x1, y1: y1, x2: x2, y2: y2 });
  }

  function label(name, x, y, anchor, ...children) {
    return node("text", { class: name, x: x, y: y, "text-anchor": anchor }, ...children);
  }

  // A letter as it is printed: the main letter slanted, its subscript lowered.
  function letter(name) {
    const [main, lowered] = own.symbol(name).letter;
    const first = node("tspan", { class: main.length > 1 ? "" : "slanted" }, main);
    return lowered ? [first, node("tspan", { class: "lowered", dy: "0.25em" }, lowered)] : [first];
  }

  function bare(name, value) {
    return Steadyrail.checker.write(value, own.symbol(name).unit, 3);
  }

  function relationWords(relation) {
    return relation === ">=" ? "at least" : "at most";
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

  // What is demanded of the quantity shown, each limit once.
  function limitsOf(height, env) {
    const isOf = (demand) => demand.stage.quantity === height && demand.kind !== "aim" && demand.factor === 1;
    const found = data.desk.demands
      .filter((demand) => isOf(demand) && (env.has(demand.limit) || demand.kind === "region"))
      .map((demand) => {
        const value = env.has(demand.limit) ? env.get(demand.limit) : demand.fixed;
        return { value: value, relation: demand.relation };
      });
    return found.filter((one, at) => found.findIndex((other) => other.value === one.value) === at);
  }

  // From where to where the figure goes in height; a limit far away is not drawn. Null where there is nothing to show.
  function spanOf(found, limits) {
    const seen = found.curves.flatMap((curve) => curve.points.map((point) => point.height)).filter(Number.isFinite);
    if (!seen.length) return null;
    let [low, high] = [Math.min(...seen), Math.max(...seen)];
    const span = high - low || Math.abs(high) || 1;
    for (const { value } of limits) {
      if (value < low - 2 * span || value > high + 2 * span) continue;
      [low, high] = [Math.min(low, value), Math.max(high, value)];
    }
    if (low > 0 && low < 0.5 * high) low = 0;
    const room = 0.06 * (high - low || Math.abs(high) || 1);
    return [low === 0 ? 0 : low - room, high + room];
  }

  function pathOf(points, across, up) {
    let path = "";
    let isDown = false;
    for (const point of points) {
      const isThere = Number.isFinite(point.height);
      if (isThere) path += `${isDown ? "L" : "M"}${across(point.at).toFixed(1)} ${up(point.height).toFixed(1)}`;
      isDown = isThere;
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

  function specifiedNodes(found, across, wide) {
    const [first, second] = found.specified.map(across);
    const width = Math.max(second - first, 0.1);
    const band = node("rect", { class: "sweep-specified", x: first, y: TOP, width: width, height: FLOOR - TOP });
    const ends = [...new Set([first, second])].map((end) => line("sweep-end", end, TOP, end, FLOOR));
    const middle = Math.min(Math.max((first + second) / 2, LEFT + 60), wide - 40);
    return [band, ...ends, label("sweep-label", middle, TOP - 8, "middle", "specified")];
  }

  function axisNodes(way, height, across, up, wide, [[from, to], [low, high]]) {
    const right = wide - RIGHT;
    const nodes = [];
    for (const value of strokes(low, high, 6)) {
      nodes.push(line("sweep-grid", LEFT, up(value), right, up(value)));
      nodes.push(label("sweep-label", LEFT - 6, up(value) + 4, "end", bare(height, value)));
    }
    for (const value of strokes(from, to, Math.max(3, Math.floor(wide / 95)))) {
      nodes.push(line("sweep-stroke", across(value), FLOOR, across(value), FLOOR + 5));
      nodes.push(label("sweep-label", across(value), FLOOR + 19, "middle", bare(way, value)));
    }
    nodes.push(node("path", { class: "sweep-axis", d: `M${LEFT} ${TOP}V${FLOOR}H${right}` }));
    nodes.push(label("sweep-letter", LEFT - 6, TOP - 8, "end", ...letter(height)));
    nodes.push(label("sweep-letter", right, TALL - 10, "end", ...letter(way)));
    return nodes;
  }

  function limitNodes(height, limits, up, wide, [low, high]) {
    return limits
      .filter(({ value }) => value >= low && value <= high)
      .flatMap(({ value, relation }) => {
        const place = up(value) - 5 > TOP + 10 ? up(value) - 5 : up(value) + 15;
        const words = `${relationWords(relation)} ${bare(height, value)}`;
        return [
          line("sweep-limit", LEFT, up(value), wide - RIGHT, up(value)),
          label("sweep-label of-limit", wide - RIGHT - 2, place, "end", words),
        ];
      });
  }

  function curveNodes(curve, at, across, up) {
    const paths = piecesOf(curve.points).map((piece) => {
      const name = `sweep-curve number-${at + 1}${piece[0].region === data.usual ? "" : " lost"}`;
      return node("path", { class: name, d: pathOf(piece, across, up) });
    });
    const edges = curve.borders
      .map((border) => curve.points.find((point) => point.at === border.at))
      .filter((point) => point && Number.isFinite(point.height))
      .map((point) => node("circle", { class: "sweep-border", cx: across(point.at), cy: up(point.height), r: 3.5 }));
    return [...paths, ...edges];
  }

  function draw(found, way, height, env) {
    const limits = limitsOf(height, env);
    const span = spanOf(found, limits);
    const wide = Math.max(260, Math.min(drawing.clientWidth || 560, 760));
    const [[from, to], [low, high]] = [found.extent, span];
    const across = (value) => LEFT + ((value - from) / (to - from)) * (wide - LEFT - RIGHT);
    const up = (value) => FLOOR - ((value - low) / (high - low)) * (FLOOR - TOP);
    const spoken = { role: "img", "aria-labelledby": "sweep-name", "aria-describedby": "sweep-words" };
    const svg = node("svg", { viewBox: `0 0 ${wide} ${TALL}`, width: wide, height: TALL, ...spoken });
    svg.append(
      node("title", { id: "sweep-name" }, `${height} along ${way}`),
      node("desc", { id: "sweep-words" }, wordsOf(found, way, height)),
      ...specifiedNodes(found, across, wide),
      ...axisNodes(way, height, across, up, wide, [found.extent, span]),
      ...limitNodes(height, limits, up, wide, span),
      ...found.curves.flatMap((curve, at) => curveNodes(curve, at, across, up)),
    );
    drawing.replaceChildren(svg);
  }

  function curveName(found, curve) {
    return found.beside ? `at ${found.beside} = ${designs.written(found.beside, curve.beside, 4)}` : "the curve";
  }

  function regionWords(id) {
    if (id) return data.regions[id];
    return data.sets[0].plans.length > 1 ? "no state of the circuit fits" : "that does not hold any more";
  }

  function pathWords(points, low, high) {
    const heights = points.map((point) => point.height);
    const [least, most] = [Math.min(...heights), Math.max(...heights)];
    const isLevel = most - least <= 1e-9 * Math.max(Math.abs(least), Math.abs(most));
    return isLevel ? `stays at ${low}` : `goes from ${low} to ${high}`;
  }

  // What a curve does, in words: from where to where it goes, and where the region changes.
  function curveWords(found, curve, way, height) {
    const seen = curve.points.filter((point) => Number.isFinite(point.height));
    const start = curve.points[0].region;
    if (!seen.length) return `${curveName(found, curve)}: ${regionWords(start)}`;
    const [low, high] = [seen[0], seen[seen.length - 1]].map((point) => designs.written(height, point.height));
    const goes = `${curveName(found, curve)}: ${height} ${pathWords(seen, low, high)}`;
    const changes = curve.borders.map(
      (item) => `from ${way} = ${designs.written(way, item.at)} on ${regionWords(item.to)}`,
    );
    if (!changes.length && start === data.usual) return goes;
    return [goes, `at first ${regionWords(start)}`, ...changes].join("; ");
  }

  function wordsOf(found, way, height) {
    const ends = found.extent.map((value) => designs.written(way, value));
    const told = found.curves.map((curve) => own.capital(curveWords(found, curve, way, height)));
    return `${way} from ${ends[0]} to ${ends[1]}. ${told.join(". ")}.`;
  }

  function keyMark(at) {
    const frame = { class: "sweep-key", viewBox: "0 0 34 10", width: 34, height: 10, "aria-hidden": "true" };
    return node("svg", frame, node("path", { class: `sweep-curve number-${at + 1}`, d: "M1 5H33" }));
  }

  // What else is to be known of the figure: where the rest stands, what a broken curve means, what is off it.
  function notesOf(found, height, env) {
    const notes = ["Parts stand at their face value."];
    const stood = found.middle.map(([name, value]) => `${name} = ${designs.written(name, value)}`);
    if (stood.length) notes.push(`In the middle of its range: ${stood.join(", ")}.`);
    const isLost = found.curves.some((curve) => curve.points.some((point) => point.region !== data.usual));
    if (isLost) notes.push(`Broken curve: no longer so that ${data.regions[data.usual]}.`);
    const limits = limitsOf(height, env);
    const [low, high] = spanOf(found, limits);
    for (const { value, relation } of limits) {
      if (value >= low && value <= high) continue;
      notes.push(`Off the figure: ${relationWords(relation)} ${designs.written(height, value)}.`);
    }
    return notes.join(" ");
  }

  function captionParts(found, way, height, env) {
    const items = found.curves.map((curve, at) => {
      const words = own.tiedSentence(`${own.capital(curveWords(found, curve, way, height))}.`);
      return element("li", "", keyMark(at), " ", ...words);
    });
    const notes = element("p", "", ...own.tiedSentence(notesOf(found, height, env)));
    return [element("ul", "sweep-keys", ...items), notes];
  }

  function heading(scope, ...children) {
    const made = element("th", "", ...children);
    made.scope = scope;
    return made;
  }

  function nearest(points, place) {
    return points.reduce((best, item) => (Math.abs(item.at - place) < Math.abs(best.at - place) ? item : best));
  }

  // The curves as a table: made only while it is open.
  function fillTable(found, way, height) {
    if (!table.open) return;
    const [from, to] = found.extent;
    const named = found.curves.map((curve) => (found.beside ? `${height}, ${curveName(found, curve)}` : height));
    const columns = named.map((words) => heading("col", ...own.tiedSentence(words)));
    const head = element("tr", "", heading("col", own.letter(way)), ...columns);
    const lines = [];
    for (let at = 0; at <= ROWS; at += 1) {
      const place = from + ((to - from) * at) / ROWS;
      const cells = found.curves.map((curve) => {
        const point = nearest(curve.points, place);
        const value = designs.written(height, point.height);
        return element("td", "", point.region === data.usual ? value : `${value} (${regionWords(point.region)})`);
      });
      lines.push(element("tr", "", heading("row", designs.written(way, place)), ...cells));
    }
    const whole = element("table", "", element("thead", "", head), element("tbody", "", ...lines));
    table.querySelector(".table-box").replaceChildren(whole);
  }

  // The parts that a sweep waits for.
  function awaited(env, keys) {
    const spoken = JSON.stringify(data.desk.sweep.ends);
    const feeds = data.desk.feeds.filter(([key]) => spoken.includes(`"${key}"`)).flatMap(([, stage]) => stage.keys);
    return keys.filter((key) => !env.has(key) && (spoken.includes(`"${key}"`) || feeds.includes(key)));
  }

  function show() {
    frame = 0;
    const { env, keys } = last;
    const [way, height] = [ofWay.value, ofHeight.value];
    const found = designs.sweep(way, height, env, STEPS);
    const isThere = Boolean(found) && spanOf(found, []) !== null;
    const open = awaited(env, keys);
    const waits = open.length ? `Choose ${own.listed(open)} first.` : "Nothing that could be drawn follows here.";
    figure.hidden = !isThere;
    missing.hidden = isThere;
    missing.replaceChildren(...(isThere ? [] : own.tiedSentence(waits)));
    if (!isThere) return;
    draw(found, way, height, env);
    caption.replaceChildren(...captionParts(found, way, height, env));
    fillTable(found, way, height);
    figure.dataset.drawn = `${height} along ${way}`;
  }

  // Drawn once a frame at most, after the table of corners, however fast one steps through a shelf.
  function again() {
    if (last && !frame) frame = window.requestAnimationFrame(show);
  }

  designs.showSweep = function (env, keys) {
    last = { env: env, keys: keys };
    again();
  };

  ofWay.addEventListener("change", again);
  ofHeight.addEventListener("change", again);
  table.addEventListener("toggle", again);
  window.addEventListener("resize", again);
})();
