"""What the trade's names of slips are called in the families of regulators with a loop (`test_slips_reference.py`)."""

from __future__ import annotations

OPAMP = {"Vref": "V_REF", "R1": "R_1", "R2": "R_2", "VBE": "V_BE", "Vo": "V_O", "hFE": "h_FE"}

# The amplifier feeds the base, and emitter current is the load's and the divider's together.
LOOP_NAMES: dict[tuple[str, int], dict[str, str]] = {
    ("opamp-series", 1): {**OPAMP, "ILmax": "I_L + V_REF/R_2"},
    ("opamp-series", 2): {**OPAMP, "ILmax": "I_L_MAX + V_REF/R_2"},
}
