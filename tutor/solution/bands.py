"""What part spreads make of each result: the same plans run over a grid of the spreads a level names.

The bench band of a result runs from the least to the greatest it comes to when each part lies anywhere in its spread;
a result may be greatest between the ends (a power, say), so places inside are looked at too.
"""

from __future__ import annotations

import itertools

import numpy as np

from tutor.generate.draws import Drawn
from tutor.generate.family import Level
from tutor.generate.level_run import ReadyLevel
from tutor.generate.run import run
from tutor.generate.sampling import Environment
from tutor.quantities.quantity import write
from tutor.quantities.symbols import symbol_for

PLACES = (-1.0, -0.5, 0.0, 0.5, 1.0)  # of a spread, from its low to its high end


def bands(ready: ReadyLevel, drawn: Drawn) -> dict[str, str]:
    """Key -> "15.1 mA to 20.4 mA", for every result that the level's spreads move without changing its sign."""
    spreads = {key: spread for key, spread in ready.level.band.items() if key in drawn.run.env}
    if not spreads:
        return {}
    grid = list(itertools.product(PLACES, repeat=len(spreads)))
    env: Environment = {key: np.repeat(value, len(grid)) for key, value in drawn.run.env.items()}
    for place, (key, spread) in enumerate(spreads.items()):
        env[key] = env[key] * np.array([1 + point[place] * spread for point in grid])
    found: dict[str, str] = {}
    for index, stage in enumerate(drawn.region.asks):
        if stage is None or drawn.run.outcomes[index] is None:
            continue
        key = drawn.region.plan.keys[index]
        env[key] = np.array(run(stage, env).value)
        low, high = float(np.min(env[key])), float(np.max(env[key]))
        if np.isfinite(low) and np.isfinite(high) and low * high > 0:
            ends = [write(end, symbol_for(key).unit) for end in (low, high)]
            if ends[0] != ends[1]:
                found[key] = " to ".join(ends)
    return found


def band_words(level: Level) -> str:
    """The clause that says what the bands allow for, '' without bands."""
    if not level.band:
        return ""
    parts = [f"${key}$ {write(spread, '%')}" for key, spread in level.band.items()]
    listed = parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + " and " + parts[-1]
    return f"the bands beside the results allow for {listed} either way" + ("; " if level.bench else "")
