"""Find the wrong line: a working with one slip in it, carried on to the end."""

from tutor.across.family import AcrossFamily
from tutor.across.wrong_line import WrongLine

# Slips whose line the checker takes to follow from those above it.
FOLLOWING = (
    "supply-headroom:1 loaded-crest",
    "supply-ripple:2 bare-wave",
    "supply-ripple:3 marked-value",
    "supply-transformer:3 line-left-out",
    "zener-ratings:3 short-overlooked",
)

FAMILY = AcrossFamily(
    title="Find the wrong line",
    about="A working in which one line is wrong and everything after it is carried on without a fault. Whoever finds "
    "the line, says why and puts it right can check their own work.",
    lesson="across",
    scenarios=(
        "A neighbour on the course hands over a working and asks why it does not agree with the book.",
        "The folder of a workshop for model railways holds a working that somebody once trusted.",
        "Two students came to different results, and one of them lays the working on the table.",
        "A technician back from leave goes through a working left on the bench before anything is built from it.",
        "The editor of a club magazine checks a working that a reader has sent in.",
        "An old notebook from a radio station turns up, and its first page holds a working.",
        "A lecturer hands out a working with the red ink left off.",
        "Before the parts are ordered for a bell tower's lamp, a second pair of eyes reads the working.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        WrongLine(
            about="A short working with one slip in it",
            places=(
                "follower-design:1", "limit-constant:1", "output-accuracy:1", "pass-heat:1", "supply-headroom:1",
                "supply-reservoir:1", "supply-transformer:1", "three-terminal-boost:1", "zener-corner-table:1",
            ),
            without=FOLLOWING,
        ),
        WrongLine(
            about="Corners, and a wrong line that does not look it: the odd value stands further down",
            places=(
                "darlington:2", "feedback-design:2", "follower-design:2", "follower-state:2", "reference-shunt:2",
                "series-temperature:2", "shunt-inverse:2", "supply-headroom:2", "supply-reservoir:2", "supply-ripple:2",
                "supply-transformer:2", "zener-lab:2", "zener-range:2", "zener-ratings:2", "zener-resistor:2",
                "zener-state:2", "zener-temperature:2",
            ),
            hidden=True,
            without=FOLLOWING,
        ),
        WrongLine(
            about="A design whose wrong line ends in a wrong choice or verdict",
            places=(
                "constant-current:3", "feedback-design:3", "follower-design:3", "heat-sink:3", "limit-constant:3",
                "opamp-loop:3", "opamp-series:3", "opamp-shunt:3", "pass-heat:3", "reference-shunt:3",
                "supply-reservoir:3", "supply-transformer:3", "three-terminal:3", "zener-ratings:3", "zener-resistor:3",
                "zener-ripple:3",
            ),
            choices=True,
            without=FOLLOWING,
        ),
    ),
)  # fmt: skip
