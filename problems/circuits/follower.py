"""The emitter-follower series regulator: a zener holds the base, the transistor carries the load."""

from tutor.circuit.circuit import Composite, LoadModel, NodeWord, Region, Slope, Variant, circuit
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

DRAWING = Drawing(
    title="Zener reference with emitter follower",
    places=(
        Place("V_I", (0, 5), (0, 0), Side.LEFT),
        Place("R", (1.5, 5), (1.5, 2.5), Side.RIGHT, current="I_R", current_side=Side.LEFT),
        Place("Z", (1.5, 2.5), (1.5, 0), Side.RIGHT, current="I_Z", current_side=Side.LEFT),
        PlaceDevice("Q", (3.5, 4), Turn.QUARTER, Side.ABOVE),
        Place("L", (6, 5), (6, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 5), (2.5, 5))),
        Wire("base", ((1.5, 2.5), (3.5, 2.5), (3.5, 4))),
        Wire("out", ((4.5, 5), (7.5, 5))),
        Wire("gnd", ((0, 0), (7.5, 0))),
    ),
    grounds=(Ground((0.75, 0)),),
    marks=(
        Arrow("I_B", "base", (2.5, 2.5), Side.RIGHT, Side.ABOVE),
        NodeLabel("base", (3, 2.5), "V_B", Side.BELOW),
        Terminal("out", (7.5, 5)),
        Terminal("gnd", (7.5, 0)),
        Voltage("V_O", "out", (7.5, 5), "gnd", (7.5, 0)),
    ),
)

