// A design judged: the counterpart of tutor/solution/design_desk.py and tutor/generate/run.py over stages that Python
// wrote. Values are Maps from key or letter to SI number; what is not chosen has no value, nor has what rests on it.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const own = (Steadyrail.own = Steadyrail.own || {});
  const designs = (Steadyrail.designs = Steadyrail.designs || {});
  const SAME = 1e-9; // of the larger: a value this near its limit meets it (solution/requirement.py)
  const [LEAST, GREATEST, INSIDE] = [0, 1, 2];
  const BISECTIONS = 32;
  Object.assign(designs, { LEAST, GREATEST, INSIDE });

  function told() {
    return Steadyrail.ownData.desk;
  }

  function round12(value) {
    return Number.isFinite(value) ? Number(value.toPrecision(12)) : value;
  }

  // The numbers of a problem (1 is the first), by key.
  designs.numbersOf = function (number) {
    const { keys, rows } = told().numbers;
    return new Map(keys.map((key, at) => [key, rows[number - 1][at]]));
  };

  // Every corner of a stage: for each base that ranges the end it is at and its value there.
  function cornersOf(stage, env, fixed) {
    let corners = [[]];
    for (const base of stage.box) {
      const ends = [LEAST, GREATEST].map((end) => [base, end, env.get(`${base}_${end === LEAST ? "MIN" : "MAX"}`)]);
      corners = corners.flatMap((corner) => ends.map((end) => [...corner, end]));
    }
    // Then every one with one base at rest inside its range, where the quantity turns round.
    for (const [base, expr] of stage.resting) {
      const [low, high] = [env.get(`${base}_MIN`), env.get(`${base}_MAX`)];
      for (const corner of [...corners]) {
        if (corner.find((item) => item[0] === base)[1] !== LEAST) continue;
        const values = new Map([...fixed, ...corner.map((item) => [item[0], item[2]])]);
        const place = own.amount(expr, values);
        if (!(place > low && place < high)) continue;
        corners.push(corner.map((item) => (item[0] === base ? [base, INSIDE, place] : item)));
      }
    }
    return corners;
  }

  // A stage at each of its corners, and the worst of them; null while something that it rests on is not known.
  designs.runStage = function (stage, env) {
    if (!stage.keys.every((key) => env.has(key))) return null;
    const fixed = new Map(stage.inputs.map(([base, expr]) => [base, own.amount(expr, env)]));
    const steps = own.stepsOf(stage.steps);
    const corners = cornersOf(stage, env, fixed).map((corner) => {
      const bases = new Map([...fixed, ...corner.map((item) => [item[0], item[2]])]);
      return { corner: corner, bases: bases, value: own.run(steps, bases, []).get(stage.quantity) };
    });
    let worst = corners[0];
    for (const here of corners.slice(1)) {
      const isWorse = stage.greatest ? here.value > worst.value : here.value < worst.value;
      if (isWorse || (Number.isNaN(worst.value) && !Number.isNaN(here.value))) worst = here;
    }
    return { worst: worst, corners: corners };
  };

  // Numbers and choices with all that the demands rest on worked out.
  designs.environment = function (numbers, chosen) {
    const env = new Map([...numbers, ...chosen]);
    for (const [key, stage] of told().feeds) {
      const found = designs.runStage(stage, env);
      if (found) env.set(key, round12(found.worst.value));
    }
    return env;
  };

  designs.meets = function (value, limit, relation) {
    const slack = SAME * Math.max(Math.abs(value), Math.abs(limit));
    return relation === ">=" ? value >= limit - slack : value <= limit + slack;
  };

  function judgedAim(demand, found, env) {
    const part = told().parts.find((item) => item.key === demand.limit);
    const aim = found.worst.value;
    const here = env.get(part.key);
    const away = (value) => round12(Math.abs(value - aim));
    const nearest = part.shelf.reduce((best, value) => (away(value) < away(best) ? value : best));
    return { ...found, value: here, limit: aim, passes: here === nearest, spare: here / aim - 1 };
  }

  function judged(demand, env) {
    if (demand.limit && demand.kind !== "region" && !env.has(demand.limit)) return null;
    const found = designs.runStage(demand.stage, env);
    if (!found) return null;
    if (demand.kind === "aim") return judgedAim(demand, found, env);
    const value = demand.factor * found.worst.value;
    const limit = env.has(demand.limit) ? env.get(demand.limit) : demand.fixed;
    const spare = demand.relation === ">=" ? value - limit : limit - value;
    return { ...found, value: value, limit: limit, passes: designs.meets(value, limit, demand.relation), spare: spare };
  }

  // Every demand held against a design, in the order of the table; null where a choice is still to be made.
  designs.judge = function (env) {
    return told().demands.map((demand) => judged(demand, env));
  };

  // Where each name of the circuit lies: its least and its greatest value; null while one is not known.
  designs.endsOf = function (env) {
    const sweep = told().sweep;
    if (!sweep) return null;
    const ends = new Map();
    for (const [name, formulas] of sweep.ends) {
      const values = formulas.map((expr) => own.amount(expr, env));
      if (values.some((value) => !Number.isFinite(value))) return null;
      ends.set(name, [Math.min(...values), Math.max(...values)]);
    }
    return ends;
  };

  // The state of the circuit at these values: the id of its region and every value, or no region.
  designs.stateAt = function (values) {
    const found = own.resolve(Steadyrail.ownData.sets[0], values);
    return found.isStopped ? { region: "", values: new Map() } : { region: found.plan.region, values: found.values };
  };

  // The region at the corner of a row, "" where none fits; null where the corner does not tell the whole state.
  designs.regionAt = function (found, env) {
    const ends = designs.endsOf(env);
    if (!ends || !Steadyrail.ownData.sets[0].plans.length) return null;
    const bases = found.worst.bases;
    if ([...bases.keys()].some((name) => !ends.has(name) && !(name in Steadyrail.ownData.standing))) return null;
    const values = new Map();
    for (const [name, [low, high]] of ends) {
      if (!bases.has(name) && low !== high) return null;
      values.set(name, bases.has(name) ? bases.get(name) : low);
    }
    return designs.stateAt(values).region;
  };

  // How far a sweep goes: over what is specified and somewhat beyond, never below nothing where nothing is less.
  designs.reach = function (way, [low, high]) {
    const { unit, sign } = own.symbol(way);
    if (low === high) {
      const isLoad = unit === "A" || unit === "ohm";
      const [less, more] = isLoad ? [unit === "ohm" ? 0.3 : 0, 1.5] : [0.7, 1.3];
      return [low * less, high * more].sort((one, other) => one - other);
    }
    const beyond = 0.3 * (high - low);
    const least = sign === "~" || unit === "degC" ? low - beyond : Math.max(unit === "ohm" ? low / 3 : 0, low - beyond);
    return [least, high + beyond];
  };

  // One curve: points { at, height, region } along `way`, and the borders at which the region changes.
  designs.curve = function (way, height, standing, [from, to], count) {
    const at = (place) => {
      const state = designs.stateAt(new Map([...standing, [way, place]]));
      return { at: place, region: state.region, height: state.values.get(height) };
    };
    const points = [];
    const borders = [];
    for (let index = 0; index <= count; index += 1) {
      const point = at(from + ((to - from) * index) / count);
      const before = points[points.length - 1];
      if (before && before.region !== point.region) {
        let [left, right] = [before, point];
        for (let turn = 0; turn < BISECTIONS; turn += 1) {
          const middle = at((left.at + right.at) / 2);
          if (middle.region === before.region) left = middle;
          else right = middle;
        }
        points.push(left, right);
        borders.push({ at: right.at, from: left.region, to: right.region });
      }
      points.push(point);
    }
    return { points: points, borders: borders };
  };

  // The sweep of a design: a curve, or one for each end of what else the specification lets move most.
  designs.sweep = function (way, height, env, count) {
    const ends = designs.endsOf(env);
    if (!ends) return null;
    const moves = told().sweep.ways.filter((name) => name !== way && ends.get(name)[0] !== ends.get(name)[1]);
    const beside = moves[0] || "";
    const middle = moves.slice(1);
    const standing = new Map([...ends].map(([name, [low, high]]) => [name, (low + high) / 2]));
    const extent = designs.reach(way, ends.get(way));
    const places = beside ? ends.get(beside) : [0];
    const curves = places.map((place) => {
      const here = beside ? new Map([...standing, [beside, place]]) : standing;
      return { beside: place, ...designs.curve(way, height, here, extent, count) };
    });
    const stood = middle.map((name) => [name, standing.get(name)]);
    return { extent: extent, specified: ends.get(way), beside: beside, middle: stood, curves: curves };
  };
})();
