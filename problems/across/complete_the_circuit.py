"""Some ends are still open: which node does each join, so that the circuit, solved, gives what is specified."""

from tutor.across.completing import Completing, Then
from tutor.across.family import AcrossFamily
from tutor.across.joinings import JoiningBelief, Opening, Task

CATHODE, ANODE = Opening("Z", "a", "zener's cathode"), Opening("Z", "b", "zener's anode")
PLUS_INPUT = Opening("U", "p", "amplifier's non-inverting input")
MINUS_INPUT = Opening("U", "n", "amplifier's inverting input")
UPPER = Opening("R_1", "a", "upper end of $R_1$")

SHUNT_VALUES = {
    "V_I": (12.0, 15.0, 18.0, 20.0), "R": (100.0, 120.0, 150.0, 180.0, 220.0), "V_Z": (5.1, 5.6, 6.2, 6.8, 7.5, 8.2),
    "R_L": (390.0, 470.0, 560.0, 680.0, 820.0, 1000.0),
}  # fmt: skip
LOOP_VALUES = {
    "V_I": (18.0, 20.0, 24.0), "R_1": (3300.0, 3900.0, 4700.0, 5600.0), "R_2": (3900.0, 4700.0, 5600.0),
    "h_FE": (50.0, 60.0, 80.0), "R_L": (33.0, 47.0, 68.0, 100.0),
}  # fmt: skip


DRIVEN = {"drive": "the pass transistor's base"}
AMPLIFIER = {"U.o": "the amplifier's output", "U.s": "its supply lead"}


def forward(cathode: str, anode: str) -> JoiningBelief:
    """The zener the wrong way round, between the nodes where it belongs."""
    return JoiningBelief(
        "zener-forward", {"Z.a": anode, "Z.b": cathode}, "the zener drawn forward",
        "Forward it clamps at about 0.7 V.", "Which end of the zener goes to the more positive node?", ("S25",),
    )  # fmt: skip


def latching(also: dict[str, str]) -> JoiningBelief:
    """The divider at the non-inverting input."""
    return JoiningBelief(
        "divider-to-plus", {"U.p": "tap", "U.n": "ref", **also}, "the divider joined to the non-inverting input",
        "That gives positive feedback with an emitter-follower pass device: the output latches.",
        "If the output rises, does the drive rise or fall?", ("F06",),
    )  # fmt: skip


