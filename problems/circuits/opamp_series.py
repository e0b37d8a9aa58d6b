"""The series regulator with an op-amp: it compares a share of the output with a reference and drives the output.

The amplifier is fed from the raw supply and ground. It is ideal until its gain A is given; then its output resistance
counts too, and the divider's current is neglected beside the load's unless it is asked for. Its own supply current
beside its output's is left out.
"""

from tutor.circuit.circuit import Circuit, Composite, LoadModel, NodeWord, Region, Slope, Variant, circuit
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

SUPPLY = Place("V_I", (0, 7), (0, 0), Side.RIGHT)
AMPLIFIER = PlaceDevice("U", (3, 4.5), Turn.NONE, Side.LEFT)
DIVIDER = (
    Place("R_1", (6.75, 7), (6.75, 2.5), Side.RIGHT, current="I_DIV", current_side=Side.RIGHT),
    Place("R_2", (6.75, 2.5), (6.75, 0), Side.RIGHT),
    Place("L", (8.75, 7), (8.75, 0), Side.LEFT),
)
AROUND = (
    Wire("in", ((4, 5), (4, 7))),
    Wire("tap", ((3, 3.5), (3, 2.5), (6.75, 2.5))),
    Wire("ref", ((3, 4.5), (2.25, 4.5), (2.25, 2.5))),
    Wire("gnd", ((0, 0), (9.75, 0))),
)
PASSED = (
    *AROUND,
    Wire("in", ((0, 7), (4.5, 7))),
    Wire("drive", ((5, 4), (5.5, 4), (5.5, 6))),
    Wire("out", ((6.5, 7), (9.75, 7))),
)
MARKS = (
    Arrow("I_L", "out", (8, 7), Side.RIGHT, Side.ABOVE),
    Terminal("out", (9.75, 7)),
    Terminal("gnd", (9.75, 0)),
    Voltage("V_O", "out", (9.75, 7), "gnd", (9.75, 0)),
)
DRIVEN = (
    *MARKS,
    Arrow("I_OA", "drive", (5.5, 5.6), Side.ABOVE, Side.RIGHT),
    NodeLabel("drive", (5.5, 4), "V_OA", Side.RIGHT),
)
GROUNDS = (Ground((0.75, 0)),)
PASS = PlaceDevice("Q", (5.5, 6), Turn.QUARTER, Side.ABOVE)
REFERENCE = Place("V_REF", (2.25, 2.5), (2.25, 0), Side.RIGHT)
REFERENCE_DRAWING = Drawing(
    "Series regulator with an op-amp", (SUPPLY, REFERENCE, AMPLIFIER, PASS, *DIVIDER), PASSED, GROUNDS, DRIVEN
)
ZENER_DRAWING = Drawing(
    "Series regulator with an op-amp and a zener for its reference",
    (
        SUPPLY,
        Place("R", (2.25, 7), (2.25, 4.5), Side.LEFT, current="I_R", current_side=Side.RIGHT),
        Place("Z", (2.25, 2), (2.25, 0), Side.RIGHT),
        AMPLIFIER,
        PASS,
        *DIVIDER,
    ),
    (*PASSED, Wire("ref", ((2.25, 2.5), (2.25, 2)))),
    GROUNDS,
    (*DRIVEN, Arrow("I_Z", "ref", (2.25, 2.4), Side.BELOW, Side.LEFT)),
)
DIRECT_DRAWING = Drawing(
    "Regulator of an op-amp alone",
    (SUPPLY, REFERENCE, AMPLIFIER, *DIVIDER),
    (*AROUND, Wire("in", ((0, 7), (4, 7))), Wire("out", ((5, 4), (5.5, 4), (5.5, 7), (9.75, 7)))),
    GROUNDS,
    (*MARKS, Arrow("I_OA", "out", (5.5, 6), Side.ABOVE, Side.RIGHT)),
)

