"""The three-terminal regulator: adjustable with its two resistors, fixed, and fixed but raised by two resistors."""

from tutor.circuit.circuit import Circuit, Composite, NodeWord, Region, Variant, circuit
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

DIVIDED = Drawing(
    title="Three-terminal regulator with two resistors",
    places=(
        Place("V_I", (0, 5.5), (0, 0), Side.LEFT),
        PlaceDevice("U", (2.25, 5.5), Turn.NONE, Side.ABOVE),
        Place("R_1", (4.5, 5.5), (4.5, 3), Side.LEFT, current="I_DIV", current_side=Side.RIGHT),
        Place("R_2", (4.5, 3), (4.5, 0), Side.RIGHT),
        Place("L", (7, 5.5), (7, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 5.5), (1, 5.5))),
        Wire("out", ((3.5, 5.5), (8.25, 5.5))),
        Wire("adjust", ((2.25, 4.25), (2.25, 3), (4.5, 3))),
        Wire("gnd", ((0, 0), (8.25, 0))),
    ),
    grounds=(Ground((1.25, 0)),),
    marks=(
        Terminal("out", (8.25, 5.5)),
        Terminal("gnd", (8.25, 0)),
        Voltage("V_O", "out", (8.25, 5.5), "gnd", (8.25, 0)),
    ),
)

FIXED = Drawing(
    title="Three-terminal regulator of fixed output",
    places=(
        Place("V_I", (0, 4), (0, 0), Side.LEFT),
        PlaceDevice("U", (2.5, 4), Turn.NONE, Side.ABOVE),
        Place("L", (5.5, 4), (5.5, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 4), (1.25, 4))),
        Wire("out", ((3.75, 4), (7.25, 4))),
        Wire("gnd", ((2.5, 2.75), (2.5, 0))),
        Wire("gnd", ((0, 0), (7.25, 0))),
    ),
    grounds=(Ground((1.25, 0)),),
    marks=(
        Terminal("out", (7.25, 4)),
        Terminal("gnd", (7.25, 0)),
        Voltage("V_O", "out", (7.25, 4), "gnd", (7.25, 0)),
    ),
)

REGIONS = (
    Region("regulating", "the regulator regulates", {"U": "regulating"}),
    Region("dropout", "the regulator has dropped out", {"U": "dropout"}),
)
ENDS = {
    "V_I": ("the lowest line", "the highest line"),
    "I_L": ("the lightest load", "the fullest load"),
    "R_L": ("the fullest load", "the lightest load"),
    "V_REF": ("the lowest reference", "the highest reference"),
}
OUT = NodeWord("V_O", "the output node")
IN = NodeWord("V_I", "the input node")
SUPPLY = ("P_I", False, "a regulator is built to take the smaller power from its supply")


def divided(form: str, title: str, purpose: str, voltage: str, pin: str, typical: dict[str, float]) -> Circuit:
    """A regulator whose third pin stands on two resistors; `voltage` and `pin` are its letters."""
    return circuit(
        id="three-terminal",
        form=form,
        title=title,
        stage=3,
        purpose=purpose,
        netlist=f"""
            V_I  source          in      gnd
            U    three-terminal  in      adjust  out  voltage={voltage} pin={pin}
            R_1  resistor        out     adjust  current=I_DIV voltage= power=
            R_2  resistor        adjust  gnd     current=I_LOWER voltage= power=
            L    load            out     gnd
        """,
        nodes={"in": IN, "adjust": NodeWord("V_TAP", "the node of the third pin"), "out": OUT},
        regions=REGIONS,
        constants=("V_I", voltage, pin, "V_DROP", "R_1", "R_2"),
        preferred=("V_O", "I_DIV", "I_REG"),
        report=(
            "V_O", "I_DIV", "I_LOWER", "V_TAP", "I_L", "R_L", "I_REG", "I_I", "V_IO", "P_D", "P_O", "P_I", "eta",
        ),
        typical=typical,
        readings=("V_O", "V_I", "I_L", "R_L"),
        composites=(
            Composite(
                "output",
                "Output set by the two resistors",
                f"V_O = {voltage}*(1 + R_2/R_1) + {pin}*R_2",
                ("regulating",),
                cost=0.8,
                why=f"${voltage}$ stands across $R_1$; its current and that of the third pin flow through $R_2$ and "
                "put the rest of the output across it.",
            ),
            Composite(
                "lower",
                "Lower resistor that gives an output",
                f"R_2 = (V_O - {voltage})/({voltage}/R_1 + {pin})",
                ("regulating",),
                cost=1.0,
                why="$R_2$ has the rest of the output across it and carries what flows in $R_1$ and out of the pin.",
            ),
            Composite(
                "divider-current",
                f"Ohm's law for $R_1$, which has ${voltage}$ across it",
                f"I_DIV = {voltage}/R_1",
                ("regulating",),
                cost=0.9,
                why="The regulator holds this voltage between its output and its third pin.",
            ),
            Composite(
                "lower-current",
                "What flows down the lower resistor",
                f"I_LOWER = {voltage}/R_1 + {pin}",
                ("regulating",),
                cost=1.0,
                why="The current of $R_1$ and that of the third pin meet there.",
            ),
            Composite(
                "heat",
                "Power in the regulator",
                f"P_D = (V_I - V_O)*I_REG + (V_I - V_O + {voltage})*{pin}",
                ("regulating",),
                cost=0.9,
                why=f"Its output current falls from input to output, the pin's by ${voltage}$ further, to the pin.",
            ),
        ),
        variants=(
            Variant("pin-current", "exact", words=f"$V_O = {voltage}*(1 + R_2/R_1) + {pin}*R_2$"),
            Variant(
                "pin-current",
                "neglected",
                words=f"$V_O = {voltage}*(1 + R_2/R_1)$, the current ${pin}$ neglected in $R_2$",
                removes=("output", "lower", "lower-current", "kcl.adjust"),
                adds=(
                    ("output", "Output set by the two resistors, pin current neglected",
                     f"V_O = {voltage}*(1 + R_2/R_1)"),
                    ("lower", "Lower resistor that gives an output", f"R_2 = R_1*(V_O - {voltage})/{voltage}"),
                    ("kcl.adjust", "One current through both resistors", "I_LOWER = I_DIV"),
                ),
                watches="V_O",
                title=f"${pin}$ neglected",
            ),
        ),
        ends=ENDS,
        defaults={"V_DROP": 2.0} | ({"V_REF": 1.25, "I_ADJ": 50e-6} if voltage == "V_REF" else {}),
        root_preference=SUPPLY,
        derivation={
            "V_O": (voltage, "R_1", "R_2", pin),
            "R_2": ("V_O", voltage, "R_1", pin),
            "P_D": ("V_I", voltage, "R_1", "R_2", pin, "I_L"),
        },
        drawing=DIVIDED,
    )  # fmt: skip