ZENER_SHUNT = Task("zener-shunt", (CATHODE, ANODE), ("in", "out", "gnd"), SHUNT_VALUES, (forward("out", "gnd"),))
COMPENSATED_ZENER = Task(
    "compensated-shunt", (CATHODE, ANODE), ("in", "out", "mid", "gnd"), SHUNT_VALUES, (forward("out", "mid"),)
)
COMPENSATED_DIODE = Task(
    "compensated-shunt",
    (Opening("D", "a", "diode's anode"), Opening("D", "b", "diode's cathode")),
    ("out", "mid", "gnd"),
    SHUNT_VALUES,
)
NEGATIVE = Task(
    "zener-shunt", (CATHODE, ANODE), ("in", "out", "gnd"), SHUNT_VALUES, (forward("gnd", "out"),), negative=True
)
OPAMP_INPUTS = Task(
    "opamp-series-reference", (PLUS_INPUT, MINUS_INPUT), ("ref", "tap", "out", "gnd"),
    {**LOOP_VALUES, "V_REF": (4.7, 5.0, 5.1)}, (latching({}),), names=DRIVEN, rest=AMPLIFIER,
)  # fmt: skip
OPAMP_DIVIDER = Task(
    "opamp-series-reference", (PLUS_INPUT, MINUS_INPUT, UPPER), ("ref", "tap", "out"),
    {**LOOP_VALUES, "V_REF": (4.7, 5.0, 5.1)}, (latching({"R_1.a": "out"}),),
    names=DRIVEN, rest={**AMPLIFIER, "R_1.b": "the lower end of $R_1$"},
)  # fmt: skip
OPAMP_ZENER = Task(
    "opamp-series-zener", (PLUS_INPUT, MINUS_INPUT, UPPER), ("ref", "tap", "out"),
    {**LOOP_VALUES, "R": (1500.0, 1800.0, 2200.0), "V_Z": (4.7, 5.1, 5.6)}, (latching({"R_1.a": "out"}),),
    names=DRIVEN, rest={**AMPLIFIER, "R_1.b": "the lower end of $R_1$"},
)  # fmt: skip
FOLLOWER = Task(
    "follower",
    (Opening("Q", "c", "collector"), Opening("Q", "b", "base"), Opening("Q", "e", "emitter")),
    ("in", "base", "out"),
    {
        "V_I": (15.0, 18.0, 20.0), "R": (220.0, 270.0, 330.0, 390.0), "V_Z": (5.6, 6.8, 7.5, 8.2, 9.1),
        "h_FE": (40.0, 50.0, 60.0, 80.0), "R_L": (39.0, 47.0, 56.0, 68.0),
    },
    functions={
        "R": "feeds the zener and the base", "Z": "holds the base at a fixed voltage",
        "Q": "carries the load's current, one junction below its base",
    },
)  # fmt: skip
FOLLOWER_ZENER = Task(
    "follower", (CATHODE, ANODE), ("in", "base", "out", "gnd"), FOLLOWER.values, (forward("base", "gnd"),),
    functions=FOLLOWER.functions,
)  # fmt: skip
PAIR = Task(
    "feedback-pair-unfed",
    (
        Opening("Q_2", "c", "error transistor's collector"), Opening("Q_2", "b", "error transistor's base"),
        Opening("Q_2", "e", "error transistor's emitter"),
    ),
    ("base", "tap", "error"),
    {
        "V_I": (18.0, 20.0, 24.0), "R": (680.0, 820.0, 1000.0), "V_Z": (4.7, 5.1, 5.6), "h_FE_1": (60.0, 80.0),
        "h_FE_2": (150.0, 200.0), "R_1": (1800.0, 2200.0, 2700.0), "R_2": (2200.0, 2700.0, 3300.0),
        "R_L": (56.0, 68.0, 82.0, 100.0),
    },
    functions={
        "R": "brings the drive current", "Q_1": "carries the load's current",
        "Q_2": "compares a share of the output with the reference and takes drive away", "Z": "is the reference",
        "R_1": "brings a share of the output, together with the resistor below it",
    },
    names={"base": "the pass transistor's base", "error": "the zener's cathode"},
)  # fmt: skip
NEGATIVE_WHOLE = Task(
    "zener-shunt", (CATHODE, ANODE), ("in", "out", "gnd"), SHUNT_VALUES, (forward("gnd", "out"),), negative=True,
    functions={
        "V_I": "brings the power", "R": "takes up what the supply has over the output",
        "Z": "takes the current that the load leaves, at its own voltage", "L": "is what the voltage is wanted for",
    },
)  # fmt: skip

FAMILY = AcrossFamily(
    title="Which end goes where?",
    about="A circuit is nearly finished and some ends are open. Whoever knows what each part is there for finds their "
    "nodes, and can say what would happen at the others.",
    lesson="across",
    scenarios=(
        "A kit for a summer school has lost the last page of its instructions.",
        "On a canal boat a half-built supply has lain in a biscuit tin since last winter.",
        "The caretaker of a village hall finds a board with wires cut and labels on their ends.",
        "A museum restores a receiver whose supply was taken out by somebody in a hurry.",
        "In a repair café two visitors argue about the last wires of a board.",
        "A beekeeper's scale needs its supply back before the lime trees flower.",
        "A school's stage crew finishes the supply that the class before them began.",
        "At a planet walk the lamp of Saturn needs a new board, and the sketch has been in the rain.",
    ),
    cautions=("hot-parts", "output", "electrolytics"),
    levels=(
        Completing(
            about="One part of a shunt regulator: its place and its polarity",
            tasks=(ZENER_SHUNT, COMPENSATED_ZENER, COMPENSATED_DIODE, NEGATIVE),
            then=Then.TURNED,
        ),
        Completing(
            about="The inputs of an amplifier and its divider",
            tasks=(OPAMP_INPUTS, OPAMP_DIVIDER, OPAMP_ZENER),
            then=Then.EXCHANGED,
        ),
        Completing(
            about="A transistor's three ends, a zener or an output below ground, and what each stage is there for",
            tasks=(FOLLOWER, FOLLOWER_ZENER, PAIR, NEGATIVE_WHOLE),
            then=Then.FUNCTIONS,
        ),
    ),
)
