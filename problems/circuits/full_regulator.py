"""The whole series regulator: zener reference, op-amp, Darlington pass pair, and a current limit inside the loop.

Suffixes: _1 the driver and _2 the output transistor of the pair, as in `darlington`; _3 the limiter, which in
`current-limit` has one pass transistor before it and so is _2 there. Divider, reference and amplifier are those of
`opamp-series`. The sense resistor lies before the divider, so the loop makes up for its drop. The amplifier is ideal,
but for its rail and for the most current that it can give, I_OAM; the limiter takes what of that the pair may not have.
An amplifier that cannot drive the pair even below the limit is no state of it here, nor is an overload at a line that
has brought the amplifier to its rail.
"""

from tutor.circuit.circuit import Composite, Edge, LoadModel, NodeWord, Region, Slope, Variant, circuit
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
    title="Series regulator with reference, op-amp, Darlington pair and current limit",
    places=(
        Place("V_I", (0, 12), (0, 0), Side.RIGHT),
        Place("R", (2.25, 12), (2.25, 5.5), Side.LEFT, current="I_R", current_side=Side.LEFT),
        Place("Z", (2.25, 2), (2.25, 0), Side.LEFT),
        PlaceDevice("U", (2.75, 5.5), Turn.NONE, Side.LEFT),
        PlaceDevice("Q_1", (4.75, 10), Turn.NONE, Side.RIGHT),
        PlaceDevice("Q_2", (6.25, 9), Turn.NONE, Side.RIGHT),
        Place("R_SENSE", (7.25, 8), (7.25, 6), Side.RIGHT),
        PlaceDevice("Q_3", (6.75, 7), Turn.NONE, Side.LEFT, mirrored=True),
        Place("R_1", (7.25, 6), (7.25, 2.5), Side.LEFT, current="I_DIV", current_side=Side.RIGHT),
        Place("R_2", (7.25, 2.5), (7.25, 0), Side.LEFT),
        Place("L", (9.4, 6), (9.4, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 12), (7.25, 12), (7.25, 10))),
        Wire("in", ((3.75, 6), (3.75, 12))),
        Wire("in", ((5.75, 11), (5.75, 12))),
        Wire("ref", ((2.25, 2), (2.25, 5.5), (2.75, 5.5))),
        Wire("drive", ((4.75, 5), (4.75, 10))),
        Wire("drive", ((4.75, 8), (5.75, 8))),
        Wire("middle", ((5.75, 9), (6.25, 9))),
        Wire("emitter", ((6.75, 7), (6.75, 8), (7.25, 8))),
        Wire("out", ((5.75, 6), (10.1, 6))),
        Wire("tap", ((2.75, 4.5), (2.75, 2.5), (7.25, 2.5))),
        Wire("gnd", ((0, 0), (10.1, 0))),
    ),
    grounds=(Ground((0.75, 0)),),
    marks=(
        Arrow("I_Z", "ref", (2.25, 3.5), Side.BELOW, Side.LEFT),
        NodeLabel("drive", (4.75, 7), "V_OA", Side.LEFT),
        Terminal("out", (10.1, 6)),
        Terminal("gnd", (10.1, 0)),
        Voltage("V_O", "out", (10.1, 6), "gnd", (10.1, 0)),
    ),
)

FED = ("regulating", "holding", "limiting", "dropout")  # the zener conducts
HELD = ("regulating", "holding")  # the amplifier is in command of the output
LIMITED = ("holding", "limiting")
FREE = ("regulating", "dropout", "starved")  # the limiter is off
PAIR = "(h_FE_1 + 1)*(h_FE_2 + 1)"