CIRCUIT = circuit(
    id="follower",
    title="Emitter-follower series regulator",
    stage=3,
    purpose="A zener holds the base of a transistor in series with the load; the transistor's voltage takes up the "
    "rest.",
    netlist="""
        V_I  source    in    gnd
        R    resistor  in    base
        Z    zener     base  gnd
        Q    npn       in    base  out
        L    load      out   gnd
    """,
    nodes={
        "in": NodeWord("V_I", "the input node"),
        "base": NodeWord("V_B", "the base node"),
        "out": NodeWord("V_O", "the output node"),
    },
    regions=(
        Region("regulating", "the zener is in breakdown and the transistor active", {"Z": "breakdown", "Q": "active"}),
        Region("starved", "the zener is off and the transistor follows its base", {"Z": "off", "Q": "active"}),
        Region("off", "zener and transistor are off", {"Z": "off", "Q": "off"}),
    ),
    constants=("V_I", "R", "V_Z0", "r_z", "I_ZT", "V_BE", "h_FE"),
    preferred=("I_Z", "I_B", "V_O", "V_B"),
    report=(
        "V_B",
        "V_O",
        "I_L",
        "R_L",
        "I_B",
        "I_C",
        "I_R",
        "I_Z",
        "V_CE",
        "P_Q",
        "P_R",
        "P_Z",
        "P_O",
        "P_I",
        "eta",
        "S_V",
        "R_OUT",
    ),
    typical={"V_I": 18.0, "R": 390.0, "V_Z0": 9.9, "r_z": 7.0, "I_ZT": 0.025, "V_BE": 0.7, "h_FE": 50.0, "I_L": 0.2},
    readings=("V_Z", "I_Z", "V_O", "V_B", "V_I", "I_R", "I_L", "R_L", "I_B", "I_C", "I_E"),
    composites=(
        Composite(
            "supply",
            "The supply feeds the zener and the load, and nothing else",
            "I_I = I_Z + I_L",
            why="The base current only changes its way: it leaves through the emitter with the rest.",
            cost=1.25,
        ),
        Composite(
            "output",
            "From the zener up to the base, one junction down to the output",
            "V_O = V_Z - V_BE",
            why="The zener holds the base; the conducting junction sits between base and output.",
            regions=("regulating",),
            cost=0.8,
        ),
        Composite(
            "base",
            "Base current from the load current",
            "I_B = I_L/(h_FE + 1)",
            why="The load current is the emitter current; the base brings one part of it in $h_FE + 1$.",
            regions=("regulating", "starved"),
            cost=0.9,
        ),
        Composite(
            "feed",
            "Current law at the base node with Ohm's law for $R$",
            "I_Z = (V_I - V_Z)/R - I_B",
            why="Supply and zener fix the current through $R$; the base takes its small share, the zener the rest.",
            regions=("regulating",),
        ),
        Composite(
            "series",
            "Ohm's law for $R$, which carries base and zener current together",
            "R = (V_I - V_Z)/(I_B + I_Z)",
            why="$R$ carries base and zener current together; the load comes through the transistor.",
            regions=("regulating",),
        ),
        Composite(
            "from-test-point",
            "The zener's line from its test point",
            "V_Z = V_ZT + r_z*(I_Z - I_ZT)",
            cost=1.0,
            why="Away from the test current the slope adds or takes away.",
        ),
        Composite(
            "two-readings",
            "Slope between two readings",
            "r_z = (V_Z_2 - V_Z_1)/(I_Z_2 - I_Z_1)",
            cost=1.2,
            why="The slope is the change of voltage over the change of current.",
        ),
    ),
    slopes=(
        Slope(
            "S_V",
            of="V_O",
            by="V_I",
            sign=1,
            title="Sensitivity to the line: that of the base, which the output follows",
            why="For changes the output moves with the base, and the base is a divider of $R$ and $r_z$.",
            written={
                LoadModel.SINK: "r_z/(R + r_z)",
                LoadModel.RESISTOR: "(r_z||((h_FE + 1)*R_L))/(R + (r_z||((h_FE + 1)*R_L)))",
            },
        ),
        Slope(
            "R_OUT",
            of="V_O",
            by="I_L",
            sign=-1,
            title="Output resistance: that of the base, divided by the current gain",
            why="A change of load current reaches the base divided by $h_FE + 1$; $V_BE$ is taken as fixed.",
            written={LoadModel.SINK: "(R||r_z)/(h_FE + 1)"},
        ),
    ),
    variants=(
        Variant("base-current", "exact", words="$I_B = I_L/(h_FE + 1)$"),
        Variant(
            "base-current",
            "load-over-h_FE",
            words="$I_B = I_L/h_FE$",
            removes=("base", "supply", "Q.emitter-gain", "Q.sum", "Q.gain"),
            adds=(
                ("base", "Base current, emitter current taken for collector current", "I_B = I_L/h_FE"),
                ("collector", "Collector current taken as the load current", "I_C = I_L"),
            ),
            watches="I_B",
            title="$h_FE$ written for $h_FE + 1$",
        ),
        Variant(
            "base-current",
            "neglected",
            words="neglected",
            removes=("base", "supply", "Q.emitter-gain", "Q.sum", "Q.gain"),
            adds=(
                ("base", "Base current neglected", "I_B = 0"),
                ("collector", "Collector current taken as the load current", "I_C = I_L"),
            ),
            watches="I_B",
            against="I_R",
            title="$I_B$ neglected",
        ),
    ),
    ends={
        "V_I": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
        "R_L": ("the fullest load", "the lightest load"),
        "h_FE": ("the lowest gain", "the highest gain"),
    },
    defaults={"V_BE": 0.7, "V_CE_SAT": 0.2},
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "V_O": ("V_Z", "V_BE"),
        "I_B": ("I_L", "h_FE"),
        "I_Z": ("V_I", "R", "V_Z", "I_L", "h_FE"),
        "R": ("V_I", "V_Z", "I_L", "h_FE", "I_Z"),
        "P_Q": ("V_I", "V_Z", "V_BE", "I_L", "h_FE"),
        "S_V": (),
        "R_OUT": (),
    },
    shorted="starved",
    drawing=DRAWING,
)
