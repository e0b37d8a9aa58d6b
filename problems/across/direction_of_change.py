"""Rises, falls or stays: what one move does to the rest of a circuit, from the derived signs."""

from tutor.across.directions import Belief, Directions
from tutor.across.family import AcrossFamily

SHUNTS = ("zener-shunt", "compensated-shunt", "boosted-shunt", "opamp-shunt", "reference-shunt")
FOLLOWERS = ("follower", "darlington")
LOOPS = (
    "feedback-pair-unfed", "feedback-pair-fed", "opamp-series-reference", "opamp-series-zener", "opamp-series-direct",
)
HEAT = ("heat-path-free-air", "heat-path-heat-sink", "heat-path-regulator")
TERMINALS = (
    "three-terminal-adjustable", "three-terminal-fixed", "three-terminal-raised", "three-terminal-boosted",
    "three-terminal-current-source",
)
SUPPLIES = ("source", "reservoir-half-wave", "reservoir-centre-tap", "reservoir-bridge", "rectifiers")
COMBINED = (
    "regulators", "whole-supply-three-terminal", "whole-supply-follower",
    "prestabilised-zener", "prestabilised-reference", "full-regulator",
)
LIMITERS = ("current-limit", "foldback")

SOURCE_FOLLOWS_LOAD = tuple(
    Belief(
        f"source-follows-load-{quantity}-{'up' if way > 0 else 'down'}",
        quantity,
        "I_L",
        way,
        "rises" if way > 0 else "falls",
        "the supply believed to feel the load",
        "While the zener conducts, both ends of $R$ stand still, and so does its current; what the load takes more is "
        "what the zener gets less.",
        "What fixes the current through $R$: the load, or the voltages at its two ends?",
        reference=("S22",),
        circuits=SHUNTS,
    )
    for quantity in ("I_I", "I_R", "P_I")
    for way in (1, -1)
)
FIXED_SOURCE = tuple(
    Belief(
        f"fixed-source-{quantity}-{'up' if way > 0 else 'down'}",
        quantity,
        "V_I",
        way,
        "stays",
        "the supply taken for a source of fixed current",
        "A supply holds its voltage and gives whatever current the circuit asks for; more voltage across $R$ is more "
        "current through it.",
        "Which of the two does a supply hold, its voltage or its current?",
        reference=("S23",),
        circuits=(*SHUNTS, *FOLLOWERS),
    )
    for quantity in ("I_I", "I_R")
    for way in (1, -1)
)
LOCAL = tuple(
    Belief(
        f"only-the-moved-part-{quantity}-{'up' if way > 0 else 'down'}",
        quantity,
        mover,
        way,
        "stays",
        "only the part that moved looked at",
        "What one branch takes, another gets less of: the change does not stay in the part where it was made.",
        "Follow the current law at the node: what must give way?",
        reference=("N10",),
    )
    for quantity, mover in (("I_Z", "I_L"), ("I_K", "I_L"), ("I_Z", "R"), ("I_C_2", "I_L"), ("I_B", "I_L"))
    for way in (1, -1)
)
SAME_DROP = tuple(
    Belief(
        f"drop-as-the-resistor-{'up' if way > 0 else 'down'}",
        "V_CE",
        "R",
        way,
        "rises" if way > 0 else "falls",
        "the transistor taken to lie beside $R$",
        "$R$ ends at the base and the transistor at the output: they share the supply and no more.",
        "Between which two nodes does the transistor lie, and does either of them move?",
        reference=("E16",),
        circuits=("follower",),
    )
    for way in (1, -1)
)
AMPLIFIED = tuple(
    Belief(
        f"output-takes-the-gain-{'up' if way > 0 else 'down'}",
        "V_O",
        "h_FE",
        way,
        "rises" if way > 0 else "falls",
        "the follower believed to amplify the zener's voltage",
        "A follower multiplies current; its output stays one junction below the base, whatever its gain.",
        "In the relation for the output, where does the gain stand?",
        reference=("E19",),
        circuits=("follower", "darlington"),
    )
    for way in (1, -1)
)
STILL_HELD = tuple(
    Belief(
        f"held-out-of-regulation-{'up' if way > 0 else 'down'}",
        "V_O",
        "V_I",
        way,
        "stays",
        "a loop believed to hold where it has nothing left to hold with",
        "At its rail an amplifier cannot bring its inputs together; the output then follows the line.",
        "In which state is the circuit, and what does the loop still have in hand?",
        reference=("F08",),
        circuits=("opamp-series-reference", "opamp-series-zener", "opamp-series-direct"),
        states=("dropout",),
    )
    for way in (1, -1)
)
RAISED = tuple(
    Belief(
        f"held-below-breakdown-{'up' if way > 0 else 'down'}",
        "V_O",
        "V_I",
        way,
        "stays",
        "a shunt regulator believed to hold below its zener's voltage",
        "It can only lose voltage in $R$. With too little left for the zener it is a divider, and that follows the "
        "line.",
        "Does the zener carry any current in this state?",
        reference=("S24",),
        circuits=("zener-shunt",),
        states=("off",),
    )
    for way in (1, -1)
)
BELIEFS = (*SOURCE_FOLLOWS_LOAD, *FIXED_SOURCE, *LOCAL, *SAME_DROP, *AMPLIFIED, *STILL_HELD, *RAISED)

