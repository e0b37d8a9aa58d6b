"""The path of heat from a junction to the ambient: over case and heat-sink, or straight into free air.

In two further forms the heat is that of a regulator, and two circuits stand side by side: of currents and of heat.
"""

from tutor.circuit.circuit import Circuit, Composite, NodeWord, Region, Variant, circuit
from tutor.circuit.placement import (
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

SINK = Drawing(
    title="Heat path over case and heat-sink",
    places=(
        Place("P_D", (0, 6), (0, 0), Side.LEFT),
        Place("R_thJC", (3, 6), (3, 4), Side.RIGHT),
        Place("R_thCS", (3, 4), (3, 2), Side.RIGHT),
        Place("R_thSA", (3, 2), (3, 0), Side.RIGHT),
    ),
    wires=(
        Wire("junction", ((0, 6), (4, 6))),
        Wire("case", ((3, 4), (4, 4))),
        Wire("sink", ((3, 2), (4, 2))),
        Wire("ambient", ((0, 0), (4, 0))),
    ),
    grounds=(),
    marks=(
        NodeLabel("junction", (4, 6), "T_J", Side.RIGHT),
        NodeLabel("case", (4, 4), "T_C", Side.RIGHT),
        NodeLabel("sink", (4, 2), "T_S", Side.RIGHT),
        NodeLabel("ambient", (4, 0), "T_A", Side.RIGHT),
    ),
)

AIR = Drawing(
    title="Heat path into free air",
    places=(
        Place("P_D", (0, 3), (0, 0), Side.LEFT),
        Place("R_thJA", (3, 3), (3, 0), Side.RIGHT),
    ),
    wires=(
        Wire("junction", ((0, 3), (4, 3))),
        Wire("ambient", ((0, 0), (4, 0))),
    ),
    grounds=(),
    marks=(
        NodeLabel("junction", (4, 3), "T_J", Side.RIGHT),
        NodeLabel("ambient", (4, 0), "T_A", Side.RIGHT),
    ),
)


def above_heat(title: str, start: float, places: tuple[Place, ...], ground: float) -> Drawing:
    """A regulator whose input wire begins at `start`, with what feeds it; below them the path of its heat."""
    out = start + 4
    return Drawing(
        title=title,
        places=(
            *places,
            PlaceDevice("U", (start + 2, 9.5), Turn.NONE, Side.ABOVE),
            Place("L", (out, 9.5), (out, 5.5), Side.LEFT, current="I_L", current_side=Side.LEFT),
            Place("P_D", (0, 3), (0, 0), Side.RIGHT),
            Place("R_thJC", (0, 3), (2.5, 3), Side.ABOVE),
            Place("R_thCS", (2.5, 3), (5, 3), Side.ABOVE),
            Place("R_thSA", (5, 3), (7.5, 3), Side.ABOVE),
        ),
        wires=(
            Wire("in", ((start, 9.5), (start + 0.75, 9.5))),
            Wire("out", ((start + 3.25, 9.5), (out + 1.5, 9.5))),
            Wire("gnd", ((start + 2, 8.25), (start + 2, 5.5))),
            Wire("gnd", ((0, 5.5), (out + 1.5, 5.5))),
            Wire("case", ((2.5, 3), (2.5, 2.25))),
            Wire("sink", ((5, 3), (5, 2.25))),
            Wire("ambient", ((7.5, 3), (7.5, 0), (0, 0))),
        ),
        grounds=(Ground((ground, 5.5)),),
        marks=(
            Terminal("out", (out + 1.5, 9.5)),
            Terminal("gnd", (out + 1.5, 5.5)),
            Voltage("V_O", "out", (out + 1.5, 9.5), "gnd", (out + 1.5, 5.5)),
            NodeLabel("junction", (0, 3), "T_J", Side.ABOVE),
            NodeLabel("case", (2.5, 2.25), "T_C", Side.BELOW),
            NodeLabel("sink", (5, 2.25), "T_S", Side.BELOW),
            NodeLabel("ambient", (3.75, 0), "T_A", Side.BELOW),
        ),
    )


JUNCTION = NodeWord("T_J", "the junction")
AMBIENT = NodeWord("T_A", "the ambient")
SINK_NODES = {
    "junction": JUNCTION,
    "case": NodeWord("T_C", "the case"),
    "sink": NodeWord("T_S", "the heat-sink"),
    "ambient": AMBIENT,
}
STEADY = (Region("steady", "the heat flows steadily", {}),)
ENDS = {
    "P_D": ("the least heat", "the most heat"),
    "T_A": ("the coldest ambient", "the hottest ambient"),
}

CHAIN = (
    Composite(
        "chain",
        "All rises one upon another",
        "T_J = T_A + P_D*(R_thJC + R_thCS + R_thSA)",
        cost=1.0,
        why="The same heat flows through all three, so their rises add up from the ambient to the junction.",
    ),
    Composite(
        "case-chain",
        "From the ambient up to the case",
        "T_C = T_A + P_D*(R_thCS + R_thSA)",
        cost=1.05,
        why="Between case and ambient the heat crosses the joint and the heat-sink.",
    ),
    Composite(
        "power",
        "The heat that a temperature allows",
        "P_D = (T_J - T_A)/(R_thJC + R_thCS + R_thSA)",
        cost=1.05,
        why="The whole difference of temperature drives one flow through all three.",
    ),
    Composite(
        "sink-limit",
        "What the other resistances leave for the heat-sink",
        "R_thSA = (T_J - T_A)/P_D - R_thJC - R_thCS",
        cost=1.05,
        why="Junction to case and the joint have their share whatever the heat-sink is.",
    ),
)

WITH_SINK = circuit(
    id="heat-path",
    form="heat-sink",
    title="Heat path over case and heat-sink",
    stage=3,
    purpose="Heat made in a junction flows through three thermal resistances in series into the ambient; each raises "
    "the temperature before it.",
    netlist="""
        P_D     heat-source  junction  ambient
        R_thJC  thermal      junction  case
        R_thCS  thermal      case      sink
        R_thSA  thermal      sink      ambient
    """,
    nodes=SINK_NODES,
    regions=STEADY,
    constants=("P_D", "R_thJC", "R_thCS", "R_thSA", "T_A"),
    preferred=("P_D", "T_S", "T_C"),
    report=("T_S", "T_C", "T_J", "P_D", "R_thSA"),
    typical={"P_D": 10.0, "R_thJC": 1.5, "R_thCS": 0.5, "R_thSA": 4.0, "T_A": 40.0},
    composites=CHAIN,
    ends=ENDS,
    derivation={
        "T_J": ("P_D", "R_thJC", "R_thCS", "R_thSA", "T_A"),
        "P_D": ("T_J", "T_A", "R_thJC", "R_thCS", "R_thSA"),
        "R_thSA": ("T_J", "T_A", "P_D", "R_thJC", "R_thCS"),
    },
    drawing=SINK,
)
FREE_AIR = circuit(
    id="heat-path",
    form="free-air",
    title="Heat path into free air",
    stage=3,
    purpose="Without a heat-sink one thermal resistance stands between junction and ambient, and little heat raises it "
    "far.",
    netlist="""
        P_D     heat-source  junction  ambient
        R_thJA  thermal      junction  ambient
    """,
    nodes={"junction": JUNCTION, "ambient": AMBIENT},
    regions=STEADY,
    constants=("P_D", "R_thJA", "T_A"),
    preferred=("P_D", "T_J"),
    report=("T_J", "P_D", "R_thJA"),
    typical={"P_D": 1.0, "R_thJA": 62.5, "T_A": 40.0},
    composites=(
        Composite(
            "junction",
            "The rise upon the ambient",
            "T_J = T_A + P_D*R_thJA",
            cost=0.8,
            why="All the heat crosses one resistance on its way into the air.",
        ),
        Composite(
            "resistance",
            "Thermal resistance from a temperature and the heat that raises it",
            "R_thJA = (T_J - T_A)/P_D",
            cost=1.0,
            why="A rating at one ambient temperature tells the resistance: there the junction is at its limit.",
        ),
    ),
    ends=ENDS,
    derivation={"T_J": ("P_D", "R_thJA", "T_A"), "P_D": ("T_J", "T_A", "R_thJA")},
    drawing=AIR,
)


def of_regulator(
    form: str,
    title: str,
    purpose: str,
    fed: str,
    nodes: dict[str, NodeWord],
    constants: tuple[str, ...],
    report: tuple[str, ...],
    typical: dict[str, float],
    ends: dict[str, tuple[str, str]],
    derivation: dict[str, tuple[str, ...]],
    drawing: Drawing,
    composites: tuple[Composite, ...] = (),
    neglecting: tuple[tuple[str, str, str], ...] = (),
) -> Circuit:
    """A regulator and the path of its heat; `fed` is the netlist of what feeds it, `neglecting` what the load's current
    alone decides once the pin's is neglected."""
    return circuit(
        id="heat-path",
        form=form,
        title=title,
        stage=3,
        purpose=purpose,
        netlist=f"""
            {fed}
            U       three-terminal  in        gnd      out  current=I_L
            L       load            out       gnd
            P_D     heat-source     junction  ambient
            R_thJC  thermal         junction  case
            R_thCS  thermal         case      sink
            R_thSA  thermal         sink      ambient
        """,
        nodes={
            **nodes,
            "in": NodeWord("V_I", "the input node of the regulator"),
            "out": NodeWord("V_O", "the output node"),
            **SINK_NODES,
        },
        regions=(
            Region("regulating", "the regulator regulates", {"U": "regulating"}),
            Region("dropout", "the regulator has dropped out", {"U": "dropout"}),
        ),
        constants=(*constants, "V_REG", "I_Q", "V_DROP", "R_thJC", "R_thCS", "R_thSA", "T_A"),
        preferred=("V_O", "I_L", "P_D", "T_S", "T_C"),
        report=("V_O", "I_L", "R_L", "I_I", *report, "V_IO", "P_D", "P_O", "P_I", "eta", "T_S", "T_C", "T_J"),
        typical={
            "V_REG": 5.0, "I_Q": 5e-3, "V_DROP": 2.0, "I_L": 0.5, "R_thJC": 3.0, "R_thCS": 0.5, "R_thSA": 12.0,
            "T_A": 40.0, **typical,
        },
        readings=("V_O", "V_I", "I_I", "I_L", "R_L"),
        composites=(
            Composite(
                "heat",
                "Power in the regulator",
                "P_D = (V_I - V_O)*I_L + V_I*I_Q",
                cost=0.9,
                why="The load's current falls through what the output leaves of the input, the pin's through all of "
                "it.",
            ),
            *CHAIN,
            *composites,
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
                    *neglecting,
                ),
                watches="I_I",
                title="$I_Q$ neglected",
            ),
        ),
        ends={
            **ENDS,
            **ends,
            "I_L": ("the lightest load", "the fullest load"),
            "R_L": ("the fullest load", "the lightest load"),
        },
        defaults={"V_DROP": 2.0},
        root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
        derivation={**derivation, "R_thSA": ("T_J", "T_A", "P_D", "R_thJC", "R_thCS")},
        drawing=drawing,
    )  # fmt: skip


