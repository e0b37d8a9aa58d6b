"""What part spreads make of each result: the same plans run at every corner of the spreads a level names.

The bench band of a result runs from the least to the greatest it comes to when each part lies anywhere in its spread.
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


def bands(ready: ReadyLevel, drawn: Drawn) -> dict[str, str]:
    """Key -> "15.1 mA to 20.4 mA", for every result that the level's spreads move without changing its sign."""
    spreads = {key: spread for key, spread in ready.level.band.items() if key in drawn.run.env}
    if not spreads:
        return {}
    corners = list(itertools.product((-1.0, 1.0), repeat=len(spreads)))
    env: Environment = {key: np.repeat(value, len(corners)) for key, value in drawn.run.env.items()}
    for place, (key, spread) in enumerate(spreads.items()):
        env[key] = env[key] * np.array([1 + corner[place] * spread for corner in corners])
    found: dict[str, str] = {}
    for index, stage in enumerate(drawn.region.asks):
        if stage is None or drawn.run.outcomes[index] is None:
            continue
        key = drawn.region.plan.keys[index]
        env[key] = np.array(run(stage, env).value)
        low, high = float(np.min(env[key])), float(np.max(env[key]))
        moved = abs(high - low) > 1e-9 * max(abs(low), abs(high))
        if moved and np.isfinite(low) and np.isfinite(high) and low * high > 0:
            unit = symbol_for(key).unit
            found[key] = f"{write(low, unit)} to {write(high, unit)}"
    return found


def band_words(level: Level) -> str:
    """The clause that says what the bands allow for, '' without bands."""
    if not level.band:
        return ""
    parts = [f"${key}$ {write(spread, '%')}" for key, spread in level.band.items()]
    listed = parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + " and " + parts[-1]
    return f"the bands beside the results allow for {listed} either way" + ("; " if level.bench else "")
