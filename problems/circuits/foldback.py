"""The follower with foldback: the limiter's base stands on a divider, so that the limit falls with the output.

The zener is taken as straight. The divider's current comes from the pass transistor and does not cross the sense
resistor; the limiter's base current counts wherever it conducts. A resistance crosses the characteristic once. A load
that holds its current may cross it twice, regulating and on the way down; the second crossing does not last, and both
are told. A supply below a junction is no state of it here.
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
    title="Emitter follower with foldback current limiting",
    places=(
        Place("V_I", (0, 7), (0, 0), Side.LEFT),
        Place("R", (1.5, 7), (1.5, 4), Side.RIGHT, current="I_R", current_side=Side.LEFT),
        Place("Z", (1.5, 4), (1.5, 0), Side.RIGHT, current="I_Z", current_side=Side.LEFT),
        PlaceDevice("Q_1", (3.5, 6), Turn.QUARTER, Side.ABOVE),
        Place("R_SENSE", (4.75, 7), (6.25, 7), Side.ABOVE),
        Place("R_A", (4.75, 7), (4.75, 5), Side.RIGHT),
        Place("R_B", (5.625, 2.5), (5.625, 0), Side.LEFT),
        PlaceDevice("Q_2", (4.75, 4), Turn.QUARTER, Side.BELOW, mirrored=True),
        Place("L", (6.75, 3), (6.75, 0), Side.RIGHT, current="I_L", current_side=Side.RIGHT),
    ),
    wires=(
        Wire("in", ((0, 7), (2.5, 7))),
        Wire("base", ((1.5, 4), (3.5, 4), (3.5, 6))),
        Wire("base", ((3.75, 3), (3.5, 3), (3.5, 4))),
        Wire("emitter", ((4.5, 7), (4.75, 7))),
        Wire("tap", ((4.75, 5), (4.75, 4))),
        Wire("tap", ((4.75, 4.75), (5.625, 4.75), (5.625, 2.5))),
        Wire("out", ((5.75, 3), (6.75, 3), (6.75, 7))),
        Wire("out", ((6.25, 7), (8.25, 7))),
        Wire("gnd", ((0, 0), (8.25, 0))),
    ),
    grounds=(Ground((0.75, 0)),),
    marks=(
        Terminal("out", (8.25, 7)),
        Terminal("gnd", (8.25, 0)),
        Voltage("V_O", "out", (8.25, 7), "gnd", (8.25, 0)),
    ),
)

HELD = ("regulating", "holding")
LIMITED = ("holding", "limiting")

CIRCUIT = circuit(
    id="foldback",
    title="Series regulator with foldback",
    stage=3,
    purpose="A divider takes a share of the output off the limiter's junction: the lower the output, the smaller the "
    "current at which it limits, so that a short circuit heats the pass transistor less.",
    netlist="""
        V_I      source    in       gnd
        R        resistor  in       base
        Z        zener     base     gnd  slope= intercept= test_voltage= test_current=
        Q_1      npn       in       base     emitter
        R_SENSE  resistor  emitter  out  current=I_SENSE voltage=V_SENSE power=P_SENSE
        R_A      resistor  emitter  tap  current=I_DIV voltage= power=
        R_B      resistor  tap      gnd  current=I_LOWER voltage= power=
        Q_2      npn       base     tap      out  power=
        L        load      out      gnd
    """,
    nodes={
        "in": NodeWord("V_I", "the input node"),
        "base": NodeWord("V_B", "the base node"),
        "emitter": NodeWord("V_E", "the emitter of the pass transistor"),
        "tap": NodeWord("V_TAP", "the divider's tap"),
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
            further="This is the turning point of a load that holds its current: with less output it takes more than "
            "the limit lets through and the output collapses, so that the regulator may not start into it (latch-up)",
        ),
    ),
    constants=("V_I", "R", "V_Z", "V_BE_1", "h_FE_1", "R_SENSE", "R_A", "R_B", "V_BE_2", "h_FE_2"),
    preferred=("I_Z", "I_C_2", "V_O", "I_SENSE", "V_B"),
    report=(
        "V_KNEE", "I_KNEE", "I_SC", "V_B", "V_E", "V_TAP", "V_O", "I_L", "R_L", "I_SENSE", "V_SENSE", "I_DIV",
        "I_LOWER", "I_B_1", "I_R", "I_C_2", "I_Z", "V_CE_1", "P_Q_1", "P_SENSE", "P_R", "P_Z", "P_O", "P_I", "eta",
        "R_OUT",
    ),
    typical={
        "V_I": 20.0, "R": 390.0, "V_Z": 12.0, "V_BE_1": 0.7, "h_FE_1": 60.0, "R_SENSE": 3.0, "R_A": 100.0,
        "R_B": 1000.0, "V_BE_2": 0.65, "h_FE_2": 150.0, "I_L": 0.3,
    },
    readings=("V_O", "V_E", "V_I", "I_R", "I_L", "R_L", "I_SENSE", "V_SENSE", "V_TAP", "I_DIV", "I_LOWER"),
    edges=(
        Edge(
            "I_KNEE",
            of="I_L",
            region="regulating",
            at=(
                (
                    "V_TAP - V_O = V_BE_2",
                    "The limiter just begins to conduct",
                    "Up to its junction's voltage the limiter carries nothing; at that voltage the limit begins.",
                ),
                ("V_O = V_KNEE", "The output at the knee", "The output there has a letter of its own."),
            ),
        ),
        Edge(
            "I_SC",
            of="I_L",
            region="limiting",
            at=(("V_O = 0", "The output is shorted", "A short leaves no voltage between output and ground."),),
            conventions={"limiter-current": "neglected"},
        ),
    ),
    composites=(
        Composite(
            "knee-output",
            "Output at the knee, where the tap has just come up to a junction above it",
            "V_KNEE = (V_Z - V_BE_1)*R_B/(R_A + R_B) - V_BE_2",
            cost=1.0,
            why="At the knee the zener still holds the base and the limiter carries nothing: the tap is a share of the "
            "emitter's voltage, the output one junction below the tap.",
        ),
        Composite(
            "knee",
            "Load current at the knee",
            "I_KNEE = (V_BE_2*(1 + R_A/R_B) + V_KNEE*R_A/R_B)/R_SENSE",
            cost=0.9,
            why="The sense resistor must bring the limiter's junction and, beside it, what the divider takes off.",
        ),
        Composite(
            "knee-drop",
            "At the knee the output has lost the drop in the sense resistor",
            "V_KNEE = V_Z - V_BE_1 - I_KNEE*R_SENSE",
            cost=1.1,
            why="The zener still holds the base; junction and sense resistor lie in series below it.",
        ),
        Composite(
            "short",
            "Output current into a short circuit, the limiter's own currents neglected",
            "I_SC = V_BE_2*(1 + R_A/R_B)/R_SENSE",
            cost=0.9,
            why="With no output the divider has only the limiter's junction to give back.",
        ),
        Composite(
            "sense-from-both",
            "Sense resistor from knee and short circuit",
            "R_SENSE = V_BE_2/(I_SC - V_BE_2*(I_KNEE - I_SC)/V_KNEE)",
            cost=1.0,
            why="From short circuit to knee the output adds its share in the divider; what is left of the current into "
            "a short belongs to the limiter's junction alone.",
        ),
        Composite(
            "divider",
            "Upper resistor of the divider from the knee",
            "R_A = R_B*(I_KNEE*R_SENSE - V_BE_2)/(V_KNEE + V_BE_2)",
            cost=1.0,
            why="At the knee the upper resistor has what the sense resistor brings beyond the limiter's junction, the "
            "lower one the output and the junction.",
        ),
        Composite(
            "limit-line",
            "How the limit follows the output",
            "I_SENSE = (V_BE_2*(1 + R_A/R_B) + V_O*R_A/R_B + I_B_2*R_A)/R_SENSE",
            LIMITED,
            cost=0.9,
            why="The tap stands one junction above the output, and the divider asks for more above the tap the higher "
            "that is.",
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
            "left-over",
            "What supply, output and sense resistor leave the pass transistor",
            "V_CE_1 = V_I - V_O - I_SENSE*R_SENSE",
            cost=0.8,
            why="Between supply and output lie the pass transistor and the sense resistor, with the sense resistor's "
            "current through both.",
        ),
        Composite(
            "limiter-base",
            "The limiter's base current from the output: what $R$ brings, less what the pass transistor needs",
            "I_B_2 = ((V_I - V_BE_1 - (V_O + V_BE_2)*(1 + R_A/R_B))/R"
            " - ((V_BE_2*(1 + R_A/R_B) + V_O*R_A/R_B)/R_SENSE + (V_O + V_BE_2)/R_B)/(h_FE_1 + 1))"
            "/(h_FE_2 + R_A/R + (1 + R_A/R_SENSE)/(h_FE_1 + 1))",
            ("limiting",),
            cost=1.6,
            why="The output fixes tap, emitter and base but for the limiter's small base current in $R_A$; the current "
            "law at the base then has that current alone.",
        ),
        Composite(
            "tap",
            "The tap stands one junction above the output",
            "V_TAP = V_O + V_BE_2",
            LIMITED,
            cost=0.5,
            why="The limiter's base is on the tap and its emitter on the output.",
        ),
        Composite(
            "tap-free",
            "Unloaded divider",
            "V_TAP = V_E*R_B/(R_A + R_B)",
            ("regulating", "starved"),
            cost=0.9,
            why="A limiter that is off takes nothing from the tap.",
        ),
        Composite(
            "base",
            "Base current from the currents of load and divider",
            "I_B_1 = (I_L + I_DIV)/(h_FE_1 + 1)",
            ("regulating", "starved"),
            cost=0.9,
            why="Load and divider take the emitter current; the base brings one part of it in $h_FE_1 + 1$.",
        ),
        Composite(
            "starved-emitter",
            "The emitter as the tap of a divider, all below it seen through the gain",
            "V_E = (V_I - V_BE_1)*(h_FE_1 + 1)*((R_SENSE + R_L)||(R_A + R_B))"
            "/(R + (h_FE_1 + 1)*((R_SENSE + R_L)||(R_A + R_B)))",
            ("starved",),
            cost=1.4,
            why="From the base every resistance at the emitter looks $h_FE_1 + 1$ times as large.",
            loads=(LoadModel.RESISTOR,),
        ),
        Composite(
            "starved-emitter-current",
            "The emitter as the tap of a divider from which the load is drawn",
            "V_E = ((V_I - V_BE_1)*(h_FE_1 + 1) - R*I_L)*(R_A + R_B)/(R + (h_FE_1 + 1)*(R_A + R_B))",
            ("starved",),
            cost=1.4,
            why="From the base the divider looks $h_FE_1 + 1$ times as large, and the load current that much smaller.",
            loads=(LoadModel.SINK,),
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
            words="$I_B_1 = (I_SENSE + I_DIV)/h_FE_1$",
            removes=("base", "kcl.emitter", "Q_1.emitter-gain", "Q_1.sum", "Q_1.gain"),
            adds=(
                ("base", "Base current, the emitter's taken for the collector's", "I_B_1 = (I_SENSE + I_DIV)/h_FE_1"),
                ("collector", "Collector current taken as the emitter's", "I_C_1 = I_SENSE + I_DIV"),
            ),
            watches="I_B_1",
            title="$h_FE_1$ written for $h_FE_1 + 1$",
        ),
        Variant(
            "base-current",
            "neglected",
            words="$I_C_1 = I_SENSE$, base and divider current neglected",
            removes=("base", "kcl.emitter", "Q_1.emitter-gain", "Q_1.sum", "Q_1.gain"),
            adds=(
                ("base", "Base current neglected", "I_B_1 = 0"),
                ("collector", "Collector current taken as that in the sense resistor", "I_C_1 = I_SENSE"),
            ),
            watches="I_B_1",
            against="I_R",
            title="$I_B_1$ neglected",
        ),
        Variant("limiter-current", "exact", words="the limiter's own base and emitter currents counted"),
        Variant(
            "limiter-current",
            "neglected",
            words="$I_L = I_SENSE$ and $I_LOWER = I_DIV$, the limiter's own currents neglected",
            removes=("kcl.out", "kcl.tap", "limit-line", "limiter-base"),
            adds=(
                ("kcl.out", "Load current taken as that in the sense resistor", "I_L = I_SENSE"),
                ("kcl.tap", "One current through both resistors of the divider", "I_LOWER = I_DIV"),
                (
                    "limit-line",
                    "How the limit follows the output",
                    "I_SENSE = (V_BE_2*(1 + R_A/R_B) + V_O*R_A/R_B)/R_SENSE",
                ),
            ),
            reasons={
                "limit-line": "The tap stands one junction above the output, and the divider asks for more above the "
                "tap the higher that is.",
            },
            regions={"limit-line": LIMITED},
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
        "V_O": ("the output shorted", "the full output"),
    },
    defaults={"V_BE_1": 0.7, "V_BE_2": 0.7, "V_CE_SAT": 0.2},
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "I_KNEE": ("V_BE_2", "V_KNEE", "R_A", "R_B", "R_SENSE"),
        "I_SC": ("V_BE_2", "R_A", "R_B", "R_SENSE"),
        "V_O": ("V_Z", "V_BE_1", "I_L", "R_SENSE"),
        "I_B_1": ("I_L", "V_Z", "V_BE_1", "R_A", "R_B", "h_FE_1"),
        "I_Z": ("V_I", "R", "V_Z", "V_BE_1", "I_L", "R_A", "R_B", "h_FE_1"),
        "P_Q_1": ("V_I", "V_Z", "V_BE_1", "I_L", "R_A", "R_B", "h_FE_1"),
        "P_SENSE": ("I_L", "R_SENSE"),
        "R_OUT": (),
    },
    shorted="limiting",
    drawing=DRAWING,
)  # fmt: skip
