"""The op-amp shunt regulator: an op-amp compares the output with a reference and drives a transistor across it."""

from tutor.circuit.circuit import Composite, NodeWord, Region, Variant, circuit
from tutor.circuit.placement import (
    Arrow,
    Drawing,
    Ground,
    Place,
    PlaceDevice,
    Side,
    Terminal,
    Turn,
    Voltage,
    Wire,
)

DRAWING = Drawing(
    title="Shunt regulator with an op-amp",
    places=(
        Place("V_I", (0, 6.5), (0, 0), Side.RIGHT),
        Place("R", (0, 6.5), (2.25, 6.5), Side.ABOVE, current="I_R", current_side=Side.BELOW),
        Place("R_1", (2.25, 6.5), (2.25, 3.5), Side.LEFT, current="I_DIV", current_side=Side.LEFT),
        Place("R_2", (2.25, 3.5), (2.25, 0), Side.LEFT),
        Place("V_REF", (3.5, 2.5), (3.5, 0), Side.RIGHT),
        PlaceDevice("U", (3.5, 3.5), Turn.NONE, Side.ABOVE),
        PlaceDevice("Q", (5.5, 3), Turn.NONE, Side.BELOW),
        Place("L", (7.5, 6.5), (7.5, 0), Side.RIGHT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("out", ((2.25, 6.5), (10, 6.5))),
        Wire("tap", ((2.25, 3.5), (3.5, 3.5))),
        Wire("out", ((6.5, 6.5), (6.5, 4))),
        Wire("gnd", ((6.5, 2), (6.5, 0))),
        Wire("gnd", ((0, 0), (10, 0))),
    ),
    grounds=(Ground((1.125, 0)),),
    marks=(
        Arrow("I_C", "out", (6.5, 5), Side.BELOW, Side.LEFT),
        Terminal("out", (10, 6.5)),
        Terminal("gnd", (10, 0)),
        Voltage("V_O", "out", (10, 6.5), "gnd", (10, 0)),
    ),
)

CIRCUIT = circuit(
    id="opamp-shunt",
    title="Op-amp shunt regulator",
    stage=2,
    purpose="An op-amp compares a divider's tap with a reference voltage and drives a transistor across the output, "
    "which takes whatever current the load leaves.",
    netlist="""
        V_I    source    in   gnd
        R      resistor  in   out
        R_1    resistor  out  tap  current=I_DIV voltage= power=
        R_2    resistor  tap  gnd  current=I_DIV voltage= power=
        V_REF  source    ref  gnd  current= power=
        U      opamp     tap  ref  base
        Q      npn       out  base  gnd
        L      load      out  gnd
    """,
    nodes={
        "in": NodeWord("V_I", "the input node"),
        "tap": NodeWord("V_TAP", "the divider's tap"),
        "ref": NodeWord("V_REF", "the reference node"),
        "base": NodeWord("V_OA", "the output of the op-amp"),
        "out": NodeWord("V_O", "the output node"),
    },
    regions=(
        Region("regulating", "the op-amp holds the loop and the transistor is active", {"U": "linear", "Q": "active"}),
        Region("off", "the op-amp's output is low and the transistor off", {"U": "low", "Q": "off"}),
    ),
    constants=("V_I", "R", "R_1", "R_2", "V_REF", "V_BE", "h_FE"),
    preferred=("I_C", "V_O", "I_R"),
    report=(
        "V_O", "I_DIV", "I_R", "I_L", "R_L", "I_C", "I_B", "I_OA", "V_OA", "V_CE", "V_R", "P_Q", "P_R", "P_O", "P_I",
        "eta",
    ),
    typical={
        "V_I": 18.0, "R": 47.0, "R_1": 5.6e3, "R_2": 3.3e3, "V_REF": 4.7, "V_BE": 0.7, "h_FE": 80.0, "I_L": 0.05,
    },
    readings=("V_O", "V_I", "I_R", "I_L", "R_L", "I_C", "I_B"),
    composites=(
        Composite(
            "output",
            "The output that brings the tap to the reference",
            "V_O = V_REF*(1 + R_1/R_2)",
            ("regulating",),
            cost=0.8,
            why="The loop holds the tap at $V_REF$; the divider, which nothing loads, makes the output larger in the "
            "proportion of its resistors.",
        ),
        Composite(
            "upper",
            "Upper resistor that gives an output",
            "R_1 = R_2*(V_O - V_REF)/V_REF",
            ("regulating",),
            cost=1.0,
            why="One current flows through both resistors, so their voltages are in proportion.",
        ),
        Composite(
            "divider-current",
            "Ohm's law for the lower resistor, which has $V_REF$ across it",
            "I_DIV = V_REF/R_2",
            ("regulating",),
            cost=0.9,
            why="The loop holds the tap at $V_REF$, and the op-amp's input draws nothing.",
        ),
        Composite(
            "base-voltage",
            "The base stands one junction above ground",
            "V_OA = V_BE",
            ("regulating",),
            cost=0.5,
            why="The emitter is grounded, and the op-amp drives the base.",
        ),
        Composite(
            "feed",
            "Current law at the output node with Ohm's law for $R$",
            "I_C = (V_I - V_O)/R - I_L - I_DIV",
            ("regulating",),
            cost=1.1,
            why="Supply and output fix the current through $R$; the transistor takes what load and divider leave.",
        ),
        Composite(
            "series",
            "Ohm's law for $R$, which carries load, divider and collector current together",
            "R = (V_I - V_O)/(I_L + I_DIV + I_C)",
            ("regulating",),
            cost=1.2,
            why="$R$ carries all three currents and has the rest of the input voltage across it.",
        ),
    ),
    variants=(
        Variant("divider", "upper", words="$R_1$ from the output to the tap, $R_2$ from there to ground"),
        Variant(
            "divider", "lower", swaps=("R_1", "R_2"), title="$R_1$ taken as the lower resistor",
            words="$R_2$ from the output to the tap, $R_1$ from there to ground",
        ),
        Variant("divider-current", "exact", words="$I_DIV$ counted beside load and collector current"),
        Variant(
            "divider-current",
            "neglected",
            words="$I_DIV$ neglected beside load and collector current",
            removes=("kcl.out", "feed", "series"),
            adds=(
                ("feed", "All that the load leaves taken as collector current", "I_C = I_R - I_L"),
                ("series", "Ohm's law for $R$, the divider's current neglected", "R = (V_I - V_O)/(I_L + I_C)"),
            ),
            watches="I_C",
            title="$I_DIV$ neglected",
        ),
    ),
    ends={
        "V_I": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
        "R_L": ("the fullest load", "the lightest load"),
        "h_FE": ("the lowest gain", "the highest gain"),
        "V_REF": ("the lowest reference", "the highest reference"),
    },
    defaults={"V_BE": 0.7, "V_CE_SAT": 0.2},
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "V_O": ("V_REF", "R_1", "R_2"),
        "R_1": ("V_O", "V_REF", "R_2"),
        "I_C": ("V_I", "V_O", "R", "I_L", "V_REF", "R_2"),
        "R": ("V_I", "V_O", "I_L", "I_DIV", "I_C"),
        "P_Q": ("V_I", "V_O", "R", "I_L", "V_REF", "R_2"),
        "I_OA": ("V_I", "V_O", "R", "I_L", "V_REF", "R_2", "h_FE"),
    },
    drawing=DRAWING,
    shorted="off",
)  # fmt: skip