CIRCUIT = circuit(
    id="full-regulator",
    title="Series regulator with reference, op-amp, Darlington pair and current limit",
    stage=4,
    purpose="Every stage of the series regulator at work in one: a zener makes the reference, an op-amp compares a "
    "share of the output with it, a pair of transistors brings the current, and a limiter stops it when it is too "
    "much.",
    netlist="""
        V_I      source     in       gnd
        R        resistor   in       ref
        Z        zener      ref      gnd
        U        amplifier  ref      tap      drive    in  power=  most=I_OAM
        Q_1      npn        in       drive    middle
        Q_2      npn        in       middle   emitter
        R_SENSE  resistor   emitter  out      current=I_SENSE voltage=V_SENSE power=P_SENSE
        Q_3      npn        drive    emitter  out      power=
        R_1      resistor   out      tap      current=I_DIV voltage= power=
        R_2      resistor   tap      gnd      current=I_DIV voltage= power=
        L        load       out      gnd
    """,
    nodes={
        "in": NodeWord("V_I", "the input node"),
        "ref": NodeWord("V_REF", "the reference node"),
        "tap": NodeWord("V_TAP", "the divider's tap"),
        "drive": NodeWord("V_OA", "the output of the amplifier"),
        "middle": NodeWord("V_B_2", "the node between driver and output transistor"),
        "emitter": NodeWord("V_E", "the emitter of the output transistor"),
        "out": NodeWord("V_O", "the output node"),
    },
    regions=(
        Region(
            "regulating",
            "the amplifier holds the loop, both transistors of the pair are active and the limiter is off",
            {"Z": "breakdown", "U": "linear", "Q_1": "active", "Q_2": "active", "Q_3": "off"},
        ),
        Region(
            "holding",
            "the limiter conducts and the amplifier still holds the loop",
            {"Z": "breakdown", "U": "linear", "Q_1": "active", "Q_2": "active", "Q_3": "active"},
        ),
        Region(
            "limiting",
            "the limiter takes all that the amplifier has over, and the output falls",
            {"Z": "breakdown", "U": "spent", "Q_1": "active", "Q_2": "active", "Q_3": "active"},
        ),
        Region(
            "dropout",
            "the amplifier's output is at its upper rail and the limiter is off",
            {"Z": "breakdown", "U": "high", "Q_1": "active", "Q_2": "active", "Q_3": "off"},
        ),
        Region(
            "starved",
            "the zener is off and the amplifier's output at its upper rail",
            {"Z": "off", "U": "high", "Q_1": "active", "Q_2": "active", "Q_3": "off"},
        ),
    ),
    constants=(
        "V_I", "R", "V_Z0", "r_z", "I_ZT", "V_DROP", "I_OAM", "V_BE_1", "h_FE_1", "V_BE_2", "h_FE_2", "R_SENSE",
        "V_BE_3", "h_FE_3", "R_1", "R_2",
    ),
    preferred=("V_O", "I_Z", "I_C_3", "I_SENSE", "V_OA", "I_B_2"),
    report=(
        "I_LIM", "P_SC", "V_Z", "V_REF", "I_R", "I_Z", "V_TAP", "V_O", "I_L", "R_L", "I_DIV", "I_SENSE", "V_SENSE",
        "V_E", "V_B_2", "V_OA", "V_HEAD", "I_B_2", "I_B_1", "I_C_3", "I_OA", "V_CE_1", "V_CE_2", "I_C_1", "I_C_2",
        "P_Q_1", "P_Q_2", "P_SENSE", "P_Z", "P_R", "P_O", "P_I", "eta", "S_V",
    ),
    typical={
        "V_I": 20.0, "R": 2.2e3, "V_Z0": 4.9, "r_z": 25.0, "I_ZT": 0.005, "V_DROP": 2.0, "I_OAM": 0.02, "V_BE_1": 0.7,
        "h_FE_1": 80.0, "V_BE_2": 0.7, "h_FE_2": 40.0, "R_SENSE": 0.47, "V_BE_3": 0.65, "h_FE_3": 150.0, "R_1": 6.8e3,
        "R_2": 4.7e3, "I_L": 1.0, "V_RIP": 1.0,
    },
    readings=("V_O", "V_I", "I_L", "R_L", "I_OA"),
    edges=(
        Edge(
            "I_LIM",
            of="I_L",
            region="regulating",
            at=(
                (
                    "V_SENSE = V_BE_3",
                    "The limiter just begins to conduct",
                    "Up to its junction's voltage the limiter carries nothing; at that voltage the limit begins.",
                ),
            ),
            conventions={"divider-current": "neglected"},
        ),
        Edge(
            "P_SC",
            of="P_Q_2",
            region="limiting",
            at=(("V_O = 0", "The output is shorted", "A short leaves no voltage between output and ground."),),
            conventions={"divider-current": "neglected", "base-current": "load-over-h_FE"},
        ),
    ),
    composites=(
        Composite(
            "reference",
            "The zener's line behind $R$",
            "V_REF = (V_Z0*R + V_I*r_z)/(R + r_z)",
            FED,
            cost=1.2,
            why="Nothing but the zener is fed through $R$: the reference is the zener's line met by that of $R$.",
        ),
        Composite(
            "feed",
            "Ohm's law for $R$, which feeds the zener alone",
            "I_Z = (V_I - V_Z)/R",
            FED,
            cost=0.9,
            why="The amplifier's input draws nothing, so what $R$ brings is the zener's.",
        ),
        Composite(
            "from-test-point",
            "The zener's line from its test point",
            "V_Z = V_ZT + r_z*(I_Z - I_ZT)",
            cost=1.0,
            why="Away from the test current the slope adds or takes away.",
        ),
        Composite(
            "output",
            "The output that brings the tap to the reference",
            "V_O = V_REF*(1 + R_1/R_2)",
            HELD,
            cost=0.8,
            why="The loop holds the tap at $V_REF$; the divider, of which nothing is drawn, makes the output larger in "
            "the proportion of its resistors. Pair and sense resistor stand inside the loop and do not count.",
        ),
        Composite(
            "upper",
            "Upper resistor that gives an output",
            "R_1 = R_2*(V_O - V_REF)/V_REF",
            HELD,
            cost=1.0,
            why="One current flows through both resistors, so their voltages are in proportion.",
        ),
        Composite(
            "divider-current",
            "Ohm's law for the lower resistor, which has $V_REF$ across it",
            "I_DIV = V_REF/R_2",
            HELD,
            cost=0.9,
            why="The loop holds the tap at $V_REF$, and the amplifier's input draws nothing.",
        ),
        Composite(
            "divider-chain",
            "Ohm's law for the divider as a whole",
            "I_DIV = V_O/(R_1 + R_2)",
            cost=1.0,
            why="Nothing leaves the divider at its tap: it lies across the output as one resistor.",
        ),
        Composite(
            "tap-share",
            "Unloaded divider",
            "V_TAP = V_O*R_2/(R_1 + R_2)",
            cost=0.95,
            why="Nothing leaves the divider at its tap, so the tap has the lower resistor's share.",
        ),
        Composite(
            "limit",
            "Load current at which the limiter begins to conduct",
            "I_LIM = V_BE_3/R_SENSE",
            cost=0.9,
            why="The sense resistor stands across the limiter's junction; when its voltage reaches $V_BE_3$ the "
            "limiter opens.",
        ),
        Composite(
            "short-heat",
            "Heat of the output transistor with the output shorted, small currents neglected",
            "P_SC = (V_I - V_BE_3)*I_LIM",
            cost=1.0,
            why="Shorted, the output is at zero: but for the limiter's junction across the sense resistor the whole "
            "supply is left for the output transistor, and the limiter holds the current.",
        ),
        Composite(
            "clamp",
            "The limiter's junction fixes the voltage across the sense resistor",
            "I_SENSE = V_BE_3/R_SENSE",
            LIMITED,
            cost=0.8,
            why="Base and emitter of the limiter are the two ends of the sense resistor.",
        ),
        Composite(
            "amplifier-voltage",
            "The amplifier's output stands two junctions and the sense resistor's drop above the regulator's",
            "V_OA = V_O + V_SENSE + V_BE_1 + V_BE_2",
            cost=0.7,
            why="From the output back to the amplifier one passes the sense resistor and both junctions of the pair.",
        ),
        Composite(
            "left-over",
            "What supply, output and sense resistor leave the output transistor",
            "V_CE_2 = V_I - V_O - V_SENSE",
            cost=0.8,
            why="Between supply and output lie the output transistor and the sense resistor, and no more.",
        ),
        Composite(
            "sensed",
            "The sense resistor carries load and divider current",
            "I_SENSE = I_L + I_DIV",
            FREE,
            cost=0.85,
            why="A limiter that is off brings nothing to the output: all that load and divider take comes through the "
            "sense resistor.",
        ),
        Composite(
            "pass-base",
            "Base current of the output transistor from what the sense resistor carries",
            "I_B_2 = I_SENSE/(h_FE_2 + 1)",
            FREE,
            cost=0.9,
            why="Its emitter current goes through the sense resistor; its base brings one part of it in "
            "$h_FE_2 + 1$.",
        ),
        Composite(
            "driver-base",
            "Base current of the driver from that of the output transistor",
            "I_B_1 = I_B_2/(h_FE_1 + 1)",
            cost=0.9,
            why="What the driver's emitter gives is the base current of the output transistor.",
        ),
        Composite(
            "pair",
            "Both gains work in turn",
            f"I_OA = I_SENSE/({PAIR})",
            FREE,
            cost=1.1,
            why="Each transistor divides the current that it is asked for by its own gain and one; the limiter takes "
            "nothing.",
        ),
        Composite(
            "taken",
            "What the limiter takes of the drive",
            "I_C_3 = I_OAM - I_B_1",
            ("limiting",),
            cost=0.9,
            why="The amplifier gives all it has; the limiter takes what the pair may not have.",
        ),
        Composite(
            "supply",
            "The supply feeds load, divider and zener",
            "I_I = I_L + I_DIV + I_R",
            cost=1.25,
            why="What amplifier and pair bring comes from the supply like the rest, and leaves by the output.",
        ),
    ),
    slopes=(
        Slope(
            "S_V",
            of="V_O",
            by="V_I",
            sign=1,
            title="Sensitivity to the line: what reaches the reference, made larger as the reference is",
            why="The amplifier itself sees no line; the zener's slope lets a share of it into the reference.",
            written={load: "r_z/(R + r_z)*(1 + R_1/R_2)" for load in LoadModel},
        ),
    ),
    variants=(
        Variant("divider", "upper", words="$R_1$ from the output to the tap, $R_2$ from there to ground"),
        Variant(
            "divider", "lower", swaps=("R_1", "R_2"), title="$R_1$ taken as the lower resistor",
            words="$R_2$ from the output to the tap, $R_1$ from there to ground",
        ),
        Variant("base-current", "exact", words="$I_OA = I_SENSE/((h_FE_1 + 1)*(h_FE_2 + 1))$ while the limiter is off"),
        Variant(
            "base-current",
            "load-over-h_FE",
            words="$I_B_2 = I_SENSE/h_FE_2$, $I_B_1 = I_B_2/h_FE_1$ and $I_C_2 = I_SENSE$",
            removes=(
                "pass-base", "driver-base", "pair", "supply", "kcl.middle", "kcl.emitter", "Q_1.emitter-gain",
                "Q_1.sum", "Q_1.gain", "Q_2.emitter-gain", "Q_2.sum", "Q_2.gain",
            ),
            adds=(
                ("pass-base", "Collector current of the output transistor taken for the sense resistor's",
                 "I_B_2 = I_SENSE/h_FE_2"),
                ("driver-base", "Emitter current of the driver taken for its collector's", "I_B_1 = I_B_2/h_FE_1"),
                ("collector", "Collector current taken as that in the sense resistor", "I_C_2 = I_SENSE"),
                ("driver-collector", "Collector current of the driver taken as its emitter's", "I_C_1 = I_B_2"),
            ),
            watches="I_B_1",
            title="$h_FE$ written for $h_FE + 1$ in both transistors",
        ),
        Variant("divider-current", "exact", words="$I_DIV$ counted beside the load current"),
        Variant(
            "divider-current",
            "neglected",
            words="$I_DIV$ neglected beside the load current",
            removes=("kcl.out", "sensed", "supply"),
            adds=(
                ("kcl.out", "Current law at the output, the divider's current neglected", "I_SENSE + I_E_3 = I_L"),
                ("sensed", "The sense resistor's current taken for the load's", "I_SENSE = I_L"),
            ),
            reasons={
                "kcl.out": "The divider takes next to nothing beside the load.",
                "sensed": "All of the load current comes through the sense resistor, and beside it the divider's, "
                "which is next to nothing.",
            },
            regions={"sensed": FREE},
            watches="I_SENSE",
            title="the divider's current neglected beside the load's",
        ),
    ),
    ends={
        "V_I": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
        "R_L": ("the fullest load", "the lightest load"),
        "h_FE_1": ("the driver's lowest gain", "the driver's highest gain"),
        "h_FE_2": ("the output transistor's lowest gain", "the output transistor's highest gain"),
        "V_BE_3": ("the hottest limiter", "the coldest limiter"),
    },
    defaults={"V_DROP": 2.0, "I_OAM": 0.02, "V_BE_1": 0.7, "V_BE_2": 0.7, "V_BE_3": 0.7, "V_CE_SAT": 0.2},
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "V_O": ("V_REF", "R_1", "R_2"),
        "I_LIM": ("V_BE_3", "R_SENSE"),
        "P_SC": ("V_I", "V_BE_3", "R_SENSE"),
        "V_OA": ("V_REF", "R_1", "R_2", "I_L", "R_SENSE", "V_BE_1", "V_BE_2"),
        "I_OA": ("I_L", "V_REF", "R_2", "h_FE_1", "h_FE_2"),
        "P_Q_2": ("V_I", "V_O", "I_L", "I_DIV", "R_SENSE", "h_FE_2"),
        "S_V": (),
    },
    shorted="limiting",
    drawing=DRAWING,
)  # fmt: skip
