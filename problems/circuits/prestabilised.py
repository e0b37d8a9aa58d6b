"""A follower whose reference is prepared by a stage before it: a first zener, or an adjustable shunt reference.

With zeners the first stage feeds the second one's resistor alone: the pass transistor's collector stands at the raw
supply, so that the load's current does not come through R_P. What the line does to the output is then divided twice.
The second stage takes little from the first one when a change comes by, and its share of that is neglected on request;
so is what zeners that are told by a test point make of each other's currents, which is put in once, afterwards.
"""

from dataclasses import replace

from tutor.circuit.circuit import Composite, LoadModel, NodeWord, Region, Slope, Variant, circuit
from tutor.circuit.placement import (
    Arrow,
    Drawing,
    Ground,
    Lead,
    NodeLabel,
    Place,
    PlaceDevice,
    Side,
    Terminal,
    Turn,
    Voltage,
    Wire,
)

ZENER_DRAWING = Drawing(
    title="Follower with a prestabilised reference",
    places=(
        Place("V_I", (0, 8.5), (0, 0), Side.RIGHT),
        Place("R_P", (2.5, 8.5), (2.5, 5.5), Side.RIGHT, current="I_R_P", current_side=Side.LEFT),
        Place("Z_P", (2.5, 5.5), (2.5, 0), Side.RIGHT, current="I_Z_P", current_side=Side.RIGHT),
        Place("R", (2.5, 5.5), (5, 5.5), Side.ABOVE, current="I_R", lead=Lead.END, current_side=Side.BELOW),
        Place("Z", (5, 5.5), (5, 0), Side.RIGHT, current="I_Z", current_side=Side.LEFT),
        PlaceDevice("Q", (6, 7.5), Turn.QUARTER, Side.ABOVE),
        Place("L", (8.25, 8.5), (8.25, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 8.5), (5, 8.5))), Wire("base", ((5, 5.5), (6, 5.5), (6, 7.5))),
        Wire("out", ((7, 8.5), (9.5, 8.5))), Wire("gnd", ((0, 0), (9.5, 0))),
    ),
    grounds=(Ground((1, 0)),),
    marks=(
        NodeLabel("pre", (2.5, 5.5), "V_O_P", Side.LEFT),
        Arrow("I_B", "base", (5.6, 5.5), Side.RIGHT, Side.ABOVE),
        NodeLabel("base", (6, 5.5), "V_B", Side.RIGHT),
        Terminal("out", (9.5, 8.5)), Terminal("gnd", (9.5, 0)),
        Voltage("V_O", "out", (9.5, 8.5), "gnd", (9.5, 0)),
    ),
)
REFERENCE_DRAWING = Drawing(
    title="Follower behind an adjustable shunt reference",
    places=(
        Place("V_I", (0, 8), (0, 5.5), Side.RIGHT),
        Place("R", (2.75, 8), (2.75, 5.5), Side.RIGHT, current="I_R", current_side=Side.RIGHT),
        Place("R_1", (2.75, 5.5), (2.75, 2.75), Side.LEFT, current="I_DIV", current_side=Side.LEFT),
        Place("R_2", (2.75, 2.75), (2.75, 0), Side.LEFT),
        PlaceDevice("U", (3.25, 2.75), Turn.NONE, Side.RIGHT),
        PlaceDevice("Q", (5.75, 7), Turn.QUARTER, Side.ABOVE),
        Place("L", (8, 8), (8, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("in", ((0, 8), (4.75, 8))), Wire("base", ((2.75, 5.5), (5.75, 5.5), (5.75, 7))),
        Wire("base", ((4.25, 5.5), (4.25, 3.75))), Wire("tap", ((2.75, 2.75), (3.25, 2.75))),
        Wire("gnd", ((4.25, 1.75), (4.25, 0))), Wire("out", ((6.75, 8), (9.5, 8))),
        Wire("gnd", ((0, 5.5), (0, 0), (9.5, 0))),
    ),
    grounds=(Ground((1, 0)),),
    marks=(
        Arrow("I_K", "base", (4.25, 4.6), Side.BELOW, Side.RIGHT),
        Arrow("I_B", "base", (4.9, 5.5), Side.RIGHT, Side.ABOVE),
        NodeLabel("base", (5.75, 5.5), "V_B", Side.RIGHT),
        Terminal("out", (9.5, 8)), Terminal("gnd", (9.5, 0)),
        Voltage("V_O", "out", (9.5, 8), "gnd", (9.5, 0)),
    ),
)

ENDS = {
    "V_I": ("the lowest line", "the highest line"),
    "I_L": ("the lightest load", "the fullest load"),
    "R_L": ("the fullest load", "the lightest load"),
    "h_FE": ("the lowest gain", "the highest gain"),
}
REGULATING = ("regulating",)
BASE = Composite(
    "base", "Base current from the load current", "I_B = I_L/(h_FE + 1)", cost=0.9,
    why="The load current is the emitter current; the base brings one part of it in $h_FE + 1$.",
)
NODES = {"in": NodeWord("V_I", "the input node"), "base": NodeWord("V_B", "the base node"),
         "out": NodeWord("V_O", "the output node")}
HELD = ("regulating", "first-starved")  # regions in which the second zener holds the base
EXACT_BASE = Variant("base-current", "exact", words="$I_B = I_L/(h_FE + 1)$")
ROUGH_BASE = Variant(
    "base-current", "load-over-h_FE", words="$I_B = I_L/h_FE$", watches="I_B", title="$h_FE$ written for $h_FE + 1$",
    removes=("base", "supply", "Q.emitter-gain", "Q.sum", "Q.gain"),
    adds=(
        ("base", "Base current, emitter current taken for collector current", "I_B = I_L/h_FE"),
        ("collector", "Collector current taken as the load current", "I_C = I_L"),
    ),
)
LOADED = "r_z_P||(R + r_z)"  # what the first stage's node shows to a change, the second stage beside its zener
STARVED = ("first-starved", "second-starved", "starved")
FIRST = "(V_I*r_z_P + V_Z0_P*R_P)/(R_P + r_z_P)"  # where the first stage alone would stand
SHOWN = "((h_FE + 1)*R_L)"  # a load that is a resistance, as the base shows it
SEEN = f"(r_z||{SHOWN})"  # the base node with a load that is a resistance
BESIDE = f"r_z_P||(R + {SEEN})"
COEFFICIENTS = {"alpha_Z": 0.0006, "k_BE": -0.002, "DT": 30.0}

STAGES = tuple(
    Composite(name, title, formula, REGULATING, cost, why)
    for name, cost, title, formula, why in (
        ("between", 0.8, "Ohm's law for $R$, which lies between the two zeners", "I_R = (V_Z_P - V_Z)/R",
         "A zener holds each of its ends: what it carries depends on neither line nor load."),
        ("second-feed", 1.1, "Current law at the base node", "I_Z = (V_Z_P - V_Z)/R - I_B",
         "The two zeners fix the current through $R$; the base takes its small share, the second zener the rest."),
        ("second-series", 1.0, "Ohm's law for $R$, which carries base and zener current together",
         "R = (V_Z_P - V_Z)/(I_B + I_Z)",
         "$R$ carries what base and second zener take; the load comes through the transistor."),
        ("first-feed", 0.9, "Current law at the first stage's output with Ohm's law for $R_P$",
         "I_Z_P = (V_I - V_Z_P)/R_P - I_R",
         "Line and first zener fix the current through $R_P$; the second stage takes its own, the zener the rest."),
        ("first-series", 0.9, "Ohm's law for $R_P$, which carries the first zener's current and the second stage's",
         "R_P = (V_I - V_Z_P)/(I_R + I_Z_P)",
         "All that the second stage draws is $I_R$, and $R_P$ brings it together with the first zener's current."),
        ("seen-from-second", 1.0, "Seen from the second stage: the first one as a source behind $R_P||r_z_P$",
         f"I_R = ({FIRST} - V_Z0 + r_z*I_B)/(R + (R_P||r_z_P) + r_z)",
         "Line, $R_P$ and first zener are one source to whatever is fed from their node."),
        ("first-test-point", 1.0, "The first zener's line from its test point",
         "V_Z_P = V_ZT_P + r_z_P*(I_Z_P - I_ZT_P)", "Away from the test current the slope adds or takes away."),
        ("from-test-point", 1.0, "The second zener's line from its test point", "V_Z = V_ZT + r_z*(I_Z - I_ZT)",
         "Away from the test current the slope adds or takes away."),
        ("drift-slope", 1.0, "Temperature sensitivity: the second zener's drift less the junction's",
         "S_T = alpha_Z*V_Z - k_BE",
         "The output is the second zener's voltage less the junction's; so is its change for each kelvin."),
        ("budget-temperature", 1.0, "Change of $V_O$ for a change of temperature", "E_TEMP = S_T*DT",
         "The drift for one kelvin, times the kelvins between the coldest and the hottest day."),
        ("budget-band", 1.0, "The whole band: all three at their worst at once", "E_BAND = E_LINE + E_LOAD + E_TEMP",
         "Line, load and temperature know nothing of each other, so the worst of each may come together."),
    )
)

ZENER = circuit(
    id="prestabilised",
    form="zener",
    title="Follower with a prestabilised reference",
    stage=4,
    purpose="A first zener stage feeds the second one, whose zener holds the base of a follower: each stage divides "
    "what the line does, and the load is carried by the transistor alone.",
    netlist="""
        V_I  source    in    gnd
        R_P  resistor  in    pre
        Z_P  zener     pre   gnd   voltage=V_Z_P current=I_Z_P power=P_Z_P slope=r_z_P intercept=V_Z0_P \
test_voltage=V_ZT_P test_current=I_ZT_P rating=P_ZM_P rated_current=I_ZM_P
        R    resistor  pre   base
        Z    zener     base  gnd
        Q    npn       in    base  out
        L    load      out   gnd
    """,
    nodes={**NODES, "pre": NodeWord("V_O_P", "the first stage's output")},
    regions=(
        Region("regulating", "both zeners are in breakdown and the transistor active",
               {"Z_P": "breakdown", "Z": "breakdown", "Q": "active"}),
        Region("first-starved", "the first zener is off, and the second one is fed straight from the line",
               {"Z_P": "off", "Z": "breakdown", "Q": "active"}),
        Region("second-starved", "the second zener is off and the transistor follows its base",
               {"Z_P": "breakdown", "Z": "off", "Q": "active"}),
        Region("starved", "both zeners are off and the transistor follows its base",
               {"Z_P": "off", "Z": "off", "Q": "active"}),
    ),
    constants=("V_I", "R_P", "V_Z0_P", "r_z_P", "I_ZT_P", "R", "V_Z0", "r_z", "I_ZT", "V_BE", "h_FE"),
    preferred=("I_Z_P", "I_Z", "I_R", "I_B", "V_O", "V_B", "V_O_P"),
    report=(
        "V_Z_P", "V_Z", "V_O_P", "V_B", "V_O", "I_L", "R_L", "I_B", "I_C", "I_R", "I_Z", "I_R_P", "I_Z_P", "V_CE",
        "P_Q", "P_R", "P_Z", "P_R_P", "P_Z_P", "P_O", "P_I", "eta", "S_V_P", "S_V", "R_OUT", "S_T",
    ),
    typical={
        "V_I": 24.0, "R_P": 220.0, "V_Z0_P": 14.8, "r_z_P": 7.0, "I_ZT_P": 0.02, "R": 470.0, "V_Z0": 8.9, "r_z": 6.0,
        "I_ZT": 0.02, "V_BE": 0.7, "h_FE": 60.0, "I_L": 0.2, "V_RIP": 1.0, **COEFFICIENTS,
    },
    composites=(
        Composite(
            "supply", "The supply feeds both zeners and the load, and nothing else", "I_I = I_Z_P + I_Z + I_L",
            why="The base current only changes its way: it leaves through the emitter with the rest.", cost=1.25,
        ),
        Composite(
            "output", "From the second zener up to the base, one junction down to the output", "V_O = V_Z - V_BE", HELD,
            0.8, "The second zener holds the base; the conducting junction sits between base and output.",
        ),
        BASE,
        *STAGES,
        Composite(
            "seen-from-zener", "Seen from the second zener: one source, behind what leads to its node",
            f"I_Z = (({FIRST}*{SHOWN} + V_BE*(R + (R_P||r_z_P)))/(R + (R_P||r_z_P) + {SHOWN}) - V_Z0)"
            f"/(r_z + ((R + (R_P||r_z_P))||{SHOWN}))", REGULATING, 1.0, loads=(LoadModel.RESISTOR,),
            why="To the second zener, first stage and base are one source: the load appears $h_FE + 1$ times as large.",
        ),
    ),
    slopes=(
        Slope(
            "S_V_P", of="V_O_P", by="V_I", sign=1,
            title="Share of a change that the first stage lets through: its zener is the small arm of a divider",
            why="For changes each zener is its slope alone; the second stage stands beside the first one's.",
            written={LoadModel.SINK: f"({LOADED})/(R_P + ({LOADED}))",
                     LoadModel.RESISTOR: f"({BESIDE})/(R_P + ({BESIDE}))"},
        ),
        Slope(
            "S_V", of="V_O", by="V_I", sign=1, share="E_LINE",
            title="Sensitivity to the line: the second stage takes its share of what the first one lets through",
            why="What comes out of the first stage is the second one's input, and shares of stages in a row multiply.",
            written={LoadModel.SINK: "S_V_P*r_z/(R + r_z)", LoadModel.RESISTOR: f"S_V_P*{SEEN}/(R + {SEEN})"},
        ),
        Slope(
            "R_OUT", of="V_O", by="I_L", sign=-1, share="E_LOAD",
            title="Output resistance: that of the base, divided by the current gain",
            why="A change of load current reaches the base divided by $h_FE + 1$; $V_BE$ is taken as fixed.",
            written={LoadModel.SINK: "((R + (R_P||r_z_P))||r_z)/(h_FE + 1)"},
        ),
    ),
    variants=(
        EXACT_BASE,
        replace(ROUGH_BASE, removes=(*ROUGH_BASE.removes, "seen-from-zener")),
        Variant("second-stage", "counted", words="for changes the second stage stands beside the first one's zener"),
        Variant(
            "second-stage", "neglected", watches="S_V", title="the second stage neglected beside $r_z_P$",
            words="for changes each stage by itself: $r_z_P/(R_P + r_z_P)$ for the first, $R||r_z$ behind the base",
            removes=("slope.S_V_P", "slope.R_OUT"),
            adds=(
                ("slope.S_V_P", "Share of a change that the first stage lets through, taken by itself",
                 "S_V_P = r_z_P/(R_P + r_z_P)"),
                ("slope.R_OUT", "Output resistance: that of the base, divided by the current gain",
                 "R_OUT = (R||r_z)/(h_FE + 1)"),
            ),
            reasons={
                "slope.S_V_P": "For changes the first zener is its slope alone, the small arm of a divider under "
                "$R_P$; the second stage, some hundreds of ohms, counts for next to nothing beside it.",
                "slope.R_OUT": "Seen from the base, the first stage's node hardly moves; a change of load current "
                "reaches the base divided by $h_FE + 1$.",
            },
        ),
        Variant("zener-voltage", "exact", words="each zener on its own line"),
        Variant(
            "zener-voltage", "corrected", watches="V_Z", title="zener currents found with the test voltages",
            words="currents with the zeners at their test voltages, then each voltage corrected once by its slope",
            removes=(
                *(f"{part}.{law}" for part in ("R", "R_P") for law in ("ohm", "drop-ohm", "power-square")),
                "between", "second-feed", "second-series", "first-feed", "first-series", "seen-from-second",
                "seen-from-zener",
            ),
            adds=(
                ("between", "Current through $R$, both zeners at their test voltages", "I_R = (V_ZT_P - V_ZT)/R"),
                ("first-ohm", "Current through $R_P$, the first zener at its test voltage",
                 "I_R_P = (V_I - V_ZT_P)/R_P"),
                ("second-drop", "Ohm's law for $R$", "I_R = (V_O_P - V_B)/R"),
                ("first-drop", "Ohm's law for $R_P$", "I_R_P = (V_I - V_O_P)/R_P"),
            ),
            reasons={
                "between": "A zener's voltage hardly depends on its current, so the test voltages give the currents "
                "well enough to correct the voltages by.",
                "first-ohm": "The first zener holds the lower end of $R_P$ near its test voltage.",
            },
            regions={"between": REGULATING, "first-ohm": REGULATING,
                     **{law: STARVED for law in ("second-drop", "first-drop")}},
        ),
    ),
    ends=ENDS,
    defaults={"V_BE": 0.7, "V_CE_SAT": 0.2},
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "V_O": ("V_Z", "V_BE"), "I_R": ("V_Z_P", "V_Z", "R"), "I_Z": ("V_Z_P", "V_Z", "R", "I_L", "h_FE"),
        "I_Z_P": ("V_I", "R_P", "V_Z_P", "V_Z", "R"),
        "R_P": ("V_I", "V_Z_P", "V_Z", "R", "I_Z_P"),
        "S_V": (),
        "R_OUT": (),
    },
    drawing=ZENER_DRAWING,
)  # fmt: skip

REFERENCE = circuit(
    id="prestabilised",
    form="reference",
    title="Follower behind an adjustable shunt reference",
    stage=4,
    purpose="A shunt reference with its divider holds the base of a follower: the exact, small regulator says what the "
    "strong one does, and the transistor carries the load.",
    netlist="""
        V_I  source           in    gnd
        R    resistor         in    base
        R_1  resistor         base  tap   current=I_DIV voltage= power=
        R_2  resistor         tap   gnd   current=I_LOWER voltage= power=
        U    shunt-reference  base  tap   gnd
        Q    npn              in    base  out
        L    load             out   gnd
    """,
    nodes={**NODES, "tap": NodeWord("V_TAP", "the divider's tap")},
    regions=(
        Region(
            "regulating", "the reference regulates and the transistor is active", {"U": "regulating", "Q": "active"}
        ),
        Region("starved", "the reference is off and the transistor follows its base", {"U": "off", "Q": "active"}),
    ),
    constants=("V_I", "R", "R_1", "R_2", "V_REF", "I_REF", "V_BE", "h_FE"),
    preferred=("I_K", "V_B", "V_O", "I_R", "I_B"),
    report=(
        "V_B", "V_O", "I_DIV", "I_LOWER", "I_L", "R_L", "I_B", "I_C", "I_R", "I_K", "V_R", "V_CE", "P_Q", "P_D", "P_R",
        "P_O", "P_I", "eta",
    ),
    typical={
        "V_I": 18.0, "R": 470.0, "R_1": 10e3, "R_2": 4.7e3, "V_REF": 2.495, "I_REF": 2e-6, "V_BE": 0.7, "h_FE": 60.0,
        "I_L": 0.3,
    },
    composites=(
        Composite(
            "reference", "The base voltage that holds the pin at the reference voltage",
            "V_B = V_REF*(1 + R_1/R_2) + I_REF*R_1", REGULATING, cost=0.8,
            why="$V_REF$ stands across $R_2$; its current and the pin's flow through $R_1$ and put the rest of the "
            "base voltage across it.",
        ),
        Composite(
            "upper", "Upper resistor that gives a base voltage", "R_1 = (V_B - V_REF)/(V_REF/R_2 + I_REF)",
            REGULATING, cost=1.0, why="$R_1$ has the base voltage less $V_REF$ across it and carries what flows "
            "in $R_2$ and into the pin.",
        ),
        BASE,
        Composite(
            "lower-current", "Ohm's law for $R_2$, which has $V_REF$ across it", "I_LOWER = V_REF/R_2", REGULATING,
            cost=0.9, why="The reference holds the tap at $V_REF$.",
        ),
        Composite(
            "divider-current", "Ohm's law for $R_1$, whose lower end is held at $V_REF$", "I_DIV = (V_B - V_REF)/R_1",
            REGULATING, cost=0.9, why="The reference holds the tap at $V_REF$, and the rest of the base voltage "
            "stands across $R_1$.",
        ),
        Composite(
            "feed", "Current law at the base node with Ohm's law for $R$", "I_K = (V_I - V_B)/R - I_B - I_DIV",
            REGULATING, cost=1.1, why="Supply and base voltage fix the current through $R$; the reference has "
            "what base and divider leave of it.",
        ),
        Composite(
            "starved-base", "Seen from the base: line, divider and load side by side",
            f"V_B = (V_I/R + V_BE/{SHOWN} - I_REF*R_2/(R_1 + R_2))/(1/R + 1/(R_1 + R_2) + 1/{SHOWN})", ("starved",),
            1.0, "Nothing holds the base: it settles where $R$ brings what divider, pin and base take.",
            (LoadModel.RESISTOR,),
        ),
        Composite(
            "series", "Ohm's law for $R$, which carries base, divider and cathode current together",
            "R = (V_I - V_B)/(I_B + I_DIV + I_K)", REGULATING, cost=1.2,
            why="$R$ carries all three currents; the load comes through the transistor.",
        ),
    ),
    variants=(
        Variant("divider", "upper", words="$R_1$ from the base to the tap, $R_2$ from there to ground"),
        Variant(
            "divider", "lower", swaps=("R_1", "R_2"), title="$R_1$ taken as the lower resistor",
            words="$R_2$ from the base to the tap, $R_1$ from there to ground",
        ),
        EXACT_BASE,
        Variant(
            "base-current",
            "load-over-h_FE",
            words=ROUGH_BASE.words, adds=ROUGH_BASE.adds, watches="I_B", title=ROUGH_BASE.title,
            removes=(*(law for law in ROUGH_BASE.removes if law != "supply"), "starved-base"),
        ),
        Variant("reference-current", "exact", words="$V_B = V_REF*(1 + R_1/R_2) + I_REF*R_1$"),
        Variant(
            "reference-current",
            "neglected",
            words="$V_B = V_REF*(1 + R_1/R_2)$, the pin's current neglected",
            removes=("reference", "upper", "lower-current", "kcl.tap"),
            adds=(
                ("reference", "The divider turned about, pin current neglected", "V_B = V_REF*(1 + R_1/R_2)"),
                ("upper", "Upper resistor that gives a base voltage", "R_1 = R_2*(V_B - V_REF)/V_REF"),
                ("kcl.tap", "One current through both resistors of the divider", "I_LOWER = I_DIV"),
            ),
            watches="V_B",
            title="$I_REF$ neglected",
        ),
    ),
    ends={**ENDS, "V_REF": ("the lowest reference", "the highest reference")},
    defaults={"V_BE": 0.7, "V_CE_SAT": 0.2},
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "V_O": ("V_REF", "R_1", "R_2", "I_REF", "V_BE"),
        "I_K": ("V_I", "V_B", "R", "I_L", "h_FE", "V_REF", "R_1"),
        "R": ("V_I", "V_B", "I_B", "I_DIV", "I_K"),
    },
    drawing=REFERENCE_DRAWING,
    shorted="starved",
)  # fmt: skip
FORMS = (ZENER, REFERENCE)
