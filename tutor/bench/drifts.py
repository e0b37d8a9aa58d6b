"""How parts drift with temperature where nobody says: what data sheets of their kind have, from 25 °C on.

Place in the data flow: letters of part values -> coefficients -> curves of the bench, figures that are warmed.
"""

from __future__ import annotations

import numpy as np

from tutor.bench.curves import Array

# A zener's (1/K), by its voltage: the middle between the two series of `problems/parts/zeners.csv`, as printed in the
# data sheets named there.
ZENER_VOLTS = (3.3, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 8.2, 9.1, 10.0, 12.0, 18.0, 24.0)
ZENER_DRIFTS = (
    -6.5e-4, -5.5e-4, -4.2e-4, -0.5e-4, 0.7e-4, 1.1e-4, 3.9e-4, 4.4e-4, 5.3e-4, 6e-4, 6.5e-4, 7e-4, 7e-4, 8e-4,
)  # fmt: skip
JUNCTION_DRIFT = -0.002  # V/K at a constant current (common practice; derived: (V_BE - V_GO)/T, some -1.7 to -2.2 mV/K)
FIXED_DRIFT = -2e-4  # 1/K, of a fixed three-terminal regulator: about -1 mV/K at 5 V (data sheets, from memory)
# 1/K, of a band-gap reference: some 50 parts in a million, either way, by the specimen (data sheets, from memory);
# upward is taken.
REFERENCE_DRIFT = 5e-5


def zener_drift(volts: Array) -> Array:
    """The share of its voltage by which a zener of some voltage drifts for each kelvin (1/K)."""
    return np.interp(volts, ZENER_VOLTS, ZENER_DRIFTS)


def share_drift(letter: str) -> float:
    """The share by which a reference or a fixed regulator of that letter drifts for each kelvin (1/K), else 0."""
    return REFERENCE_DRIFT if letter.startswith("V_REF") else FIXED_DRIFT if letter.startswith("V_REG") else 0.0
