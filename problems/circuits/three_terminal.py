"""The three-terminal regulator: adjustable, fixed, raised, with a transistor around it, as a current source."""

from tutor.circuit.circuit import Circuit, Composite, NodeWord, Region, Variant, circuit
from tutor.circuit.placement import Arrow, Drawing, Ground, Place, PlaceDevice, Side, Terminal, Turn, Voltage, Wire


def ports(right: float, up: float) -> tuple[Terminal | Voltage, ...]:
    """The output's two terminals at the right end of the drawing, and the voltage between them."""
    return (
        Terminal("out", (right, up)),
        Terminal("gnd", (right, 0)),
        Voltage("V_O", "out", (right, up), "gnd", (right, 0)),
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
    marks=ports(8.25, 5.5),
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
    marks=ports(7.25, 4),
)

BOOSTED_DRAWING = Drawing(
    title="Fixed three-terminal regulator with a pass transistor around it",
    places=(
        Place("V_I", (0, 5), (0, 0), Side.LEFT),
        Place("R_BE", (0.75, 5), (2.75, 5), Side.BELOW),
        PlaceDevice("Q", (2.75, 6.5), Turn.THREE_QUARTERS, Side.ABOVE, mirrored=True),
        PlaceDevice("U", (4.5, 5), Turn.NONE, Side.ABOVE),
        Place("L", (7.25, 5), (7.25, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 5), (0.75, 5), (0.75, 7.5), (1.75, 7.5))),
        Wire("base", ((2.75, 6.5), (2.75, 5), (3.25, 5))),
        Wire("out", ((3.75, 7.5), (6.5, 7.5), (6.5, 5))),
        Wire("out", ((5.75, 5), (8.25, 5))),
        Wire("gnd", ((4.5, 3.75), (4.5, 0))),
        Wire("gnd", ((0, 0), (8.25, 0))),
    ),
    grounds=(Ground((1.25, 0)),),
    marks=(
        Arrow("I_C", "out", (5.25, 7.5), Side.RIGHT, Side.ABOVE),
        Arrow("I_B", "base", (2.75, 5.75), Side.BELOW, Side.RIGHT),
        Arrow("I_REG", "out", (6.1, 5), Side.RIGHT, Side.BELOW),
        *ports(8.25, 5),
    ),
)

SOURCING = Drawing(
    title="Three-terminal regulator as a current source",
    places=(
        Place("V_I", (0, 6), (0, 0), Side.LEFT),
        PlaceDevice("U", (2.25, 6), Turn.NONE, Side.ABOVE),
        Place("R", (4.5, 6), (4.5, 3.25), Side.RIGHT, current="I_REG", current_side=Side.LEFT),
        Place("R_L", (6.25, 3.25), (6.25, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 6), (1, 6))),
        Wire("reg", ((3.5, 6), (4.5, 6))),
        Wire("out", ((2.25, 4.75), (2.25, 3.25), (7.5, 3.25))),
        Wire("gnd", ((0, 0), (7.5, 0))),
    ),
    grounds=(Ground((1.25, 0)),),
    marks=ports(7.5, 3.25),
)

