"""The follower with a current limit: a second transistor takes the base drive away once a sense resistor opens it.

The zener is taken as straight. While the limiter begins to take drive the zener still holds the base; only when nothing
is left for the zener does the output fall. A supply below a junction is no state of it here.
"""

from tutor.circuit.circuit import Composite, Edge, LoadModel, NodeWord, Region, Slope, Variant, circuit
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
    title="Emitter follower with a constant current limit",
    places=(
        Place("V_I", (0, 6.5), (0, 0), Side.LEFT),
        Place("R", (1.5, 6.5), (1.5, 3.5), Side.RIGHT, current="I_R", current_side=Side.LEFT),
        Place("Z", (1.5, 3.5), (1.5, 0), Side.RIGHT, current="I_Z", current_side=Side.LEFT),
        PlaceDevice("Q_1", (3.5, 5.5), Turn.QUARTER, Side.ABOVE),
        Place("R_SENSE", (4.75, 6.5), (6, 6.5), Side.ABOVE),
        PlaceDevice("Q_2", (4.75, 5.5), Turn.QUARTER, Side.BELOW, mirrored=True),
        Place("L", (7, 6.5), (7, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 6.5), (2.5, 6.5))),
        Wire("base", ((1.5, 3.5), (3.5, 3.5), (3.5, 5.5))),
        Wire("base", ((3.75, 4.5), (3.5, 4.5))),
        Wire("emitter", ((4.5, 6.5), (4.75, 6.5), (4.75, 5.5))),
        Wire("out", ((5.75, 4.5), (6, 4.5), (6, 6.5))),
        Wire("out", ((6, 6.5), (8.25, 6.5))),
        Wire("gnd", ((0, 0), (8.25, 0))),
    ),
    grounds=(Ground((0.75, 0)),),
    marks=(
        Terminal("out", (8.25, 6.5)),
        Terminal("gnd", (8.25, 0)),
        Voltage("V_O", "out", (8.25, 6.5), "gnd", (8.25, 0)),
    ),
)

HELD = ("regulating", "holding")
LIMITED = ("holding", "limiting")

