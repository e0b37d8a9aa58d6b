"""A zener with a forward junction in series: what one gains with temperature the other loses."""

from tutor.circuit.circuit import Composite, NodeWord, Region, circuit
from tutor.circuit.placement import Drawing, Ground, Place, Side, Terminal, Voltage, Wire

DRAWING = Drawing(
    title="Zener with a compensating diode",
    places=(
        Place("V_I", (0, 5.5), (0, 0), Side.LEFT),
        Place("R", (0, 5.5), (2.75, 5.5), Side.ABOVE, current="I_R", current_side=Side.BELOW),
        Place("Z", (2.75, 5.5), (2.75, 2.5), Side.LEFT, current="I_Z", current_side=Side.LEFT),
        Place("D", (2.75, 2.5), (2.75, 0), Side.LEFT),
        Place("L", (5.25, 5.5), (5.25, 0), Side.LEFT, current="I_L", current_side=Side.LEFT),
    ),
    wires=(
        Wire("out", ((2.75, 5.5), (6.75, 5.5))),
        Wire("gnd", ((0, 0), (6.75, 0))),
    ),
    grounds=(Ground((1.5, 0)),),
    marks=(
        Terminal("out", (6.75, 5.5)),
        Terminal("gnd", (6.75, 0)),
        Voltage("V_O", "out", (6.75, 5.5), "gnd", (6.75, 0)),
    ),
)

CIRCUIT = circuit(
    id="compensated-shunt",
    title="Zener shunt regulator with a compensating diode",
    stage=2,
    purpose="A forward diode in series with the zener: above some 5 V a zener's voltage rises with temperature, a "
    "junction's falls, and the two can cancel.",
    netlist="""
        V_I  source    in   gnd
        R    resistor  in   out
        Z    zener     out  mid
        D    junction  mid  gnd  current=I_Z
        L    load      out  gnd
    """,
    nodes={
        "in": NodeWord("V_I", "the input node"),
        "mid": NodeWord("V_F", "the node between zener and diode"),
        "out": NodeWord("V_O", "the output node"),
    },
    regions=(
        Region("regulating", "the zener is in breakdown and the diode conducts", {"Z": "breakdown", "D": "conducting"}),
        Region("off", "zener and diode are off", {"Z": "off", "D": "off"}),
    ),
    constants=("V_I", "R", "V_Z0", "r_z", "I_ZT", "V_F"),
    preferred=("I_Z", "V_O", "I_R"),
    report=("V_O", "I_R", "I_L", "R_L", "I_Z", "V_R", "P_R", "P_Z", "P_O", "P_I", "eta"),
    typical={
        "V_I": 15.0, "R": 220.0, "V_Z0": 6.6, "r_z": 3.5, "I_ZT": 0.037, "V_F": 0.7, "I_L": 0.03, "alpha_Z": 0.0005,
        "k_BE": -0.002, "DT": 25.0,
    },
    readings=("V_Z", "I_Z", "V_O", "V_I", "I_R", "I_L", "R_L"),
    composites=(
        Composite(
            "output",
            "Zener and diode in series",
            "V_O = V_Z + V_F",
            ("regulating",),
            cost=0.6,
            why="From ground to the output one passes the diode, forward, and then the zener.",
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
        Composite(
            "drift-zener",
            "Drift of the zener",
            "DV_Z = alpha_Z*V_Z*DT",
            cost=1.0,
            why="The coefficient of a zener is told as a share of its voltage for each kelvin.",
        ),
        Composite(
            "drift-junction",
            "Drift of the junction",
            "DV_F = k_BE*DT",
            cost=1.0,
            why="A junction at a steady current loses some millivolts for each kelvin.",
        ),
        Composite(
            "drift-sum",
            "The output moves by both",
            "DV_O = DV_Z + DV_F",
            ("regulating",),
            cost=0.9,
            why="The two stand in series, so their changes add, each with its sign.",
        ),
        Composite(
            "drift-slope",
            "Temperature sensitivity: volts for each kelvin, zener and junction together",
            "S_T = alpha_Z*V_Z + k_BE",
            ("regulating",),
            cost=1.0,
            why="The zener's share of its voltage and the junction's millivolts are both volts for each kelvin.",
        ),
        Composite(
            "drift-output",
            "Change of the output for a change of temperature",
            "DV_O = S_T*DT",
            ("regulating",),
            cost=1.0,
            why="Slope times change.",
        ),
    ),
    ends={
        "V_I": ("the lowest line", "the highest line"),
        "I_L": ("the lightest load", "the fullest load"),
        "R_L": ("the fullest load", "the lightest load"),
        "DT": ("the coldest end", "the hottest end"),
    },
    defaults={"V_F": 0.7},
    root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
    derivation={
        "V_O": ("V_Z", "V_F"),
        "I_Z": ("V_I", "R", "V_Z", "V_F", "I_L"),
        "P_Z": ("V_I", "R", "V_Z", "V_F", "I_L"),
    },
    drawing=DRAWING,
    shorted="off",
)  # fmt: skip
