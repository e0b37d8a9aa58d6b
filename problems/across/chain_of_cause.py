"""The answer of a regulator in order: statements read off its loop, to be put one after the other."""

from tutor.across.causes import Causes
from tutor.across.family import AcrossFamily

FAMILY = AcrossFamily(
    title="What leans on what",
    about="A load or a line steps, and the circuit answers. Each statement of the answer leans on others; whoever can "
    "put them in order can follow a loop he has never seen.",
    lesson="across",
    scenarios=(
        "The pages of a service manual have come loose, and the paragraph on regulation is in strips.",
        "A trainee explains at the board, and the class is to say what must come before what.",
        "On the ferry's night watch two engineers argue about which comes first.",
        "A museum writes a panel on how its old radio's supply keeps still, one sentence a plate.",
        "The radio club's newsletter got its sentences in the order of their length.",
        "A translator without electronics has put the sentences of a data sheet on cards.",
        "Before the oral examination somebody shuffles the cards of the last lesson.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    levels=(
        Causes(
            about="The load steps in a circuit with one short loop",
            circuits=(
                "zener-shunt", "compensated-shunt", "follower", "darlington", "reference-shunt",
                "three-terminal-adjustable", "three-terminal-raised",
            ),
            steps=("I_L",),
        ),
        Causes(
            about="The load steps in a circuit with an amplifier in its loop; one statement is not so",
            circuits=(
                "feedback-pair-unfed", "feedback-pair-fed", "opamp-series-reference", "opamp-series-zener",
                "opamp-shunt", "boosted-shunt", "three-terminal-boosted",
            ),
            steps=("I_L",),
            strangers=1,
        ),
        Causes(
            about="The line steps, or the load in a longer loop; two statements are not so",
            circuits=(
                "zener-shunt", "compensated-shunt", "boosted-shunt", "opamp-shunt", "reference-shunt",
                "feedback-pair-unfed", "feedback-pair-fed",
            ),
            steps=("V_I", "I_L"),
            strangers=2,
        ),
    ),
)  # fmt: skip
