"""Can that be? Results thrown out at sight, by principles that hold in all these circuits."""

from tutor.across.family import AcrossFamily
from tutor.across.sanity import OneClaim, Surprising, ThreeClaims

FAMILY = AcrossFamily(
    title="Can that be?",
    about="A result that cannot be is thrown out before anything is worked out anew: more power than the supply "
    "brings, an output above its supply, a current that flows backward. Some results only surprise, and are true.",
    lesson="across",
    scenarios=(
        "An examiner has ten minutes for a pile of papers and looks only at the last line of each.",
        "The screen of a calculator is held up across the classroom.",
        "A data logger has printed its first figures, and somebody reads them before the coffee is cold.",
        "In the minutes of a design review a figure stands out.",
        "A customer reads numbers from a worn label over the telephone.",
        "A forum answer is posted with much confidence and no working.",
        "On the last page of a borrowed notebook only the results can still be read.",
        "A student asks whether to hand this in or to start over.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        OneClaim(
            about="One result: can it be?",
            places=(
                "boosted-shunt:1", "boosted-shunt:2", "compare-rectifiers:1", "constant-current:2", "darlington:1",
                "feedback-output:1", "feedback-output:2", "follower-design:1", "follower-state:1", "follower-state:2",
                "heat-sink:1", "heat-sink:2", "opamp-loop:2", "opamp-series:1", "opamp-shunt:1", "opamp-shunt:2",
                "output-accuracy:2", "pass-heat:1", "pass-heat:2", "reference-shunt:1", "reference-shunt:2",
                "series-temperature:2", "shunt-inverse:3", "supply-headroom:2", "supply-line-change:1",
                "supply-peak:1", "supply-ripple:2", "supply-source-model:1", "supply-transformer:1",
                "three-terminal:1", "three-terminal:2", "three-terminal-boost:2", "zener-corner-table:1",
                "zener-ratings:1", "zener-ratings:2", "zener-ripple:1", "zener-slope:2", "zener-state:1",
                "zener-state:2", "zener-temperature:2",
            ),
        ),
        ThreeClaims(
            about="Three results, one of which cannot be",
            places=(
                "boosted-shunt:1", "boosted-shunt:2", "compare-rectifiers:2", "constant-current:1", "darlington:1",
                "darlington:2", "feedback-output:2", "feedback-output:3", "follower-design:3", "follower-state:2",
                "follower-state:3", "heat-sink:1", "heat-sink:3", "opamp-loop:2", "opamp-series:1", "opamp-series:2",
                "opamp-shunt:2", "pass-heat:1", "pass-heat:2", "reference-shunt:1", "reference-shunt:2",
                "series-temperature:2", "shunt-inverse:2", "supply-headroom:2", "supply-line-change:1",
                "supply-peak:1", "supply-ripple:2", "supply-source-model:2", "supply-source-model:3",
                "supply-transformer:2", "three-terminal:1", "three-terminal-boost:1", "three-terminal-boost:2",
                "zener-corner-table:2", "zener-lab:2", "zener-ratings:1", "zener-ripple:2", "zener-slope:2",
                "zener-state:2", "zener-temperature:2",
            ),
        ),
        Surprising(
            about="Results each for itself, one of them surprising and true, and what it means",
            places=(
                "heat-sink:3", "limit-foldback:1", "limit-foldback:2", "limit-foldback:3", "opamp-loop:1",
                "opamp-loop:2", "regulation-figures:2", "supply-headroom:1", "supply-headroom:2",
                "supply-line-change:1", "supply-peak:1", "supply-ripple:2", "supply-ripple:3",
                "supply-source-model:2", "supply-transformer:1", "supply-transformer:2", "zener-corner-table:1",
                "zener-corner-table:2", "zener-ratings:1", "zener-ratings:2",
            ),
        ),
    ),
)  # fmt: skip
