"""The adjustable shunt reference: a divider sets the output, the reference takes whatever current the load leaves."""

from tutor.circuit.circuit import Composite, NodeWord, Region, Variant, circuit
from tutor.circuit.placement import (
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
    title="Adjustable shunt reference",
    places=(
        Place("V_I", (0, 5.5), (0, 0), Side.LEFT),
        Place("R", (0, 5.5), (2.5, 5.5), Side.ABOVE, current="I_R", current_side=Side.BELOW),
        Place("R_1", (2.5, 5.5), (2.5, 2.75), Side.LEFT, current="I_DIV", current_side=Side.LEFT),
        Place("R_2", (2.5, 2.75), (2.5, 0), Side.LEFT),
        PlaceDevice("U", (3.25, 2.75), Turn.NONE, Side.RIGHT),
        Place("L", (5.75, 5.5), (5.75, 0), Side.RIGHT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("out", ((2.5, 5.5), (8.25, 5.5))),
        Wire("out", ((4.25, 5.5), (4.25, 3.75))),
        Wire("tap", ((2.5, 2.75), (3.25, 2.75))),
        Wire("gnd", ((4.25, 1.75), (4.25, 0))),
        Wire("gnd", ((0, 0), (8.25, 0))),
    ),
    grounds=(Ground((1.25, 0)),),
    marks=(
        Terminal("out", (8.25, 5.5)),
        Terminal("gnd", (8.25, 0)),
        Voltage("V_O", "out", (8.25, 5.5), "gnd", (8.25, 0)),
    ),
)

CIRCUIT = circuit(
    id="reference-shunt",
    title="Adjustable shunt reference",
    stage=2,
    purpose="A three-terminal shunt reference compares a divider's tap with its own reference voltage and takes just "
    "enough current to hold the output where the divider says.",
    netlist="""
        V_I  source           in   gnd
        R    resistor         in   out
        R_1  resistor         out  tap  current=I_DIV voltage= power=
        R_2  resistor         tap  gnd  current=I_LOWER voltage= power=
        U    shunt-reference  out  tap  gnd
        L    load             out  gnd
    """,
    nodes={
        "in": NodeWord("V_I", "the input node"),
        "tap": NodeWord("V_TAP", "the divider's tap"),
        "out": NodeWord("V_O", "the output node"),
    },
    regions=(
        Region("regulating", "the reference regulates", {"U": "regulating"}),
        Region("off", "the reference is off", {"U": "off"}),
    ),
    constants=("V_I", "R", "R_1", "R_2", "V_REF", "I_REF"),
    preferred=("I_K", "V_O", "I_R"),
    report=(
        "V_O", "I_DIV", "I_LOWER", "I_R", "I_L", "R_L", "I_K", "V_R", "P_D", "P_R", "P_O", "P_I", "eta",
    ),
    typical={"V_I": 15.0, "R": 220.0, "R_1": 10e3, "R_2": 10e3, "V_REF": 2.495, "I_REF": 2e-6, "I_L": 0.042},
    readings=("V_O", "V_I", "I_R", "I_L", "R_L", "I_K"),
    composites=(
        Composite(
            "output",
            "The output that holds the pin at the reference voltage",
            "V_O = V_REF*(1 + R_1/R_2) + I_REF*R_1",
            ("regulating",),
            cost=0.8,
            why="$V_REF$ stands across $R_2$; its current and the pin's flow through $R_1$ and put the rest of the "
            "output across it.",
        ),
        Composite(
            "upper",
            "Upper resistor that gives an output",
            "R_1 = (V_O - V_REF)/(V_REF/R_2 + I_REF)",
            ("regulating",),
            cost=1.0,
            why="$R_1$ has the output less $V_REF$ across it and carries what flows in $R_2$ and into the pin.",
        ),
        Composite(
            "divider-current",
            "Ohm's law for $R_1$, whose lower end is held at $V_REF$",
            "I_DIV = (V_O - V_REF)/R_1",
            ("regulating",),
            cost=0.9,
            why="The reference holds the tap at $V_REF$, and the rest of the output stands across $R_1$.",
        ),
        Composite(
            "lower-current",
            "Ohm's law for $R_2$, which has $V_REF$ across it",
            "I_LOWER = V_REF/R_2",
            ("regulating",),
            cost=0.9,
            why="The reference holds the tap at $V_REF$.",
        ),
        Composite(
            "feed",
            "Current law at the output node with Ohm's law for $R$",
            "I_K = (V_I - V_O)/R - I_L - I_DIV",
            ("regulating",),
            cost=1.1,
            why="Supply and output fix the current through $R$; the reference has what load and divider leave of it.",
        ),
        Composite(
            "series",
            "Ohm's law for $R$, which carries load, divider and cathode current together",
            "R = (V_I - V_O)/(I_L + I_DIV + I_K)",
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
        Variant("reference-current", "exact", words="$V_O = V_REF*(1 + R_1/R_2) + I_REF*R_1$"),
        Variant(
            "reference-current",
            "neglected",
            words="$V_O = V_REF*(1 + R_1/R_2)$, the pin's current neglected",
            removes=("output", "upper", "lower-current", "kcl.tap"),
            adds=(
                ("output", "The divider turned about, pin current neglected", "V_O = V_REF*(1 + R_1/R_2)"),
                ("upper", "Upper resistor that gives an output", "R_1 = R_2*(V_O - V_REF)/V_REF"),
                ("kcl.tap", "One current through both resistors of the divider", "I_LOWER = I_DIV"),
            ),
            watches="V_O",
            title="$I_REF$ neglected",
        ),
    ),
    ends={
        "V_I": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
        "R_L": ("the fullest load", "the lightest load"),
        "V_REF": ("the lowest reference", "the highest reference"),
    },
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "V_O": ("V_REF", "R_1", "R_2", "I_REF"),
        "R_1": ("V_O", "V_REF", "R_2", "I_REF"),
        "I_K": ("V_I", "V_O", "R", "I_L", "V_REF", "R_1"),
        "R": ("V_I", "V_O", "I_L", "I_DIV", "I_K"),
        "P_D": ("V_I", "V_O", "R", "I_L", "V_REF", "R_1"),
    },
    drawing=DRAWING,
    shorted="off",
)  # fmt: skip