CIRCUIT = circuit(
    id="current-limit",
    title="Series regulator with a current limit",
    stage=3,
    purpose="The load current flows through a sense resistor; once its voltage opens a second transistor, that one "
    "takes the base drive away and the output current can hardly grow.",
    netlist="""
        V_I      source    in       gnd
        R        resistor  in       base
        Z        zener     base     gnd  slope= intercept= test_voltage= test_current=
        Q_1      npn       in       base     emitter
        R_SENSE  resistor  emitter  out  current=I_SENSE voltage=V_SENSE power=P_SENSE
        Q_2      npn       base     emitter  out  power=
        L        load      out      gnd
    """,
    nodes={
        "in": NodeWord("V_I", "the input node"),
        "base": NodeWord("V_B", "the base node"),
        "emitter": NodeWord("V_E", "the emitter of the pass transistor"),
        "out": NodeWord("V_O", "the output node"),
    },
    regions=(
        Region(
            "regulating",
            "the zener is in breakdown, the pass transistor active and the limiter off",
            {"Z": "breakdown", "Q_1": "active", "Q_2": "off"},
        ),
        Region(
            "holding",
            "the limiter conducts and the zener still holds the base",
            {"Z": "breakdown", "Q_1": "active", "Q_2": "active"},
        ),
        Region(
            "starved",
            "the zener and the limiter are off and the pass transistor follows its base",
            {"Z": "off", "Q_1": "active", "Q_2": "off"},
        ),
        Region(
            "limiting",
            "the limiter has taken all that the zener had, and the output falls",
            {"Z": "off", "Q_1": "active", "Q_2": "active"},
        ),
    ),
    constants=("V_I", "R", "V_Z", "V_BE_1", "h_FE_1", "R_SENSE", "V_BE_2", "h_FE_2"),
    preferred=("I_Z", "I_C_2", "V_O", "I_SENSE", "V_B"),
    report=(
        "I_LIM", "V_B", "V_E", "V_O", "I_L", "R_L", "I_SENSE", "V_SENSE", "I_B_1", "I_R", "I_C_2", "I_Z", "V_CE_1",
        "P_Q_1", "P_SENSE", "P_R", "P_Z", "P_O", "P_I", "eta", "R_OUT",
    ),
    typical={
        "V_I": 20.0, "R": 390.0, "V_Z": 12.0, "V_BE_1": 0.7, "h_FE_1": 60.0, "R_SENSE": 1.2, "V_BE_2": 0.65,
        "h_FE_2": 150.0, "I_L": 0.3,
    },
    readings=("V_O", "V_E", "V_I", "I_R", "I_L", "R_L", "I_SENSE", "V_SENSE"),
    edges=(
        Edge(
            "I_LIM",
            of="I_L",
            region="regulating",
            at=(
                (
                    "V_SENSE = V_BE_2",
                    "The limiter just begins to conduct",
                    "Up to its junction's voltage the limiter carries nothing; at that voltage the limit begins.",
                ),
            ),
        ),
    ),
    composites=(
        Composite(
            "limit",
            "Load current at which the limiter begins to conduct",
            "I_LIM = V_BE_2/R_SENSE",
            cost=0.9,
            why="The sense resistor stands across the limiter's junction; when its voltage reaches $V_BE_2$ the "
            "limiter opens.",
        ),
        Composite(
            "clamp",
            "The limiter's junction fixes the voltage across the sense resistor",
            "I_SENSE = V_BE_2/R_SENSE",
            LIMITED,
            cost=0.8,
            why="Base and emitter of the limiter are the two ends of the sense resistor.",
        ),
        Composite(
            "output",
            "From the zener one junction down, and less the drop in the sense resistor",
            "V_O = V_Z - V_BE_1 - I_SENSE*R_SENSE",
            HELD,
            cost=0.8,
            why="The zener holds the base; junction and sense resistor lie in series between base and output.",
        ),
        Composite(
            "held-output",
            "From the zener two junctions down",
            "V_O = V_Z - V_BE_1 - V_BE_2",
            ("holding",),
            cost=0.7,
            why="The sense resistor has the limiter's junction across it.",
        ),
        Composite(
            "base-limited",
            "The base stands two junctions above the output",
            "V_B = V_O + V_BE_1 + V_BE_2",
            LIMITED,
            cost=0.9,
            why="Pass transistor and limiter each put a junction between base and output.",
        ),
        Composite(
            "sense",
            "The sense resistor has the limiter's junction across it",
            "V_SENSE = V_BE_2",
            LIMITED,
            cost=0.7,
            why="Its two ends are base and emitter of the limiter, which conducts.",
        ),
        Composite(
            "left-over",
            "What supply and output leave the pass transistor",
            "V_CE_1 = V_I - V_O - V_BE_2",
            LIMITED,
            cost=0.8,
            why="Between supply and output lie the pass transistor and the sense resistor, and that one keeps a "
            "junction's voltage.",
        ),
        Composite(
            "base",
            "Base current from the load current",
            "I_B_1 = I_L/(h_FE_1 + 1)",
            ("regulating", "starved"),
            cost=0.9,
            why="The load current is the emitter current; the base brings one part of it in $h_FE_1 + 1$.",
        ),
        Composite(
            "feed",
            "Current law at the base node with Ohm's law for $R$",
            "I_Z = (V_I - V_Z)/R - I_B_1",
            ("regulating",),
            why="Supply and zener fix the current through $R$; the base takes its small share, the zener the rest.",
        ),
        Composite(
            "taken",
            "What the limiter takes of the drive",
            "I_C_2 = (V_I - V_B)/R - I_B_1",
            ("limiting",),
            why="$R$ brings the drive; the limiter takes what the pass transistor may not have.",
        ),
        Composite(
            "series",
            "Ohm's law for $R$, which carries base and zener current together",
            "R = (V_I - V_Z)/(I_B_1 + I_Z)",
            ("regulating",),
            why="$R$ carries base and zener current together; the load comes through the transistor.",
        ),
    ),
    slopes=(
        Slope(
            "R_OUT",
            of="V_O",
            by="I_L",
            sign=-1,
            title="Output resistance below the limit: the sense resistor",
            why="The zener holds the base and $V_BE_1$ is taken as fixed, so the sense resistor alone stands before "
            "the output.",
            written={LoadModel.SINK: "R_SENSE"},
        ),
    ),
    variants=(
        Variant("base-current", "exact", words="$I_B_1 = I_E_1/(h_FE_1 + 1)$"),
        Variant(
            "base-current",
            "load-over-h_FE",
            words="$I_B_1 = I_SENSE/h_FE_1$",
            removes=("base", "kcl.emitter", "Q_1.emitter-gain", "Q_1.sum", "Q_1.gain"),
            adds=(
                ("base", "Base current, emitter current taken for collector current", "I_B_1 = I_SENSE/h_FE_1"),
                ("collector", "Collector current taken as that in the sense resistor", "I_C_1 = I_SENSE"),
            ),
            watches="I_B_1",
            title="$h_FE_1$ written for $h_FE_1 + 1$",
        ),
        Variant(
            "base-current",
            "neglected",
            words="$I_C_1 = I_SENSE$, the base current $I_B_1$ neglected",
            removes=("base", "kcl.emitter", "Q_1.emitter-gain", "Q_1.sum", "Q_1.gain"),
            adds=(
                ("base", "Base current neglected", "I_B_1 = 0"),
                ("collector", "Collector current taken as that in the sense resistor", "I_C_1 = I_SENSE"),
            ),
            watches="I_B_1",
            against="I_R",
            title="$I_B_1$ neglected",
        ),
        Variant("limiter-current", "exact", words="the limiter's own emitter current counted into the load current"),
        Variant(
            "limiter-current",
            "neglected",
            words="$I_L = I_SENSE$, the limiter's own current neglected",
            removes=("kcl.out",),
            adds=(("kcl.out", "Load current taken as that in the sense resistor", "I_L = I_SENSE"),),
            watches="I_L",
            title="the limiter's own current neglected beside the load's",
        ),
    ),
    ends={
        "V_I": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
        "R_L": ("the fullest load", "the lightest load"),
        "h_FE_1": ("the lowest gain", "the highest gain"),
        "V_BE_2": ("the hottest limiter", "the coldest limiter"),
    },
    defaults={"V_BE_1": 0.7, "V_BE_2": 0.7, "V_CE_SAT": 0.2},
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "I_LIM": ("V_BE_2", "R_SENSE"),
        "V_O": ("V_Z", "V_BE_1", "I_L", "R_SENSE"),
        "I_B_1": ("I_L", "h_FE_1"),
        "I_Z": ("V_I", "R", "V_Z", "I_L", "h_FE_1"),
        "P_Q_1": ("V_I", "V_Z", "V_BE_1", "I_L", "h_FE_1"),
        "P_SENSE": ("I_L", "R_SENSE"),
        "R_OUT": (),
    },
    shorted="limiting",
    drawing=DRAWING,
)  # fmt: skip
