"""The two-transistor series regulator: one passes the load, the other compares a share of the output with a zener.

The zener is taken as straight. The error transistor's base current is neglected beside the divider's unless the exact
circuit is asked for. Where the error transistor is off and nothing feeds the zener, a trace of current is taken to keep
the zener's node at its voltage; an overload that pulls the base below that node is no state of that form here, nor is a
supply below a junction.
"""

from tutor.circuit.circuit import Circuit, Composite, NodeWord, Region, Variant, circuit
from tutor.circuit.placement import (
    Arrow,
    Drawing,
    Ground,
    NodeLabel,
    Place,
    PlaceDevice,
    Side,
    Terminal,
    Turn,
    Voltage,
    Wire,
)

PLACES = (
    Place("V_I", (0, 7), (0, 0), Side.RIGHT),
    Place("R", (2, 7), (2, 5.25), Side.LEFT),
    PlaceDevice("Q_1", (3.5, 6), Turn.QUARTER, Side.ABOVE),
    PlaceDevice("Q_2", (4.5, 4), Turn.NONE, Side.LEFT, mirrored=True),
    Place("Z", (3.5, 1.75), (3.5, 0), Side.LEFT),
    Place("R_1", (6.5, 7), (6.5, 4), Side.RIGHT, current="I_DIV", current_side=Side.RIGHT),
    Place("R_2", (6.5, 4), (6.5, 0), Side.RIGHT),
    Place("L", (8.5, 7), (8.5, 0), Side.LEFT),
)
WIRES = (
    Wire("in", ((0, 7), (2.5, 7))),
    Wire("base", ((2, 5.25), (3.5, 5.25), (3.5, 6))),
    Wire("base", ((3.5, 5.25), (3.5, 5))),
    Wire("error", ((3.5, 3), (3.5, 1.75))),
    Wire("tap", ((4.5, 4), (6.5, 4))),
    Wire("out", ((4.5, 7), (9.5, 7))),
    Wire("gnd", ((0, 0), (9.5, 0))),
)
MARKS = (
    Arrow("I_R", "base", (2.7, 5.25), Side.RIGHT, Side.BELOW),
    Arrow("I_Z", "error", (3.5, 2.3), Side.BELOW, Side.LEFT),
    Arrow("I_C_2", "base", (3.5, 5.1), Side.BELOW, Side.RIGHT),
    Arrow("I_L", "out", (7.5, 7), Side.RIGHT, Side.ABOVE),
    NodeLabel("tap", (5.9, 4), "V_TAP", Side.BELOW),
    Terminal("out", (9.5, 7)),
    Terminal("gnd", (9.5, 0)),
    Voltage("V_O", "out", (9.5, 7), "gnd", (9.5, 0)),
)
GROUNDS = (Ground((0.75, 0)),)
UNFED_DRAWING = Drawing("Series regulator with an error transistor", PLACES, WIRES, GROUNDS, MARKS)
FED_DRAWING = Drawing(
    "Series regulator with an error transistor, its zener fed from the output",
    (*PLACES, Place("R_D", (5.25, 3), (3.5, 3), Side.BELOW)),
    (*WIRES, Wire("out", ((5.25, 7), (5.25, 3)))),
    GROUNDS,
    (*MARKS, Arrow("I_RD", "out", (5.25, 6.1), Side.BELOW, Side.LEFT)),
)

REGULATING = ("regulating",)
ENDS = {
    "V_I": ("the lowest line", "the highest line"),
    "I_L": ("the lightest load", "the fullest load"),
    "R_L": ("the fullest load", "the lightest load"),
    "h_FE_1": ("the pass transistor's lowest gain", "the pass transistor's highest gain"),
    "h_FE_2": ("the error transistor's lowest gain", "the error transistor's highest gain"),
    "V_BE_2": ("the hottest error transistor", "the coldest error transistor"),
}
TYPICAL = {
    "V_I": 20.0, "R": 820.0, "V_Z": 5.6, "V_BE_1": 0.7, "h_FE_1": 60.0, "V_BE_2": 0.7, "h_FE_2": 150.0,
    "R_1": 2.2e3, "R_2": 2.7e3, "I_L": 0.2,
}  # fmt: skip
NEGLECTED = ("kcl.tap", "Q_2.sum", "Q_2.emitter-gain")
ROUGH_GAIN = ("supply", "pass-base", "Q_1.emitter-gain", "Q_1.sum", "Q_1.gain")
BASE_NEGLECTED = (
    ("kcl.tap", "One current through both resistors of the divider", "I_LOWER = I_DIV"),
    ("Q_2.sum", "Emitter current of the error transistor taken as its collector's", "I_E_2 = I_C_2"),
)