FAMILY = AcrossFamily(
    title="Which way does it go?",
    about="One thing moves and all else is held. Whoever sees which quantities move, which way, and which stand still, "
    "has understood the circuit before any number is put in.",
    lesson="across",
    scenarios=(
        "Two students lay a bet at the bench before anybody touches the knob.",
        "A lecturer covers the meters with a cloth and asks the row at the back.",
        "The repair card of a lighthouse's spare supply asks for a forecast before each test.",
        "A choir's sound desk hums, and its keeper thinks before reaching for a tool.",
        "On a night train the carriage lamp's supply is being talked through, for want of instruments.",
        "A study group in a boathouse has one circuit on a napkin and no calculator.",
        "An apprentice must say what will happen before the master closes the switch.",
        "In a planetarium's cellar the stand-in works out on paper what the panel will show.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Directions(
            about="The load or the line moves in one of the plain circuits",
            circuits=("zener-shunt", "follower", "compensated-shunt", "source", "three-terminal-fixed"),
            movers=("I_L", "V_I", "V_OC", "R"),
            asked=4,
            beliefs=BELIEFS,
        ),
        Directions(
            about="The load, the line or a part moves in any circuit",
            circuits=(*SHUNTS, *FOLLOWERS, *LOOPS, *TERMINALS, *SUPPLIES, *LIMITERS, *HEAT, *COMBINED),
            movers=(
                "I_L", "V_I", "R", "V_Z", "h_FE", "h_FE_1", "R_1", "R_2", "V_SEC", "C", "f", "R_S", "P_D", "T_A",
                "R_thJA", "R_thSA",
            ),
            asked=5,
            beliefs=BELIEFS,
        ),
        Directions(
            about="As before with a zener that leans and with quantities pulled both ways, also out of regulation",
            circuits=(
                "zener-shunt", "boosted-shunt", *FOLLOWERS, *LOOPS, *TERMINALS, *LIMITERS, "heat-path-raw-supply",
            ),
            movers=("I_L", "V_I", "R", "V_BE", "V_BE_2", "r_z", "R_1", "R_2", "R_SENSE", "h_FE", "h_FE_1", "T_A"),
            asked=6,
            states={
                "zener-shunt": ("breakdown", "off"),
                "boosted-shunt": ("regulating", "zener-alone"),
                "follower": ("regulating", "starved"),
                "darlington": ("regulating", "starved"),
                "feedback-pair-unfed": ("regulating", "dropout"),
                "opamp-series-reference": ("regulating", "dropout"),
                "opamp-series-zener": ("regulating", "dropout"),
                "three-terminal-fixed": ("regulating", "dropout"),
                "three-terminal-adjustable": ("regulating", "dropout"),
                "heat-path-raw-supply": ("regulating", "dropout"),
            },
            leaning=True,
            clashes=True,
            beliefs=BELIEFS,
        ),
    ),
)  # fmt: skip
