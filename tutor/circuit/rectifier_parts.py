"""The parts of a raw supply, one row per kind: windings, rectifier diode and reservoir.

What a rectifier does with them depends on how they are joined; those laws are read off the netlist by
`laws/rectifier.py`.
Place in the data flow: rows of the table in `components.py`.
"""

from __future__ import annotations

from collections.abc import Mapping

from tutor.circuit.component import Component, PartKind, PartLaw, PartRegion

_TURNS = "turns ratio of an ideal transformer"
_TURNS_WHY = "Each turn of either winding has the same voltage."
_APPARENT = "definition of apparent power: r.m.s. voltage times r.m.s. current"
_HEATED = "Copper is heated by the r.m.s. current, whatever its shape."
_SAWTOOTH = "linear discharge: Sedra and Smith, Microelectronic Circuits, peak rectifier (from memory)"
_WINDING_ROLES = {
    "voltage": "V_SEC",
    "crest": "V_SPK",
    "current": "I_SEC",
    "primary": "V_PRI",
    "ratio": "N_T",
    "rating": "VA",
}
_WINDING_CREST = PartLaw(
    "crest",
    "The crest of a sine wave",
    "[crest] = sqrt(2)*[voltage]",
    0.8,
    "definition of the r.m.s. value of a sine wave",
    "A winding is rated by its r.m.s. voltage; its crest is $sqrt(2)$ times as high.",
)

RECTIFIER_PARTS: Mapping[PartKind, Component] = {
    PartKind.WINDING: Component(
        terminals=("a", "b"),
        roles=_WINDING_ROLES,
        flows=(),
        laws=(
            _WINDING_CREST,
            PartLaw("ratio", "The turns ratio", "[voltage] = [primary]/[ratio]", 1.0, _TURNS, _TURNS_WHY),
            PartLaw("rating", "Apparent power", "[rating] = [voltage]*[current]", 1.0, _APPARENT, _HEATED),
        ),
    ),
    PartKind.TAPPED_WINDING: Component(
        terminals=("a", "t", "b"),
        roles=_WINDING_ROLES,
        flows=(),
        laws=(
            _WINDING_CREST,
            PartLaw(
                "ratio",
                "The turns ratio, the tap halving the winding",
                "[voltage] = [primary]/(2*[ratio])",
                1.0,
                _TURNS,
                "The ratio tells of the whole winding, and each half has half of its turns.",
            ),
            PartLaw(
                "rating",
                "Apparent power of both halves",
                "[rating] = 2*[voltage]*[current]",
                1.0,
                _APPARENT,
                "Both halves are wound for the current that each carries in its turn.",
            ),
        ),
    ),
    PartKind.DIODE: Component(terminals=("a", "k"), roles={"drop": "V_F", "reverse": "PIV"}, flows=()),
    PartKind.RESERVOIR: Component(
        terminals=("a", "b"),
        roles={
            "capacitance": "{name}",
            "frequency": "f",
            "crest": "V_PK",
            "ripple": "V_RIP",
            "mean": "V_DC",
            "trough": "V_TROUGH",
            "energy": "W_C",
            "draw": "",  # what is taken from it, where a letter of its own tells that
        },
        flows=(("draw", "a", True), ("draw", "b", False)),
        laws=(
            PartLaw(
                "level",
                "What the reservoir feeds, taken at the mean",
                "a - b = [mean]",
                0.9,
                _SAWTOOTH,
                "Heat goes by the mean over many cycles; where one moment counts, crest or trough stands in its place.",
            ),
            PartLaw(
                "mean",
                "The mean of a sawtooth",
                "[mean] = [crest] - [ripple]/2",
                1.0,
                _SAWTOOTH,
                "The voltage falls nearly straight from crest to trough, so its mean lies halfway between them.",
            ),
            PartLaw(
                "trough",
                "The trough",
                "[trough] = [crest] - [ripple]",
                0.9,
                _SAWTOOTH,
                "The whole ripple, peak to peak, lies below the crest.",
            ),
            PartLaw(
                "energy",
                "Energy stored at the crest",
                "[energy] = [capacitance]*[crest]^2/2",
                1.0,
                "energy of a charged capacitor",
                "What is stored is still there after switch-off.",
            ),
        ),
        regions=(
            PartRegion("charged", "the reservoir is topped up at every crest", (), ("[trough] >= 0",)),
        ),
    ),
}