STIFF = ("V_I", "V_REG", "I_L", "I_Q")
RAW = ("V_OC", "R_S", "V_REG", "I_L", "I_Q")
OF_REGULATOR = of_regulator(
    "regulator",
    "Regulator and the path of its heat",
    "What a series regulator keeps of the input's power warms its junction, and flows over case and heat-sink into the "
    "ambient.",
    "V_I  source  in  gnd",
    {},
    ("V_I",),
    (),
    {"V_I": 9.0},
    {"V_I": ("the lowest line", "the highest line")},
    {"P_D": STIFF, "eta": STIFF, "T_J": (*STIFF, "R_thJC", "R_thCS", "R_thSA", "T_A")},
    above_heat("Regulator and the path of its heat", 0, (Place("V_I", (0, 9.5), (0, 5.5), Side.LEFT),), 1),
)  # fmt: skip
BEHIND_SUPPLY = of_regulator(
    "raw-supply",
    "Regulator behind a raw supply, and the path of its heat",
    "A raw supply sags as the load rises, so that the regulator has less and less across it: its heat has a summit "
    "between no load and short of all load.",
    """V_OC    source          oc        gnd      current=I_I power=P_I
            R_S     resistor        oc        in       current=I_I voltage=V_R power=P_R""",
    {"oc": NodeWord("V_OC", "the inner terminal of the raw supply")},
    ("V_OC", "R_S"),
    ("V_I", "P_R"),
    {"V_OC": 12.0, "R_S": 4.0},
    {"V_OC": ("the lowest line", "the highest line")},
    {"V_I": ("V_OC", "R_S", "I_L", "I_Q"), "P_D": RAW, "eta": RAW},
    above_heat(
        "Regulator behind a raw supply, and the path of its heat",
        2.75,
        (
            Place("V_OC", (0, 9.5), (0, 5.5), Side.LEFT),
            Place("R_S", (0, 9.5), (2.75, 9.5), Side.ABOVE, current="I_I", current_side=Side.BELOW),
        ),
        1.5,
    ),
    (
        Composite(
            "two-readings",
            "Slope of the raw supply's line through two readings",
            "R_S = (V_I_1 - V_I_2)/(I_I_2 - I_I_1)",
            cost=1.2,
            why="The open-circuit voltage is the same at both readings; only the loss in $R_S$ changed.",
        ),
    ),
    (
        ("sag", "What the load current leaves of the raw supply", "V_I = V_OC - R_S*I_L"),
        ("left-over", "What raw supply, sag and output leave the regulator", "V_IO = V_OC - V_O - R_S*I_L"),
        ("heat-left-over", "Load current times what is left for the regulator", "P_D = (V_OC - V_O - R_S*I_L)*I_L"),
        ("loss", "Power in $R_S$, which the load current crosses", "P_R = R_S*I_L^2"),
        ("drawn", "What the load current takes from the raw supply", "P_I = V_OC*I_L"),
    ),
)

FORMS = (WITH_SINK, FREE_AIR, OF_REGULATOR, BEHIND_SUPPLY)