ADJUSTABLE = divided(
    "adjustable",
    "Adjustable three-terminal regulator",
    "A regulator with a small reference between output and adjust pin: two resistors make any output of it, and what "
    "flows in them is the least load it needs.",
    "V_REF",
    "I_ADJ",
    {"V_I": 18.0, "V_REF": 1.25, "I_ADJ": 50e-6, "V_DROP": 2.0, "R_1": 240.0, "R_2": 2e3, "I_L": 0.5},
)
RAISED = divided(
    "raised",
    "Fixed three-terminal regulator, its output raised",
    "Two resistors lift the ground pin of a fixed regulator, and its output with it; the pin's current counts.",
    "V_REG",
    "I_Q",
    {"V_I": 15.0, "V_REG": 5.0, "I_Q": 4.2e-3, "V_DROP": 2.0, "R_1": 200.0, "R_2": 82.0, "I_L": 0.3},
)
PLAIN = circuit(
    id="three-terminal",
    form="fixed",
    title="Fixed three-terminal regulator",
    stage=3,
    purpose="Reference, amplifier, pass transistor and protection in one part of three pins.",
    netlist="""
        V_I  source          in   gnd
        U    three-terminal  in   gnd  out  current=I_L
        L    load            out  gnd
    """,
    nodes={"in": IN, "out": OUT},
    regions=REGIONS,
    constants=("V_I", "V_REG", "I_Q", "V_DROP"),
    preferred=("V_O", "I_L"),
    report=("V_O", "I_L", "R_L", "I_I", "V_IO", "P_D", "P_O", "P_I", "eta"),
    typical={"V_I": 9.0, "V_REG": 5.0, "I_Q": 5e-3, "V_DROP": 2.0, "I_L": 0.5},
    readings=("V_O", "V_I", "I_L", "R_L"),
    composites=(
        Composite(
            "heat",
            "Power in the regulator",
            "P_D = (V_I - V_O)*I_L + V_I*I_Q",
            cost=0.9,
            why="The load's current falls through what the output leaves of the input, the pin's through all of it.",
        ),
    ),
    variants=(
        Variant("pin-current", "exact", words="$I_I = I_L + I_Q$"),
        Variant(
            "pin-current",
            "neglected",
            words="$I_I = I_L$, the current $I_Q$ neglected",
            removes=("U.sum", "U.power", "heat"),
            adds=(
                ("U.sum", "The load's current taken as the supply's", "I_I = I_L"),
                ("heat", "Power in the regulator, pin current neglected", "P_D = (V_I - V_O)*I_L"),
            ),
            watches="I_I",
            title="$I_Q$ neglected",
        ),
    ),
    ends=ENDS,
    defaults={"V_DROP": 2.0},
    root_preference=SUPPLY,
    derivation={"V_O": ("V_REG",), "P_D": ("V_I", "V_REG", "I_L", "I_Q"), "eta": ("V_I", "V_REG", "I_L", "I_Q")},
    drawing=FIXED,
)

FORMS = (ADJUSTABLE, PLAIN, RAISED)