ENDS = {
    "V_I": ("the lowest line", "the highest line"),
    "I_L": ("the lightest load", "the fullest load"),
    "R_L": ("the fullest load", "the lightest load"),
    "h_FE": ("the lowest gain", "the highest gain"),
    "V_REF": ("the lowest reference", "the highest reference"),
    "A": ("the lowest gain of the amplifier", "the highest gain of the amplifier"),
}
SHARE = "R_2/(R_1 + R_2)"
ZENER_SLOPE = "r_z/(R + r_z)"
ZENER_LINE = (
    Composite(
        "reference",
        "The zener's line behind $R$",
        "V_REF = (V_Z0*R + V_I*r_z)/(R + r_z)",
        ("regulating", "dropout"),
        cost=1.2,
        why="Nothing but the zener is fed through $R$: the reference is the zener's line met by that of $R$.",
    ),
    Composite(
        "feed",
        "Ohm's law for $R$, which feeds the zener alone",
        "I_Z = (V_I - V_Z)/R",
        ("regulating", "dropout"),
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
)
PASS_CURRENTS = (
    Composite(
        "amplifier-voltage",
        "The amplifier's output stands one junction above the regulator's",
        "V_OA = V_O + V_BE",
        cost=0.7,
        why="The pass transistor's base is driven by the amplifier, and its emitter is the output.",
    ),
    Composite(
        "amplifier-current",
        "The amplifier brings base current and no more",
        "I_OA = (I_L + I_DIV)/(h_FE + 1)",
        cost=0.8,
        why="Load and divider take the emitter current; the base brings one part of it in $h_FE + 1$.",
    ),
)


def regulator(form: str, title: str, purpose: str, drawing: Drawing) -> Circuit:
    """The regulator with an ideal reference or a zener, its amplifier driving a pass transistor or the load itself."""
    zener, direct = form == "zener", form == "direct"
    output = "V_O" if direct else "V_OA"
    drop, share_of_load = ("", "") if direct else ("- V_BE ", "/(h_FE + 1)")
    aside = f"1 + A*{SHARE}"
    counted = f"{aside} + R_O/(R_1 + R_2)" if direct else f"{aside} + R_O/((h_FE + 1)*(R_1 + R_2))"
    load = "R_O" if direct else "R_O/(h_FE + 1)"
    regions = (
        Region(
            "regulating",
            "the amplifier holds the loop" if direct else "the amplifier holds the loop and the transistor is active",
            {"U": "linear"} | ({} if direct else {"Q": "active"}) | ({"Z": "breakdown"} if zener else {}),
        ),
        Region(
            "dropout",
            "the amplifier's output is at its upper rail",
            {"U": "high"} | ({} if direct else {"Q": "active"}) | ({"Z": "breakdown"} if zener else {}),
        ),
        *((Region("starved", "the zener is off and the amplifier's output at its upper rail",
                  {"U": "high", "Q": "active", "Z": "off"}),) if zener else ()),
    )  # fmt: skip
    slopes = (
        Slope(
            "S_V",
            of="V_O",
            by="V_I",
            sign=1,
            title="Sensitivity to the line: what reaches the reference, made larger as the reference is",
            why="The amplifier itself sees no line; the zener's slope lets a share of it into the reference.",
            written={load: f"{ZENER_SLOPE}*(1 + R_1/R_2)" for load in LoadModel},
        ),
    )

    def loop(closed: str) -> tuple[tuple[str, str, str], ...]:
        """The laws of a finite gain, all that answers to the output gathered in `closed`."""
        return (
            ("U.gain", "The amplifier multiplies the difference of its inputs, less the drop in its own resistance",
             f"{output} = A*(V_REF - V_TAP) - R_O*I_OA"),
            ("loop-output", "Output of the closed loop",
             f"V_O = (A*V_REF {drop}- R_O*I_L{share_of_load})/({closed})"),
            ("slope.R_OUT", "Output resistance: that of the open loop, divided by one and the loop gain",
             f"R_OUT = {load}/({closed})"),
            ("change.I_L", "Change of $V_O$ for a change of $I_L$", "DV_O = -R_OUT*DI_L"),
            *((("slope.S_V", "Sensitivity to the line: that of the reference, through the closed loop",
                f"S_V = {ZENER_SLOPE}*A/({closed})"),) if zener else ()),
        )  # fmt: skip

    reasons = {
        "U.gain": "A gain that is not without end needs some difference between the inputs to have any output.",
        "loop-output": "Put what the divider hands back into the amplifier's own law: the output stands on both sides "
        "and is gathered.",
        "slope.R_OUT": "Of every fall of the output the divider shows its share to the amplifier, which answers $A$ "
        "times as strongly.",
        "change.I_L": "The slope says how much the output moves for one unit, and the circuit is straight over such a "
        "change.",
        "slope.S_V": "What the line moves at the reference goes through the loop like the reference itself.",
    }
    opened = ("U.virtual", "output", "upper", "divider-current", *(("slope.S_V",) if zener else ()))
    alone = (
        ("kcl.out", "Load current taken for all that the output gives", "I_OA = I_L")
        if direct
        else ("kcl.out", "Load current taken for the emitter's", "I_E = I_L")
    )
    return circuit(
        id="opamp-series",
        form=form,
        title=title,
        stage=3,
        purpose=purpose,
        netlist=f"""
            V_I    source     in   gnd
            {"R resistor in ref" if zener else "V_REF  source  ref  gnd  current= power="}
            {"Z zener ref gnd" if zener else ""}
            U      amplifier  ref  tap  {"out" if direct else "drive"}  in  {"" if direct else "power="}
            {"" if direct else "Q  npn  in  drive  out"}
            R_1    resistor   out  tap  current=I_DIV voltage= power=
            R_2    resistor   tap  gnd  current=I_DIV voltage= power=
            L      load       out  gnd
        """,
        nodes={
            "in": NodeWord("V_I", "the input node"),
            "ref": NodeWord("V_REF", "the reference node"),
            "tap": NodeWord("V_TAP", "the divider's tap"),
            **({} if direct else {"drive": NodeWord("V_OA", "the output of the amplifier")}),
            "out": NodeWord("V_O", "the output node"),
        },
        regions=regions,
        constants=(
            "V_I", *(("R", "V_Z0", "r_z", "I_ZT") if zener else ("V_REF",)), "V_DROP",
            *(() if direct else ("V_BE", "h_FE")), "R_1", "R_2",
        ),
        preferred=("V_O", "V_TAP", "I_OA", *(("I_Z",) if zener else ())),
        report=(
            "V_REF", "V_TAP", "V_O", "I_L", "R_L", "I_DIV", *(() if direct else ("I_E", "I_B", "I_C", "V_OA")), "I_OA",
            "V_HEAD",
            *(("I_R", "I_Z") if zener else ()), *(("P_D",) if direct else ("V_CE", "P_Q")), "P_O", "P_I", "eta",
            "S_V", "R_OUT",
        ),
        typical={"V_I": 18.0, "V_DROP": 2.0, "R_1": 4.7e3, "R_2": 4.7e3, "A": 500.0, "R_O": 100.0}
        | {"I_L": 0.01 if direct else 0.5}
        | ({"R": 1.8e3, "V_Z0": 4.9, "r_z": 25.0, "I_ZT": 0.005, "V_RIP": 1.0} if zener else {"V_REF": 5.0})
        | ({} if direct else {"V_BE": 0.7, "h_FE": 60.0}),
        readings=("V_O", "V_I", "I_L", "R_L", "I_OA"),
        composites=(
            Composite(
                "output",
                "The output that brings the tap to the reference",
                "V_O = V_REF*(1 + R_1/R_2)",
                ("regulating",),
                cost=0.8,
                why="The loop holds the tap at $V_REF$; the divider, of which nothing is drawn, makes the output "
                "larger in the proportion of its resistors.",
            ),
            Composite(
                "upper",
                "Upper resistor that gives an output",
                "R_1 = R_2*(V_O - V_REF)/V_REF",
                ("regulating",),
                cost=1.0,
                why="One current flows through both resistors, so their voltages are in proportion.",
            ),
            Composite(
                "divider-current",
                "Ohm's law for the lower resistor, which has $V_REF$ across it",
                "I_DIV = V_REF/R_2",
                ("regulating",),
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
                f"V_TAP = V_O*{SHARE}",
                cost=0.95,
                why="Nothing leaves the divider at its tap, so the tap has the lower resistor's share.",
            ),
            Composite(
                "supply",
                "The supply feeds load and divider" + (" and the zener" if zener else ""),
                f"I_I = I_L + I_DIV{' + I_R' if zener else ''}",
                why="What the amplifier brings comes from the supply like the rest, and leaves by the output.",
                cost=1.25,
            ),
            *(() if direct else PASS_CURRENTS),
            *(ZENER_LINE if zener else ()),
        ),
        slopes=slopes if zener else (),
        variants=(
            Variant("divider", "upper", words="$R_1$ from the output to the tap, $R_2$ from there to ground"),
            Variant(
                "divider", "lower", swaps=("R_1", "R_2"), title="$R_1$ taken as the lower resistor",
                words="$R_2$ from the output to the tap, $R_1$ from there to ground",
            ),
            Variant("amplifier", "ideal", words="a gain without end: both inputs at one voltage"),
            Variant(
                "amplifier",
                "finite",
                words="gain $A$ and output resistance $R_O$, the divider's current neglected beside the load's",
                removes=(*opened, "kcl.out", "supply", *(() if direct else ("amplifier-current",))),
                adds=(
                    alone,
                    *((("amplifier-current", "The amplifier brings base current and no more", "I_OA = I_L/(h_FE + 1)"),)
                      if not direct else ()),
                    *loop(aside),
                ),
                given="A",
                reasons={
                    **reasons,
                    "kcl.out": "The divider takes next to nothing beside the load.",
                    "amplifier-current": "The load takes the emitter current; the base brings one part of it in "
                    "$h_FE + 1$.",
                },
            ),
            Variant(
                "amplifier",
                "counted",
                words="gain $A$ and output resistance $R_O$, the divider's current counted beside the load's",
                removes=opened,
                adds=loop(counted),
                reasons=reasons,
            ),
        ),
        ends=ENDS,
        defaults={"V_DROP": 2.0} | ({} if direct else {"V_BE": 0.7, "V_CE_SAT": 0.2}),
        root_preference=("P_I", False, "a regulator is built to take the smaller power from its supply"),
        derivation={
            "V_O": ("V_REF", "R_1", "R_2"),
            "R_1": ("V_O", "V_REF", "R_2"),
            "I_OA": ("I_L", "V_REF", "R_2") if direct else ("I_L", "V_REF", "R_2", "h_FE"),
            **({"P_D": ("V_I", "V_O", "I_L", "I_DIV")} if direct else {
                "V_OA": ("V_REF", "R_1", "R_2", "V_BE"), "P_Q": ("V_I", "V_O", "I_L", "I_DIV", "h_FE"),
            }),
            **({"S_V": ()} if zener else {}),
        },
        drawing=drawing,
    )  # fmt: skip


REFERENCED = regulator(
    "reference",
    "Series regulator with an op-amp",
    "An op-amp compares a share of the output with a reference and drives the pass transistor's base just so high that "
    "both are equal: what the transistor's junction needs, the loop adds by itself.",
    REFERENCE_DRAWING,
)
ZENER = regulator(
    "zener",
    "Series regulator with an op-amp and a zener for its reference",
    "The same with its reference made of a zener behind a resistor: what the line moves there, the output moves in "
    "proportion.",
    ZENER_DRAWING,
)
DIRECT = regulator(
    "direct",
    "Regulator of an op-amp alone",
    "An op-amp that drives the load itself: the same loop for the few milliamperes that it can give.",
    DIRECT_DRAWING,
)
FORMS = (REFERENCED, ZENER, DIRECT)
