"""The region the engine settles on, against a simulator whose zener and transistor find their own.

The decks have a nearly ideal diode in place of each decision (exponential, with a thermal voltage a thousandth of the
usual), so no region is assumed on the simulator's side. Expected states: ngspice 39 (Debian 12).
"""

from __future__ import annotations

import pytest

SETS = 200
SEED = 2
DIODE = 2e-3  # volts: the most a nearly ideal diode takes at 1 A, with room
LEAK = 1e-9  # amperes: above the leakage of a diode that blocks (1 pA) and gmin, below any current of a part that is on


@pytest.mark.parametrize("deck", ["shunt_state", "follower_state"])
def test_the_region_is_the_one_the_simulator_finds(deck, solve, witness):
    """Over 200 sets in whatever state, the parts that conduct are those of the engine's region, and the nodes agree."""
    form = witness.forms[deck]
    sets = form.sets(SETS, SEED)
    met: dict[str, int] = {}
    for values, seen in zip(sets, witness.run(deck, sets), strict=True):
        wanted = ("V_O", "I_Z", "I_R", *(("V_B", "I_B") if form.circuit == "follower" else ()))
        found = solve(form.circuit, values, wanted)
        region = {part: state for part, state in found.region.parts.items()}
        if abs(seen["I_Z"]) < 1e-5 * abs(seen["I_R"]) and region["Z"] == "breakdown":
            raise AssertionError(f"{deck}: the zener is off in the simulator at {values}")
        assert (seen["I_Z"] > LEAK) is (region["Z"] == "breakdown"), values
        if form.circuit == "follower":
            assert (seen["I_B"] > LEAK) is (region["Q"] == "active"), values
            assert float(found.values["V_B"]) == pytest.approx(seen["V_B"], abs=DIODE), values
        assert float(found.values["V_O"]) == pytest.approx(seen["V_O"], abs=2 * DIODE), values
        met[found.region.id] = met.get(found.region.id, 0) + 1
    print(f"{deck}: {met}")
    circuit = witness.folder.circuit(form.circuit)
    assert set(met) == {item.id for item in circuit.regions} and min(met.values()) >= 5, met