REGIONS = (
    Region("regulating", "the regulator regulates", {"U": "regulating"}),
    Region("dropout", "the regulator has dropped out", {"U": "dropout"}),
)
ENDS = {
    "V_REG": ("the lowest output of the type", "the highest output of the type"),
    "I_Q": ("the least current of the pin", "the greatest current of the pin"),
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
    held = ("regulating",)
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
        report=("V_O", "I_DIV", "I_LOWER", "V_TAP", "I_L", "R_L", "I_REG", "I_I", "V_IO", "P_D", "P_O", "P_I", "eta"),
        typical=typical,
        readings=("V_O", "V_I", "I_L", "R_L"),
        composites=(
            Composite(
                "output", "Output set by the two resistors", f"V_O = {voltage}*(1 + R_2/R_1) + {pin}*R_2",
                ("regulating",), cost=0.8,
                why=f"${voltage}$ stands across $R_1$; its current and that of the third pin flow through $R_2$ and "
                "put the rest of the output across it.",
            ),
            Composite(
                "lower", "Lower resistor that gives an output", f"R_2 = (V_O - {voltage})/({voltage}/R_1 + {pin})",
                ("regulating",), cost=1.0,
                why="$R_2$ has the rest of the output across it and carries what flows in $R_1$ and out of the pin.",
            ),
            Composite(
                "divider-current", f"Ohm's law for $R_1$, which has ${voltage}$ across it", f"I_DIV = {voltage}/R_1",
                ("regulating",), cost=0.9,
                why="The regulator holds this voltage between its output and its third pin.",
            ),
            Composite("lower-current", "What flows down the lower resistor", f"I_LOWER = {voltage}/R_1 + {pin}",
                      ("regulating",), cost=1.0, why="The current of $R_1$ and that of the third pin meet there."),
            Composite("error-reference", "The reference's share of the output's error",
                      f"E_REF = tol_REF*{voltage}*(1 + R_2/R_1)", held,
                      why="The output is the reference many times over, and so is its error."),
            Composite("error-upper", "The upper resistor's share", f"E_UPPER = tol_R*{voltage}*R_2/R_1", held,
                      why="It sets the current that flows on, and with it what stands across the lower resistor."),
            Composite("error-lower", "The lower resistor's share", f"E_LOWER = tol_R*(V_O - {voltage})", held,
                      why="It moves what stands across itself; the reference stays."),
            Composite("error-worst", "The worst case", "E_WC = E_REF + E_UPPER + E_LOWER", held,
                      why="Each part is taken where it harms: one resistor up, the other down, for alike they cancel."),
            Composite("error-tolerance", "What the reference leaves to the two resistors",
                      f"tol_R = (E_WC - E_REF)/({voltage}*R_2/R_1 + V_O - {voltage})", held,
                      why="Both have the same tolerance, and each moves nearly the same part of the output."),
            Composite("error-likely", "Root-sum-square", "E_RSS = sqrt(E_REF^2 + E_UPPER^2 + E_LOWER^2)", held,
                      why="Errors that know nothing of each other seldom meet at their ends."),
            Composite("supply", "The supply feeds the load and the lower resistor", "I_I = I_L + I_LOWER", cost=1.25,
                      why="All that comes in goes to ground by one of these two."),
            Composite(
                "heat", "Power in the regulator", f"P_D = (V_I - V_O)*I_REG + (V_I - V_O + {voltage})*{pin}",
                ("regulating",), cost=0.9,
                why=f"Its output current falls from input to output, the pin's by ${voltage}$ further, to the pin.",
            ),
        ),
        variants=(
            Variant("pin-current", "exact", words=f"${pin}$ counted"),
            Variant(
                "pin-current",
                "neglected",
                words=f"$V_O = {voltage}*(1 + R_2/R_1)$, the current ${pin}$ neglected in $R_2$",
                removes=("output", "lower", "lower-current", "supply", "kcl.adjust"),
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
            "heat", "Power in the regulator", "P_D = (V_I - V_O)*I_L + V_I*I_Q", cost=0.9,
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
)  # fmt: skip

BOOSTED = circuit(
    id="three-terminal",
    form="boosted",
    title="Fixed three-terminal regulator with an external pass transistor",
    stage=3,
    purpose="A resistor before the regulator turns a transistor on as soon as the regulator's own current puts a "
    "junction's voltage across it; from there on the transistor carries nearly all that the load wants more.",
    netlist="""
        V_I   source          in    gnd
        R_BE  resistor        in    base  current=I_RBE voltage= power=
        Q     pnp             out   base  in
        U     three-terminal  base  gnd   out  input=I_RI
        L     load            out   gnd
    """,
    nodes={"in": IN, "base": NodeWord("V_RI", "the regulator's input"), "out": OUT},
    regions=(
        Region("sharing", "the regulator regulates and the transistor helps", {"U": "regulating", "Q": "active"}),
        Region("alone", "the regulator regulates and the transistor is off", {"U": "regulating", "Q": "off"}),
        Region("dropout", "the regulator has dropped out, the transistor active", {"U": "dropout", "Q": "active"}),
        Region("dropout-alone", "the regulator has dropped out, the transistor off", {"U": "dropout", "Q": "off"}),
    ),
    constants=("V_I", "V_REG", "I_Q", "V_DROP", "R_BE", "V_BE", "h_FE"),
    preferred=("V_O", "I_RBE", "I_REG"),
    report=(
        "V_O", "I_L", "R_L", "I_REG", "I_RI", "I_RBE", "I_B", "I_C", "I_E", "I_I", "V_RI", "V_IO", "V_CE", "P_D",
        "P_Q", "P_O", "P_I", "eta",
    ),
    typical={
        "V_I": 12.0, "V_REG": 5.0, "I_Q": 5e-3, "V_DROP": 2.0, "R_BE": 3.3, "V_BE": 0.7, "h_FE": 40.0, "I_L": 3.0,
    },
    readings=("V_O", "V_I", "I_L", "R_L"),
    composites=(
        Composite(
            "resistor", "What the resistor takes beside the junction", "I_RBE = V_BE/R_BE",
            ("sharing", "dropout"), cost=0.7,
            why="A conducting junction holds its voltage, and the resistor lies across it.",
        ),
        Composite(
            "share", "What is left to the regulator", "I_REG = (I_L + h_FE*(I_RBE - I_Q))/(h_FE + 1)",
            ("sharing", "dropout"), cost=0.8,
            why="What enters the regulator beyond $I_RBE$ is base current, and $h_FE$ times as much goes round it; "
            "both ways together are the load's current.",
        ),
        Composite("supply", "The supply feeds the load and the regulator itself", "I_I = I_L + I_Q", cost=1.25,
                  why="All that comes in goes to ground by one of these two."),
        Composite(
            "headroom", "What is left across the regulator", "V_IO = V_I - V_BE - V_O", ("sharing", "dropout"),
            cost=0.9, why="From the supply down to the output one passes the junction first and then the regulator.",
        ),
        Composite(
            "pass-heat", "Power in the pass transistor", "P_Q = (V_I - V_O)*I_C", cost=0.9,
            why="It lies from supply to output, around the regulator, and its collector current falls through all of "
            "that.",
        ),
    ),
    ends={**ENDS, "h_FE": ("the lowest gain", "the highest gain"),
          "V_BE": ("the lowest junction voltage", "the highest junction voltage")},
    defaults={"V_DROP": 2.0, "V_BE": 0.7, "V_CE_SAT": 0.2},
    root_preference=SUPPLY,
    derivation={
        "V_O": ("V_REG",), "I_RBE": ("V_I", "V_BE", "R_BE"), "I_REG": ("V_I", "I_L", "h_FE", "V_BE", "R_BE", "I_Q"),
        "P_Q": ("V_I", "V_REG", "I_C"),
    },
    drawing=BOOSTED_DRAWING,
)  # fmt: skip
SOURCE = circuit(
    id="three-terminal",
    form="current-source",
    title="Three-terminal regulator as a current source",
    stage=3,
    purpose="With the load below the adjust pin, the reference across one resistor sets a current, whatever the load's "
    "voltage is.",
    netlist="""
        V_I  source          in   gnd
        U    three-terminal  in   out  reg  voltage=V_REF pin=I_ADJ
        R    resistor        reg  out  current=I_REG
        R_L  resistor        out  gnd  current=I_L voltage= power=
    """,
    nodes={"in": IN, "reg": NodeWord("V_RO", "the regulator's output"), "out": OUT},
    regions=REGIONS,
    constants=("V_I", "V_REF", "I_ADJ", "V_DROP", "R", "R_L"),
    preferred=("I_REG", "I_L", "V_O"),
    report=("I_REG", "I_L", "R_L", "V_O", "V_RO", "V_R", "V_IO", "I_I", "P_R", "P_D", "P_O", "P_I"),
    typical={"V_I": 15.0, "V_REF": 1.25, "I_ADJ": 50e-6, "V_DROP": 2.0, "R": 12.0, "R_L": 47.0},
    composites=(
        Composite(
            "resistor", "Ohm's law for $R$, which has $V_REF$ across it", "I_REG = V_REF/R", ("regulating",), cost=0.7,
            why="The regulator holds this voltage between its output and its adjust pin.",
        ),
        Composite(
            "set", "The current that is set", "I_L = V_REF/R + I_ADJ", ("regulating",), cost=0.8,
            why="What $R$ carries and what the adjust pin gives meet at the load.",
        ),
        Composite("choice", "The resistor that sets a current", "R = V_REF/(I_L - I_ADJ)", ("regulating",), cost=0.9,
                  why="$R$ carries the load's current less what the adjust pin gives."),
        Composite("supply", "The supply feeds the load alone", "I_I = I_L", cost=1.25,
                  why="Whatever comes in leaves through the load, by way of $R$ or of the adjust pin."),
        Composite(
            "headroom", "What is left across the regulator", "V_IO = V_I - V_REF - V_O", ("regulating",), cost=0.9,
            why="From the supply down one passes the regulator, the reference across $R$, and the load.",
        ),
        Composite(
            "heat", "Power in the regulator", "P_D = (V_I - V_O - V_REF)*I_REG + (V_I - V_O)*I_ADJ", ("regulating",),
            cost=0.9, why="Its output current falls from input to output, that of the pin from input to load.",
        ),
        Composite("heat-of-R", "Power in $R$", "P_R = V_REF^2/R", ("regulating",), cost=0.8,
                  why="The reference stands across it."),
        Composite("load-power", "Power delivered to the load", "P_O = V_O*I_L", cost=1.0,
                  why="The load has the output voltage across it and the set current through it."),
    ),
    variants=(
        Variant("pin-current", "exact", words="$I_ADJ$ counted"),
        Variant(
            "pin-current",
            "neglected",
            words="$I_L = V_REF/R$, the current $I_ADJ$ neglected",
            removes=("set", "choice", "supply", "kcl.out"),
            adds=(
                ("set", "The current that is set, pin current neglected", "I_L = V_REF/R"),
                ("kcl.out", "One current through resistor and load", "I_L = I_REG"),
            ),
            watches="I_L",
            title="$I_ADJ$ neglected",
        ),
    ),
    ends={**ENDS, "V_O": ("the least load voltage", "the greatest load voltage")},
    defaults={"V_DROP": 2.0, "V_REF": 1.25, "I_ADJ": 50e-6},
    derivation={"I_L": ("V_O", "V_REF", "R", "I_ADJ"), "R": ("V_O", "I_L", "V_REF", "I_ADJ")},
    drawing=SOURCING,
)  # fmt: skip

FORMS = (ADJUSTABLE, PLAIN, RAISED, BOOSTED, SOURCE)
