"""The path of heat from a junction to the ambient: over case and heat-sink, or straight into free air."""

from tutor.circuit.circuit import Composite, NodeWord, Region, circuit
from tutor.circuit.placement import Drawing, NodeLabel, Place, Side, Wire

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

JUNCTION = NodeWord("T_J", "the junction")
AMBIENT = NodeWord("T_A", "the ambient")
STEADY = (Region("steady", "the heat flows steadily", {}),)
ENDS = {
    "P_D": ("the least heat", "the most heat"),
    "T_A": ("the coldest ambient", "the hottest ambient"),
}

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
    nodes={
        "junction": JUNCTION,
        "case": NodeWord("T_C", "the case"),
        "sink": NodeWord("T_S", "the heat-sink"),
        "ambient": AMBIENT,
    },
    regions=STEADY,
    constants=("P_D", "R_thJC", "R_thCS", "R_thSA", "T_A"),
    preferred=("P_D", "T_S", "T_C"),
    report=("T_S", "T_C", "T_J", "P_D", "R_thSA"),
    typical={"P_D": 10.0, "R_thJC": 1.5, "R_thCS": 0.5, "R_thSA": 4.0, "T_A": 40.0},
    composites=(
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
            "What is left for the heat-sink of the resistance in all",
            "R_thSA = (T_J - T_A)/P_D - R_thJC - R_thCS",
            cost=1.05,
            why="Junction to case and the joint have their share whatever the heat-sink is.",
        ),
    ),
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

FORMS = (WITH_SINK, FREE_AIR)
