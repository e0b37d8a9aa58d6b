// A learner's own design at its worst corners: the counterpart of tutor/working/margins.py and of
// tutor/solution/requirement.py, function for function. A check is { text, holds, margin }.
(function () {
  "use strict";
  const root = typeof window === "undefined" ? globalThis : window;
  const Steadyrail = (root.Steadyrail = root.Steadyrail || {});
  const checker = (Steadyrail.checker = Steadyrail.checker || {});
  const limits = Steadyrail.tables.checking.margins;
  const { EXACT_FIGURES } = Steadyrail.tables.checking.writing;

  // One check for each demand; what is not chosen yet is the model's. Empty before anything is chosen.
  checker.marginsIn = function (ground) {
    const { sheet } = ground;
    if (!sheet.choices.some((choice) => ground.choices.has(choice.key))) return [];
    const taken = new Map(
      sheet.choices.map(({ key, model }) => [key, ground.choices.has(key) ? ground.choices.get(key) : model]),
    );
    const view = ground.worldWith(taken).views[0];
    const rows = [];
    for (const { words, ask, limit, part } of sheet.demands) {
      const found = checker.answerOf(ask, view);
      if (found === null || !view.has(limit)) continue;
      const [value, bound] = [found.values.get(ask.quantity), view.get(limit)];
      if (!(Math.max(Math.abs(value), Math.abs(bound)) < limits.LARGEST)) continue;
      rows.push(requirementTold(words, ask.quantity, ask.relation, value, bound, part));
    }
    return [...rows, ...weakestTold(rows)].map(({ text, holds, margin }) => ({ text, holds, margin }));
  };

  // The part that has least to spare, in a row of its own; nothing where fewer than two parts are told apart.
  function weakestTold(rows) {
    const told = rows.filter((row) => row.part);
    if (new Set(told.map((row) => row.part)).size < 2) return [];
    const weakest = told.reduce((least, row) => (row.share < least.share ? row : least));
    const slots = { value: checker.write(Math.abs(weakest.share), "%", 2) };
    const spare = checker.say(weakest.holds ? "share-to-spare" : "share-short", slots);
    const margin = Math.abs(weakest.share) <= limits.SAME ? checker.say("nothing-to-spare") : spare;
    return [{ text: checker.say("weakest", { part: weakest.part }), holds: weakest.holds, margin: margin }];
  }

  // What is to spare as a share of the limit; of a temperature's limit what it has over the room of its ratings.
  function shareOf(unit, least, value, limit) {
    const measure = Math.abs(unit === "degC" ? limit - limits.RATED_AT : limit);
    return measure ? (least ? value - limit : limit - value) / measure : 0;
  }

  // The check that a quantity is at least (>=) or at most (<=) a limit, introduced by `words`.
  function requirementTold(words, quantity, relation, value, limit, part) {
    const unit = checker.unitOfSymbol(quantity);
    const least = relation === ">=";
    const slots = { words: words, name: quantity, value: checker.write(value, unit) };
    const text = checker.say(least ? "at-least" : "at-most", {
      ...slots,
      limit: checker.write(limit, unit, EXACT_FIGURES),
    });
    const slack = limits.SAME * Math.max(Math.abs(value), Math.abs(limit));
    const holds = least ? value >= limit - slack : value <= limit + slack;
    const row = { text: text, holds: holds, part: part, share: shareOf(unit, least, value, limit) };
    if (Math.abs(value - limit) <= slack) return { ...row, margin: checker.say("nothing-to-spare") };
    const short = least ? "missing" : "too-much";
    const spare = { value: checker.write(Math.abs(value - limit), limits.differences[unit] || unit) };
    return { ...row, margin: checker.say(holds ? "to-spare" : short, spare) };
  }
})();
