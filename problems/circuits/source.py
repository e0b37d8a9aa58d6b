"""The raw supply as a Thevenin source: an open-circuit voltage behind a resistance."""

from tutor.circuit.circuit import Composite, NodeWord, Region, Variant, circuit
from tutor.circuit.placement import Drawing, Ground, Lead, Place, Side, Terminal, Voltage, Wire

DRAWING = Drawing(
    title="Supply with source resistance and load",
    places=(
        Place("V_OC", (0, 4), (0, 0), Side.LEFT),
        Place("R_S", (0, 4), (6, 4), Side.ABOVE, current="I_I", lead=Lead.END, current_side=Side.BELOW),
        Place("L", (6, 4), (6, 0), Side.LEFT),
    ),
    wires=(
        Wire("out", ((6, 4), (7.75, 4))),
        Wire("gnd", ((0, 0), (7.75, 0))),
    ),
    grounds=(Ground((3, 0)),),
    marks=(
        Terminal("out", (7.75, 4)),
        Terminal("gnd", (7.75, 0)),
        Voltage("V_I", "out", (7.75, 4), "gnd", (7.75, 0)),
    ),
)

CIRCUIT = circuit(
    id="source",
    title="Raw supply as a source with resistance",
    stage=1,
    purpose="An unregulated supply seen from its terminals: its voltage sags in proportion to the current drawn.",
    netlist="""
        V_OC  source    oc   gnd  current=I_I power=
        R_S   resistor  oc   out  current=I_I voltage=V_R power=P_R
        L     load      out  gnd  current=I_I
    """,
    nodes={
        "oc": NodeWord("V_OC", "the inner terminal of the source"),
        "out": NodeWord("V_I", "the terminals of the raw supply"),
    },
    regions=(Region("linear", "the supply is on its straight load line", {}),),
    constants=("V_OC", "R_S"),
    preferred=("I_I", "V_I"),
    report=("I_I", "V_I", "R_S", "V_OC", "R_L", "P_O", "P_R", "REG_LOAD"),
    typical={"V_OC": 18.0, "R_S": 3.0, "I_I": 0.5},
    readings=("V_I", "I_I", "R_L", "P_O"),
    aliases={"V_1": "V_I_1", "V_2": "V_I_2", "I_1": "I_I_1", "I_2": "I_I_2"},
    composites=(
        Composite(
            "loaded",
            "Terminal voltage under load",
            "V_I = V_OC - I_I*R_S",
            cost=0.9,
            why="What the load draws flows through $R_S$ first and loses voltage there.",
        ),
        Composite(
            "two-readings",
            "Slope of the line through two readings",
            "R_S = (V_I_1 - V_I_2)/(I_I_2 - I_I_1)",
            cost=1.2,
            why="The open-circuit voltage is the same at both readings; only the loss in $R_S$ changed.",
        ),
        Composite(
            "regulation",
            "Load regulation, referred to full load",
            "REG_LOAD = (V_OC - V_I)/V_I",
            cost=1.0,
            why="How far the voltage rises when the full load is taken off, as a share of the full-load voltage.",
        ),
    ),
    variants=(
        Variant(
            "load-regulation",
            "full-load",
            words="$REG_LOAD = (V_OC - V_I)/V_I$, the change referred to the full-load voltage",
        ),
        Variant(
            "load-regulation",
            "no-load",
            words="$REG_LOAD = (V_OC - V_I)/V_OC$, the change referred to the no-load voltage",
            removes=("regulation",),
            adds=(("regulation", "Load regulation, referred to no load", "REG_LOAD = (V_OC - V_I)/V_OC"),),
        ),
        Variant(
            "load-regulation",
            "nominal",
            words="$REG_LOAD = (V_OC - V_I)/V_I_NOM$, the change referred to the nominal voltage",
            removes=("regulation",),
            adds=(
                ("regulation", "Load regulation, referred to the nominal voltage", "REG_LOAD = (V_OC - V_I)/V_I_NOM"),
            ),
        ),
    ),
    ends={
        "I_I": ("the lightest load", "the fullest load"),
        "R_L": ("the fullest load", "the lightest load"),
        "V_OC": ("the lowest line", "the highest line"),
    },
    root_preference=("V_I", True, "a supply is worked where most of its voltage is left at its terminals"),
    derivation={"V_I": ("V_OC", "R_S", "I_I"), "REG_LOAD": ("V_OC", "R_S", "I_I"), "P_O": ("V_OC", "R_S", "I_I")},
    shorted="linear",
    drawing=DRAWING,
)
