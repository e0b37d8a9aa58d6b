"""How far load and line may go: the knee ends the range on one side, the zener's rating on the other."""

from tutor.generate.family import (
    BackLine,
    CheckLine,
    Drop,
    Family,
    Find,
    FindBound,
    Level,
    Pick,
    PickPart,
    Rewrite,
    Slip,
    Swap,
    Turn,
    Work,
)
from tutor.quantities.preferred import Series, values_between

VOLTS = tuple(half / 2 for half in range(18, 61))
KNEE = tuple(milliamps / 1000 for milliamps in (1, 2, 3, 4, 5))

LABELS = {
    "I_ZK": "least zener current for good regulation",
    "P_ZM": "rating of the zener",
    "V_Z": "zener voltage (straight characteristic)",
    "V_ZT": "zener voltage at the test current",
    "I_ZT": "test current",
    "r_z": "slope of the zener",
    "I_ZM": "greatest permissible zener current",
}

KNEE_LEFT_OUT = Slip(
    "knee-left-out",
    "I_L_MAX",
    Drop("I_Z"),
    "the zener's least current left out",
    "If the load took all that $R$ brings, nothing would keep the zener in breakdown.",
    "At the edge of regulation, is the zener's current zero?",
    reference=("S01",),
)
KNEE_ADDED = Slip(
    "knee-added",
    "I_L_MAX",
    Turn("I_Z"),
    "the zener's least current added",
    "What the zener must keep is taken away from what $R$ brings, and only the rest is free for the load.",
    "Who else besides the load takes current out of the output node?",
)
WHOLE_INPUT = Slip(
    "whole-input",
    "I_R",
    Rewrite("V_I/R"),
    "the whole input voltage put across $R$",
    "$R$ ends at the output node, which the zener holds above ground.",
    "Which two nodes does $R$ join?",
)
KNEE_LEFT_OUT_OF_LOAD = Slip(
    "load-takes-all",
    "R_L_MIN",
    Rewrite("V_Z*R/(V_I - V_Z)"),
    "the load given all that $R$ brings",
    "The heaviest load leaves the zener its least current; the load takes the rest and not the whole.",
    "Which current flows through the load at the edge of regulation?",
)
HIGH_LINE_FOR_FULL_LOAD = Slip(
    "high-line-for-full-load",
    "I_L_MAX",
    Swap("V_I", "V_I_MAX"),
    "the highest line used for the fullest load",
    "The fullest load must be carried at every line, and at the lowest one $R$ brings least.",
    "Which line brings least current through $R$?",
)
LOW_LINE_FOR_LIGHT_LOAD = Slip(
    "low-line-for-light-load",
    "I_L_MIN",
    Swap("V_I", "V_I_MIN"),
    "the lowest line used for the lightest load",
    "The zener is overloaded where $R$ brings most, and that is at the highest line.",
    "Which line drives most current through $R$?",
)
RATING_AS_LOAD = Slip(
    "rating-as-load",
    "I_L_MIN",
    Drop("I_Z"),
    "the zener's greatest current left out",
    "The zener may take its rated current; only what is left over has to go to the load.",
    "How much of the current may the zener itself carry?",
)
CROSSED_ENDS = Slip(
    "ends-crossed",
    "R_L_MAX",
    Rewrite("V_Z/((V_I_MAX - V_Z)/R - I_ZK)"),
    "the knee used where the rating belongs",
    "A light load leaves the zener much, so its rating is what ends the range there.",
    "Which of the two limits does a light load run into?",
)
LIGHT_LOAD_STARVES = Slip(
    "light-load-at-the-knee",
    "V_I_MIN",
    Swap("I_L", "I_L_MIN"),
    "the lightest load used for the lowest line",
    "The line must still feed the fullest load, and that asks for most current through $R$.",
    "Which load leaves the zener with least?",
)
FULL_LOAD_HEATS = Slip(
    "full-load-at-the-rating",
    "V_I_MAX",
    Swap("I_L", "I_L_MAX"),
    "the fullest load used for the highest line",
    "The zener carries most when the load takes least.",
    "Unplug the load in thought: where does its current go?",
)
ONE_VOLTAGE = Slip(
    "one-zener-voltage",
    "V_I_MAX",
    Swap("V_Z0 + r_z*I_Z", "V_Z0 + r_z*I_ZK"),
    "the zener voltage at the knee kept at full current",
    "From the knee to the greatest current the zener's voltage climbs its slope.",
    "Is the zener's voltage the same at its least and at its greatest current?",
    step="V_Z",
)
INTERCEPT_UP = Slip(
    "intercept-above",
    "V_Z0",
    Rewrite("V_ZT + r_z*I_ZT"),
    "the intercept put above the test point",
    "Going back to zero current takes the slope's share off.",
    "Is the voltage at zero current above or below that at the test current?",
)

