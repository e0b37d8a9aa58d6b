"""Is the zener in breakdown? The test first, then the currents and powers; at level 3 worked backwards."""

from tutor.generate.family import (
    Family,
    Find,
    FindBound,
    Level,
    Pick,
    PickPart,
    Rewrite,
    Slip,
    Swap,
    TellState,
    Turn,
)
from tutor.quantities.preferred import Series, values_between

ZENER = PickPart("zeners", {"V_Z": "V_Z"}, (("V_Z", 3.3, 15.0), ("P_ZM", 1.0, 1.0)))
VOLTS = tuple(float(volts) for volts in range(9, 31))
STATES = ("breakdown", "off")

UPSIDE_DOWN = Slip(
    "divider-upside-down",
    "V_TH",
    Rewrite("V_I*R/(R + R_L)"),
    "the divider turned upside down",
    "The output is taken across the load, so $R_L$ stands above the line.",
    "Across which of the two resistors is the output?",
)
NO_DIVIDER = Slip(
    "no-divider",
    "V_TH",
    Rewrite("V_I"),
    "the load left out of the test",
    "With the zener out, the load still draws current through $R$ and pulls the node down.",
    "With the zener taken out, is there still a current through $R$?",
)
HELD_AT_V_Z = Slip(
    "held-at-V_Z",
    "V_O",
    Rewrite("V_Z"),
    "$V_O = V_Z$ kept after the zener has dropped out",
    "With no zener current the circuit is a plain divider; the zener can take current away, never supply it.",
    "Does any current flow in the zener here?",
    region="off",
    reference=("S20",),
)
SUM_AT_NODE = Slip(
    "sum-at-node",
    "I_Z",
    Turn("I_L"),
    "load current added to the current through $R$",
    "The load takes its share of what $R$ brings; the zener is left the rest.",
    "What flows into the output node, and what flows out of it?",
    reference=("S21",),
)
LOAD_POWER = Slip(
    "load-power",
    "P_Z",
    Swap("I_Z", "I_L"),
    "zener voltage times load current",
    "That is the load's power; the zener's own current makes its heat.",
    "Which current flows through the zener itself?",
    reference=("S10",),
)
WHOLE_INPUT = Slip(
    "whole-input",
    "P_R",
    Rewrite("V_I^2/R"),
    "resistor power from the whole input voltage",
    "Only the difference between input and output stands across $R$.",
    "What is the voltage at the far end of $R$?",
    reference=("S11",),
)
WHOLE_INPUT_CURRENT = Slip(
    "whole-input-current",
    "I_R",
    Rewrite("V_I/R"),
    "the whole input voltage put across $R$",
    "$R$ ends at the output node, which is not at ground.",
    "Which two nodes does $R$ join?",
)

