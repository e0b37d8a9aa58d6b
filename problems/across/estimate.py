"""Estimate: about how much, before any working."""

from tutor.across.estimates import Estimate, LostPrefix
from tutor.across.family import AcrossFamily

MILLIAMPERES = LostPrefix(
    "milliamperes-as-amperes",
    "A",
    0.0,
    1.0,
    1000.0,
    "milliamperes taken for amperes",
    "A prefix was dropped, and the result is a thousand out.",
    "A circuit on a bench, and a current of hundreds of amperes? Write the unit beside each number.",
)
KILOHMS = LostPrefix(
    "kilohms-as-ohms",
    "ohm",
    1e3,
    1e6,
    0.001,
    "kilohms taken for ohms",
    "A prefix was dropped, and the result is a thousand out.",
    "What is printed on the resistor: ohms or thousands of them?",
)
MICROFARADS = LostPrefix(
    "microfarads-as-millifarads",
    "F",
    1e-6,
    0.1,
    1000.0,
    "microfarads taken for millifarads",
    "A power of ten was lost between microfarads and farads.",
    "Is a reservoir of whole farads likely?",
)
SLIPS = (MILLIAMPERES, KILOHMS, MICROFARADS)

FAMILY = AcrossFamily(
    title="About how much?",
    about="The size of a resistor, a current, a power or a reservoir before any working. Whoever knows the decade "
    "beforehand does not believe a calculator that is a thousand out.",
    lesson="across",
    scenarios=(
        "The parts counter closes in a minute, and somebody must say roughly what is wanted.",
        "On a hike with no paper at hand the talk turns to a circuit.",
        "A meter has to be set to its range before anything is switched on.",
        "At the telephone a colleague wants the decade at once and the figures tomorrow.",
        "A quiz at the students' bench gives ten seconds for each circuit.",
        "The calculator's cells are flat, and the drawing is due.",
        "A buyer asks over the shoulder whether the drawer of small resistors will do.",
        "Before the computer is asked, a careful designer jots down what it ought to say.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Estimate(
            about="One relation",
            places=(
                "boosted-shunt:2", "boosted-shunt:3", "constant-current:1", "darlington:1", "feedback-design:2",
                "follower-design:1", "follower-state:2", "limit-constant:1", "limit-foldback:1", "opamp-series:3",
                "opamp-shunt:1", "reference-shunt:1", "regulation-figures:1", "shunt-inverse:2", "supply-reservoir:1",
                "supply-source-model:1", "supply-transformer:1", "three-terminal:1", "zener-range:1",
                "zener-ratings:1", "zener-resistor:1", "zener-state:2",
            ),
            fewest=1,
            most=1,
            slips=SLIPS,
        ),
        Estimate(
            about="Two or three relations in the head",
            places=(
                "boosted-shunt:1", "darlington:1", "feedback-design:1", "feedback-design:3", "feedback-output:1",
                "follower-state:1", "limit-constant:1", "opamp-series:1", "reference-shunt:2", "regulation-figures:3",
                "shunt-inverse:1", "three-terminal-boost:1", "zener-range:1", "zener-slope:3", "zener-state:2",
                "zener-state:3",
            ),
            fewest=2,
            most=3,
            slips=SLIPS,
        ),
        Estimate(
            about="A worst corner or a design's bound, to be found first",
            places=(
                "constant-current:3", "feedback-design:2", "follower-design:1", "heat-sink:2", "heat-sink:3",
                "limit-constant:3", "opamp-loop:3", "opamp-series:2", "pass-heat:1", "pass-heat:2", "pass-heat:3",
                "reference-shunt:2", "supply-reservoir:2", "three-terminal:2", "three-terminal:3",
                "three-terminal-boost:2", "three-terminal-boost:3", "zener-lab:3", "zener-ratings:3",
                "zener-resistor:1", "zener-resistor:2", "zener-resistor:3", "zener-ripple:2", "zener-ripple:3",
            ),
            fewest=1,
            most=4,
            slips=SLIPS,
            corner=True,
        ),
    ),
)  # fmt: skip
