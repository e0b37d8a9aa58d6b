"""How the names in the trade's list of slips are read on a family: what they are called there, and where it differs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

LINE = {"Vmin": "V_I_MIN", "Vmax": "V_I_MAX"}
ONE_LINE = {"Vin": "V_I", "Vmin": "V_I", "Vmax": "V_I"}
ONE_LOAD = {"IL": "I_L", "ILmax": "I_L", "ILmin": "I_L"}
LOAD = {"ILmax": "I_L_MAX", "ILmin": "I_L_MIN"}
ZENER = {"VZ": "V_Z", "IZmin": "I_ZK", "PZM": "P_ZM"}
SLOPE = {"VZT": "V_ZT", "IZ": "I_Z", "IZT": "I_ZT", "rz": "r_z", "R": "R"}
FOLLOWER = {"VBE": "V_BE", "hFE": "h_FE", "Vo": "V_Z - V_BE"}


@dataclass(frozen=True)
class Differs:
    """Where a family asks for something else than the reference's quantity: how its formula is read there, and why.

    `names` (and `wrong_names`, `right_names` for one of the two formulas) are put over the level's; the reference's
    formulas must then come to `wrong` and `right` (formulas over keys and VALUE) instead of to VALUE.
    """

    why: str
    names: Mapping[str, str] = field(default_factory=dict)
    wrong_names: Mapping[str, str] = field(default_factory=dict)
    right_names: Mapping[str, str] = field(default_factory=dict)
    wrong: str = "VALUE"
    right: str = "VALUE"