FAMILY = Family(
    edition=2,
    title="How far load and line may go",
    about="A shunt regulator holds between two ends: the zener must keep its least current and must not pass its "
    "greatest. Each end is met at its own corner.",
    lesson="shunt",
    circuit="zener-shunt",
    scenarios=(
        "A greenhouse's vent motor has a position sensor that is fed across a zener.",
        "The tuning fork clock of a sailing club runs from a zener regulator in the boathouse.",
        "A potter's kiln logger was built years ago, and nobody knows how much more its zener supply can feed.",
        "A ski lift's wind alarm takes its supply across a zener at the top station.",
        "A toy theatre lights its footlights' control from a zener regulator under the stage.",
        "The dosing pump of a swimming bath has a zener-fed conductivity probe.",
        "A radio amateur's frequency counter shares a workshop supply through a zener regulator.",
    ),
    cautions=("hot-parts", "capacitors", "output"),
    levels=(
        Level(
            about="The heaviest load at one line",
            draws=(
                Pick("V_I", VOLTS),
                Pick("R", values_between(82, 1000, Series.E12)),
                PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"}, (("V_Z", 3.3, 18.0), ("P_ZM", 1.0, 1.0))),
                Pick("I_ZK", KNEE),
            ),
            given=("V_I", "R", "V_Z", "I_ZK"),
            labels=LABELS,
            data="The supply stands at {V_I}, the series resistor is {R}, and the zener's characteristic is straight "
            "at {V_Z}. It regulates well while it carries at least {I_ZK}.",
            ask="Find what flows through the series resistor, the greatest load current the regulator can give, and "
            "the least load resistance it can feed.",
            asks=(
                Find("I_R", "the current $I_R$ through the series resistor"),
                FindBound("I_L", "I_Z >= I_ZK", "the greatest load current"),
                Find("R_L", "the least load resistance", key="R_L_MIN", at={"I_L": "I_L_MAX"}),
            ),
            require=("V_I >= 1.3*V_Z", "I_R*V_Z <= 0.8*P_ZM", "I_ZK >= 0.06*I_R", "I_L_MAX >= I_ZK"),
            slips=(WHOLE_INPUT, KNEE_LEFT_OUT, KNEE_ADDED, KNEE_LEFT_OUT_OF_LOAD),
            back=(BackLine("The currents add up again", "I_L_MAX + I_ZK", "I_R"),),
            checks=(CheckLine("Load unplugged", "P_Z <= P_ZM", {"I_L": "0"}),),
            band={"V_Z": 0.05, "R": 0.05},
            bench="a zener does not stop at its knee, it rounds off; a little below the least current the output has "
            "already begun to sink",
        ),
        Level(
            about="Both ends of the load, over a whole range of lines",
            draws=(
                PickPart("zeners", {"V_Z": "V_Z", "P_ZM": "P_ZM"}, (("V_Z", 4.7, 15.0), ("P_ZM", 0.5, 1.0))),
                Pick("V_I_MIN", VOLTS),
                Pick("spread", (1.0, 2.0, 3.0, 4.0)),
                Work("V_I_MAX", "V_I_MIN + spread"),
                Pick("R", values_between(47, 470, Series.E12)),
                Pick("I_ZK", KNEE),
            ),
            given=("V_I_MIN", "V_I_MAX", "R", "V_Z", "I_ZK", "P_ZM"),
            ranges=("V_I",),
            labels=LABELS,
            data="The line lies between {V_I_MIN} and {V_I_MAX}, the series resistor is {R}, and the zener's "
            "characteristic is straight at {V_Z}. It regulates well from {I_ZK} on and is rated {P_ZM}.",
            ask="Find the greatest and the least load current that the regulator can serve at every line, and the "
            "load resistances that go with them.",
            asks=(
                Find("I_ZM", "the greatest current the zener may carry"),
                FindBound("I_L", "I_Z >= I_ZK", "the greatest load current at every line"),
                FindBound("I_L", "I_Z <= I_ZM", "the least load current at every line"),
                Find("R_L", "the least load resistance", key="R_L_MIN", at={"I_L": "I_L_MAX"}),
                Find("R_L", "the greatest load resistance", key="R_L_MAX", at={"I_L": "I_L_MIN"}),
            ),
            require=(
                "V_I_MIN >= 1.25*V_Z",
                "I_L_MIN >= 0.003",
                "R_L_MAX >= 2*R_L_MIN",
                "R_L_MAX <= 10*R_L_MIN",
                "I_ZK >= 0.04*I_L_MAX",
                "V_I_MAX <= 42",
            ),
            slips=(
                KNEE_LEFT_OUT,
                KNEE_ADDED,
                HIGH_LINE_FOR_FULL_LOAD,
                LOW_LINE_FOR_LIGHT_LOAD,
                RATING_AS_LOAD,
                CROSSED_ENDS,
            ),
            checks=(
                CheckLine("Fullest load, lowest line", "I_Z >= I_ZK", {"I_L": "I_L_MAX"}),
                CheckLine("Lightest load, highest line", "P_Z <= P_ZM", {"I_L": "I_L_MIN"}),
            ),
            band={"V_Z": 0.05, "R": 0.05},
            bench="such a regulator may never be run without its load; one that must bear it needs a larger zener or "
            "more series resistance",
        ),
        Level(
            about="Backwards: the lines it bears, with a zener that leans",
            draws=(
                PickPart(
                    "zeners",
                    {"V_ZT": "V_Z", "I_ZT": "I_ZT", "r_z": "r_z", "I_ZK": "I_ZK", "I_ZM": "I_ZM"},
                    (("V_Z", 5.1, 16.0), ("P_ZM", 1.0, 1.0)),
                ),
                Pick("I_L_MIN", tuple(milliamps / 1000 for milliamps in (1, 2, 3, 4, 5, 6, 8, 10))),
                Pick("I_L_MAX", tuple(milliamps / 1000 for milliamps in (15, 20, 25, 30, 35, 40, 50))),
                Pick("R", values_between(82, 390, Series.E12)),
            ),
            given=("R", "V_ZT", "I_ZT", "r_z", "I_ZK", "I_ZM", "I_L_MIN", "I_L_MAX"),
            ranges=("I_L",),
            labels=LABELS,
            data="Its zener is specified as {V_ZT} at {I_ZT} with a slope of {r_z}; it regulates from {I_ZK} on and "
            "may carry up to {I_ZM}. The series resistor is {R}, and the load draws between {I_L_MIN} and {I_L_MAX}.",
            ask="Find the lowest and the highest line between which every load is served, and the output at both ends.",
            asks=(
                Find("V_Z0", "the zener voltage $V_Z0$ extrapolated to zero current"),
                FindBound("V_I", "I_Z >= I_ZK", "the lowest line at which every load is served"),
                FindBound("V_I", "I_Z <= I_ZM", "the highest line at which no load overheats the zener"),
                Find("V_O", "the output at the knee", key="V_O_MIN", at={"I_Z": "I_ZK"}),
                Find("V_O", "the output at the zener's greatest current", key="V_O_MAX", at={"I_Z": "I_ZM"}),
            ),
            require=("V_I_MAX >= 1.15*V_I_MIN", "V_I_MAX <= 42"),
            slips=(INTERCEPT_UP, LIGHT_LOAD_STARVES, FULL_LOAD_HEATS, ONE_VOLTAGE),
            checks=(
                CheckLine("Fullest load at the lowest line", "I_Z >= I_ZK", {"V_I": "V_I_MIN"}),
                CheckLine("Lightest load at the highest line", "I_Z <= I_ZM", {"V_I": "V_I_MAX"}),
            ),
            band={"V_ZT": 0.05, "R": 0.05},
            bench="a zener at its greatest current is hot, and its voltage has moved by more than its slope says",
        ),
    ),
)