def error_base(fed: bool) -> str:
    """I_B_2 of the exact circuit: the drive left over at the output of the bare divider, over what answers to I_B_2."""
    bare = "V_TAP*(1 + R_1/R_2)"
    feed, answer = (f" + ({bare} - V_Z)/R_D", " + R_1/R_D") if fed else ("", "")
    left = f"(V_I - V_BE_1 - {bare})/R - (I_L + V_TAP/R_2{feed})/(h_FE_1 + 1)"
    return f"I_B_2 = ({left})/(h_FE_2 + R_1/R + (1{answer})/(h_FE_1 + 1))"


def pair(form: str, title: str, purpose: str, drawing: Drawing) -> Circuit:
    """The regulator with its zener fed from the output by R_D, or by the error transistor alone."""
    fed = form == "fed"
    regions = (
        Region(
            "regulating",
            "the error transistor holds the tap one junction above the zener",
            {"Z": "breakdown", "Q_1": "active", "Q_2": "active"},
        ),
        Region(
            "dropout",
            "the error transistor is off and the pass transistor has the whole drive",
            {"Z": "breakdown", "Q_1": "active", "Q_2": "off"},
        ),
        *(
            (
                Region(
                    "starved",
                    "the output does not reach the zener's voltage, and the error transistor is off",
                    {"Z": "off", "Q_1": "active", "Q_2": "off"},
                ),
            )
            if fed
            else ()
        ),
    )
    return circuit(
        id="feedback-pair",
        form=form,
        title=title,
        stage=3,
        purpose=purpose,
        netlist=f"""
            V_I  source    in     gnd
            R    resistor  in     base
            Q_1  npn       in     base   out
            Q_2  npn       base   tap    error
            Z    zener     error  gnd    slope= intercept= test_voltage= test_current=
            {"R_D  resistor  out    error  current=I_RD voltage= power=" if fed else ""}
            R_1  resistor  out    tap    current=I_DIV voltage= power=
            R_2  resistor  tap    gnd    current=I_LOWER voltage= power=
            L    load      out    gnd
        """,
        nodes={
            "in": NodeWord("V_I", "the input node"),
            "base": NodeWord("V_B", "the base node"),
            "error": NodeWord("V_E_2", "the error transistor's emitter"),
            "tap": NodeWord("V_TAP", "the divider's tap"),
            "out": NodeWord("V_O", "the output node"),
        },
        regions=regions,
        constants=(
            "V_I", "R", "V_Z", "V_BE_1", "h_FE_1", "V_BE_2", "h_FE_2", "R_1", "R_2", *(("R_D",) if fed else ()),
        ),
        preferred=("I_C_2", "I_Z", "V_O", "I_B_1", "V_TAP"),
        report=(
            "V_TAP", "V_O", "V_B", "I_L", "R_L", "I_DIV", "I_LOWER", *(("I_RD",) if fed else ()), "I_E_1", "I_B_1",
            "I_C_1", "I_R", "I_C_2", "I_B_2", "I_Z", "V_CE_1", "V_CE_2", "P_Q_1", "P_Q_2", "P_R", "P_Z", "P_O", "P_I",
            "eta",
        ),
        typical=TYPICAL | ({"R_D": 2.2e3} if fed else {}),
        readings=("I_Z", "V_O", "V_I", "I_L", "R_L", "V_TAP", "I_DIV"),
        composites=(
            Composite(
                "supply",
                "The supply feeds load, divider and zener, and nothing else",
                "I_I = I_L + I_LOWER + I_Z",
                why="Base and collector currents only change their way between the two transistors.",
                cost=1.25,
            ),
            Composite(
                "tap",
                "The tap stands one junction above the zener",
                "V_TAP = V_Z + V_BE_2",
                REGULATING,
                cost=0.7,
                why="The error transistor's emitter stands on the zener, and its base is the tap: the loop keeps that "
                "junction just conducting.",
            ),
            Composite(
                "output",
                "The output that brings the tap there",
                "V_O = (V_Z + V_BE_2)*(1 + R_1/R_2)",
                REGULATING,
                cost=0.8,
                why="The divider, of which next to nothing is drawn, makes the output larger than the tap in the "
                "proportion of its resistors.",
            ),
            Composite(
                "upper",
                "Upper resistor that gives an output",
                "R_1 = R_2*(V_O - V_TAP)/V_TAP",
                REGULATING,
                cost=1.0,
                why="One current flows through both resistors, so their voltages are in proportion.",
            ),
            Composite(
                "divider-current",
                "Ohm's law for the lower resistor, which has the tap's voltage across it",
                "I_DIV = V_TAP/R_2",
                cost=0.9,
                why="Next to nothing leaves the divider at its tap, so one current flows through both resistors.",
            ),
            Composite(
                "divider-chain",
                "Ohm's law for the divider as a whole",
                "I_DIV = V_O/(R_1 + R_2)",
                cost=1.0,
                why="Next to nothing leaves the divider at its tap: it lies across the output as one resistor.",
            ),
            Composite(
                "pass-base",
                "Base current of the pass transistor",
                f"I_B_1 = (I_L + I_DIV{' + I_RD' if fed else ''})/(h_FE_1 + 1)",
                cost=0.9,
                why=f"Load{', divider and zener feed' if fed else ' and divider'} take its emitter current; the base "
                "brings one part of it in $h_FE_1 + 1$.",
            ),
            Composite(
                "drive",
                "Current through $R$, which stands between the supply and the base",
                "I_R = (V_I - V_O - V_BE_1)/R",
                cost=0.9,
                why="The base stands one junction above the output.",
            ),
            Composite(
                "spare",
                "What the base does not take, the error transistor does",
                "I_C_2 = I_R - I_B_1",
                cost=0.85,
                why="$R$ brings more than the pass transistor needs; the error transistor takes just so much away that "
                "the output stays.",
            ),
            Composite(
                "series",
                "Ohm's law for $R$, which carries base and error current together",
                "R = (V_I - V_O - V_BE_1)/(I_B_1 + I_C_2)",
                cost=1.0,
                why="$R$ carries base and error current together; the load comes through the pass transistor.",
            ),
        ),
        variants=(
            Variant(
                "base-current",
                "neglected",
                words="the error transistor's base current neglected beside $I_DIV$; $I_B_1 = I_E_1/(h_FE_1 + 1)$",
                removes=NEGLECTED,
                adds=BASE_NEGLECTED,
                reasons={
                    "kcl.tap": "The error transistor's base takes next to nothing beside the divider's current.",
                    "Q_2.sum": "Its base current is next to nothing beside its collector's.",
                },
            ),
            Variant(
                "base-current",
                "exact",
                words="every base current counted",
                removes=("output", "upper", "divider-current", "divider-chain"),
                adds=(
                    ("tap-current", "Current law at the tap", "I_DIV = V_TAP/R_2 + I_B_2"),
                    ("upper-current", "Ohm's law for the upper resistor", "V_O = V_TAP + R_1*I_DIV"),
                    ("error-base", "The error transistor's base current: what the drive leaves, divided by its gain",
                     error_base(fed)),
                ),
                watches="V_O",
                title="$I_B_2$ counted rather than neglected",
                reasons={
                    "error-base": "Were it nothing, the output would stand as the bare divider has it; all that it "
                    "adds to drop and load is in proportion to it.",
                },
            ),
            Variant(
                "base-current",
                "load-over-h_FE",
                words="the error transistor's base current neglected beside $I_DIV$; $I_B_1 = I_E_1/h_FE_1$",
                removes=(*NEGLECTED, *ROUGH_GAIN),
                adds=(
                    *BASE_NEGLECTED,
                    (
                        "pass-base",
                        "Base current of the pass transistor, its emitter's taken for its collector's",
                        f"I_B_1 = (I_L + I_DIV{' + I_RD' if fed else ''})/h_FE_1",
                    ),
                    ("Q_1.sum", "Collector current taken as the emitter's", "I_C_1 = I_E_1"),
                ),
                watches="I_B_1",
                title="$h_FE_1$ written for $h_FE_1 + 1$",
            ),
            Variant("divider", "upper", words="$R_1$ from the output to the tap, $R_2$ from there to ground"),
            Variant(
                "divider", "lower", swaps=("R_1", "R_2"), title="$R_1$ taken as the lower resistor",
                words="$R_2$ from the output to the tap, $R_1$ from there to ground",
            ),
        ),
        ends=ENDS,
        defaults={"V_BE_1": 0.7, "V_BE_2": 0.7, "V_CE_SAT": 0.2},
        root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
        derivation={
            "V_TAP": ("V_Z", "V_BE_2"),
            "V_O": ("V_Z", "V_BE_2", "R_1", "R_2"),
            "R_1": ("V_O", "V_Z", "V_BE_2", "R_2"),
            "I_C_2": ("V_I", "V_O", "V_BE_1", "R", "I_L", "I_DIV", *(("I_RD",) if fed else ()), "h_FE_1"),
            "R": ("V_I", "V_O", "V_BE_1", "I_B_1", "I_C_2"),
            "P_Q_1": ("V_I", "V_O", "I_E_1", "h_FE_1"),
        },
        shorted="starved" if fed else "",
        drawing=drawing,
    )  # fmt: skip


UNFED = pair(
    "unfed",
    "Series regulator with an error transistor",
    "A second transistor compares a share of the output with a zener and takes from the pass transistor's base what is "
    "too much: the loop holds the output, whatever junction and line do.",
    UNFED_DRAWING,
)
FED = pair(
    "fed",
    "Series regulator with an error transistor, its zener fed from the output",
    "The same with a resistor from the regulated output to the zener, which then carries a steady current of its own "
    "and not only what the error transistor sends it.",
    FED_DRAWING,
)
FORMS = (UNFED, FED)