FAMILY = Family(
    title="State of a zener shunt regulator",
    about="Take the zener out, look at the node, and only then trust its voltage. After the test, currents and powers "
    "follow one by one.",
    lesson="shunt",
    circuit="zener-shunt",
    scenarios=(
        "A bird-box camera is fed through a zener from a garden supply.",
        "The display of a pottery kiln's clock is held by a zener on the control board.",
        "A rain gauge's counter takes its supply across a zener in the mast box.",
        "A museum's case lights share a supply with a small humidity sensor held by a zener.",
        "A bicycle workshop builds a zener-fed tester for dynamo lamps.",
        "The level switch of a farm's water tank is fed across a zener at the end of a long cable.",
        "An organ builder feeds a key-contact board from a zener beside the blower.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Level(
            about="The test, and the output it tells of",
            draws=(
                Pick("V_I", VOLTS),
                Pick("R", values_between(100, 1000, Series.E12)),
                Pick("R_L", values_between(100, 4700, Series.E12)),
                ZENER,
            ),
            given=("V_I", "R", "R_L", "V_Z"),
            data="The raw supply is {V_I}, the series resistor {R}, the load {R_L}, and the zener's characteristic is "
            "straight at {V_Z}.",
            ask="Decide whether the zener is in breakdown, and find the output voltage.",
            asks=(
                Find("V_TH", "the output voltage $V_TH$ with the zener taken out"),
                TellState("V_TH", "V_Z", "the state of the zener"),
                Find("V_O", "the output voltage $V_O$"),
            ),
            regions=STATES,
            require=("V_I >= 1.2*V_Z",),
            slips=(UPSIDE_DOWN, NO_DIVIDER, HELD_AT_V_Z),
            band={"V_Z": 0.05, "R": 0.05},
        ),
        Level(
            about="Every current and power after the test",
            draws=(
                Pick("V_I", VOLTS),
                Pick("R", values_between(47, 1000, Series.E12)),
                Pick("R_L", values_between(100, 4700, Series.E12)),
                ZENER,
                Pick("P_ZM", (1.0,)),
            ),
            given=("V_I", "R", "R_L", "V_Z"),
            data="The raw supply is {V_I}, the series resistor {R}, the load {R_L}, and the zener's characteristic is "
            "straight at {V_Z}.",
            ask="Find the state of the zener, the currents, and the powers in zener and resistor.",
            asks=(
                Find("V_TH", "the output voltage $V_TH$ with the zener taken out"),
                TellState("V_TH", "V_Z", "the state of the zener"),
                Find("V_O", "the output voltage $V_O$"),
                Find("I_R", "the current $I_R$ through the series resistor"),
                Find("I_L", "the load current $I_L$", region="breakdown"),
                Find("I_Z", "the zener current $I_Z$", region="breakdown"),
                Find("P_Z", "the power $P_Z$ in the zener", region="breakdown"),
                Find("P_R", "the power $P_R$ in the series resistor"),
            ),
            regions=STATES,
            require=("V_I >= 1.2*V_Z", "I_R <= 0.2", "P_R <= 3"),
            slips=(
                UPSIDE_DOWN,
                HELD_AT_V_Z,
                WHOLE_INPUT_CURRENT,
                SUM_AT_NODE,
                LOAD_POWER,
                WHOLE_INPUT,
            ),
            band={"V_Z": 0.05, "R": 0.05},
            bench="a zener of 5 % tolerance moves every current here with it, the zener's own most of all",
        ),
        Level(
            about="Backwards: the resistor from a reading, then how far load and line may go",
            draws=(
                Pick("V_I", VOLTS),
                ZENER,
                Pick("R_L", values_between(150, 2200, Series.E12)),
                Pick("I_Z", tuple(milliamps / 1000 for milliamps in (12, 15, 18, 20, 24, 25, 30, 35, 40))),
                Pick("I_ZK", (0.001, 0.002, 0.003, 0.005)),
            ),
            given=("V_I", "V_Z", "R_L", "I_Z", "I_ZK"),
            labels={"I_Z": "zener current measured", "R_L": "load resistance at the measurement"},
            data="At {V_I} the zener ({V_Z}, straight) was measured to carry {I_Z} beside a load of {R_L}. It "
            "regulates "
            "well while it carries at least {I_ZK}.",
            ask="Find the series resistor, then the least load resistance at this line and the lowest line at this "
            "load "
            "for which the zener still regulates.",
            asks=(
                Find("I_L", "the load current $I_L$ at the measurement"),
                Find("R", "the series resistor $R$"),
                FindBound("R_L", "I_Z >= I_ZK", "the least load resistance at this line"),
                FindBound("V_I", "I_Z >= I_ZK", "the lowest line at this load"),
            ),
            require=("V_I >= 1.3*V_Z", "R >= 47", "R <= 2200"),
            slips=(
                Slip(
                    "zener-left-out",
                    "R",
                    Rewrite("(V_I - V_Z)/I_L"),
                    "the zener's current left out of what $R$ carries",
                    "$R$ feeds two branches: load and zener.",
                    "Write the current law at the output node: what flows in, what flows out?",
                ),
                Slip(
                    "currents-subtracted",
                    "R",
                    Rewrite("(V_I - V_Z)/(I_L - I_Z)"),
                    "zener current taken from load current",
                    "$R$ carries the sum, since it feeds both branches side by side.",
                    "Do the two branch currents add or cancel in $R$?",
                    reference=("S05",),
                ),
                Slip(
                    "knee-left-out",
                    "R_L_MIN",
                    Rewrite("V_Z*R/(V_I - V_Z)"),
                    "the knee current left out at the limit",
                    "At the limit the zener must still carry $I_ZK$, so less is left for the load.",
                    "At the edge of regulation, is the zener's current zero?",
                ),
                Slip(
                    "line-at-V_Z",
                    "V_I_MIN",
                    Rewrite("V_Z"),
                    "regulation believed to last until the line falls to $V_Z$",
                    "$R$ still has to carry the load's current, and that takes voltage.",
                    "How much voltage does $R$ need to bring the load its current?",
                ),
            ),
            band={"V_Z": 0.05},
            bench="near its knee a real zener rounds off: below $I_ZK$ the output is already lower than $V_Z$",
        ),
    ),
)
