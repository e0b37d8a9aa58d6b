"""What is wrong with it: from meter readings to the fault, each reading from the faulty circuit solved."""

from dataclasses import replace

from tutor.across.family import AcrossFamily
from tutor.across.fault_finding import EitherQuestion, FaultBelief, FaultFinding
from tutor.across.meters import Bench, MeterReading
from tutor.across.next_measurement import NextMeasurement

OUT = MeterReading("V_O", "output voltage, loaded", "V_O", "V", node="out")
OUT_LIFTED = MeterReading("V_O lifted", "output voltage, unloaded", "V_O", "V", node="out", lifted=True)
DRAWN = MeterReading("I_I", "supply current, loaded", "I_I", "A", part="V_I")
DRAWN_LIFTED = MeterReading("I_I lifted", "supply current, unloaded", "I_I", "A", part="V_I", lifted=True)
INPUT = MeterReading("V_I", "voltage at the input terminals, loaded", "V_I", "V", node="in")
BASE = MeterReading("V_B", "base voltage, loaded", "V_B", "V", node="base")
BASE_LIFTED = MeterReading("V_B lifted", "base voltage, unloaded", "V_B", "V", node="base", lifted=True)
INPUT_LIFTED = MeterReading(
    "V_I lifted", "voltage at the input terminals, unloaded", "V_I", "V", node="in", lifted=True
)
MIDDLE = MeterReading("V_F", "voltage between zener and diode, loaded", "V_F", "V", node="mid")
TAP = MeterReading("V_TAP", "divider tap, loaded", "V_TAP", "V", node="tap")
EMITTER = MeterReading("V_E_2", "emitter of the error transistor, loaded", "V_E_2", "V", node="error")
DRIVE = MeterReading("V_OA", "amplifier's output, loaded", "V_OA", "V", node="drive")
REFERENCE = MeterReading("V_REF", "reference, loaded", "V_REF", "V", node="ref")

BURNS = ("tenth R",)  # the resistor would burn before a meter is read
SHUNT_VALUES = {"V_I": (12.0, 15.0, 18.0, 20.0, 24.0), "R": (100.0, 120.0, 150.0, 180.0, 220.0, 270.0)}
ZENERS = (5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1)
LOADS = (330.0, 390.0, 470.0, 560.0, 680.0, 820.0, 1000.0)
SHUNT_READINGS = (OUT, OUT_LIFTED, DRAWN)

ZENER_SHUNT = Bench(
    "zener-shunt",
    {"R": "series resistor", "Z": "zener", "L": "output"},
    {**SHUNT_VALUES, "V_Z": ZENERS, "R_L": LOADS},
    SHUNT_READINGS,
    without=BURNS,
    joint=47.0,
)
COMPENSATED = Bench(
    "compensated-shunt",
    {"R": "series resistor", "Z": "zener", "D": "compensating diode", "L": "output"},
    {**SHUNT_VALUES, "V_Z": ZENERS, "R_L": LOADS},
    SHUNT_READINGS,
    without=BURNS,
    joint=47.0,
)
REFERENCE_SHUNT = Bench(
    "reference-shunt",
    {
        "R": "series resistor", "R_1": "upper divider resistor", "R_2": "lower divider resistor",
        "U": "shunt reference", "L": "output",
    },
    {
        **SHUNT_VALUES, "R_1": (4700.0, 6800.0, 8200.0, 10000.0, 12000.0), "R_2": (4700.0, 5600.0, 6800.0),
        "V_REF": (2.5,), "I_REF": (2e-6,), "R_L": LOADS,
    },
    SHUNT_READINGS,
    without=BURNS,
)  # fmt: skip
BOOSTED = Bench(
    "boosted-shunt",
    {"R": "series resistor", "Z": "zener", "R_BE": "base resistor", "Q": "shunt transistor", "L": "output"},
    {
        "V_I": (12.0, 15.0, 18.0), "R": (22.0, 27.0, 33.0, 39.0), "V_Z": ZENERS, "R_BE": (150.0, 220.0, 330.0),
        "h_FE": (40.0, 50.0, 60.0, 80.0), "R_L": (68.0, 82.0, 100.0, 120.0, 150.0),
    },
    SHUNT_READINGS,
    without=BURNS,
)  # fmt: skip

FOLLOWER = Bench(
    "follower",
    {"R": "series resistor", "Z": "zener", "Q": "pass transistor", "L": "output"},
    {
        "V_I": (15.0, 18.0, 20.0, 24.0), "R": (220.0, 270.0, 330.0, 390.0, 470.0),
        "V_Z": (5.6, 6.8, 7.5, 8.2, 9.1, 10.0),
        "h_FE": (40.0, 50.0, 60.0, 80.0), "R_L": (33.0, 39.0, 47.0, 56.0, 68.0),
    },
    (INPUT, BASE_LIFTED, OUT_LIFTED, BASE, OUT),
    without=BURNS,
    joint=10.0,
)  # fmt: skip
DARLINGTON = Bench(
    "darlington",
    {
        "R": "series resistor", "Z": "zener", "Q_1": "driver transistor", "Q_2": "output transistor", "L": "output",
    },
    {
        "V_I": (15.0, 18.0, 20.0, 24.0), "R": (560.0, 680.0, 820.0, 1000.0), "V_Z": (6.8, 7.5, 8.2, 9.1, 10.0),
        "h_FE_1": (80.0, 100.0), "h_FE_2": (30.0, 40.0), "R_L": (8.2, 10.0, 12.0, 15.0),
    },
    (INPUT, BASE_LIFTED, OUT_LIFTED, BASE, OUT),
    without=BURNS,
    joint=3.3,
)  # fmt: skip
PAIR_PARTS = {
    "R": "series resistor", "Z": "zener", "Q_1": "pass transistor", "Q_2": "error transistor",
    "R_1": "upper divider resistor", "R_2": "lower divider resistor", "L": "output",
}  # fmt: skip
PAIR_VALUES = {
    "V_I": (18.0, 20.0, 24.0), "R": (680.0, 820.0, 1000.0), "V_Z": (4.7, 5.1, 5.6), "h_FE_1": (60.0, 80.0),
    "h_FE_2": (150.0, 200.0), "R_1": (1800.0, 2200.0, 2700.0), "R_2": (2200.0, 2700.0, 3300.0),
    "R_L": (47.0, 56.0, 68.0, 82.0),
}  # fmt: skip
UNFED = Bench("feedback-pair-unfed", PAIR_PARTS, PAIR_VALUES, (INPUT, OUT_LIFTED, BASE, TAP, OUT), joint=10.0)
FED = Bench(
    "feedback-pair-fed",
    {**PAIR_PARTS, "R_D": "feed resistor of the zener"},
    {**PAIR_VALUES, "R_D": (1500.0, 1800.0, 2200.0)},
    (INPUT, OUT_LIFTED, BASE, TAP, OUT),
    joint=10.0,
)
OPAMP = Bench(
    "opamp-series-zener",
    {
        "R": "series resistor of the zener", "Z": "zener", "Q": "pass transistor", "U": "amplifier",
        "R_1": "upper divider resistor", "R_2": "lower divider resistor", "L": "output",
    },
    {
        "V_I": (18.0, 20.0, 24.0), "R": (1500.0, 1800.0, 2200.0), "V_Z": (4.7, 5.1, 5.6), "h_FE": (50.0, 60.0, 80.0),
        "R_1": (3300.0, 4700.0, 5600.0), "R_2": (3900.0, 4700.0, 5600.0), "R_L": (33.0, 47.0, 68.0),
    },
    (INPUT, OUT_LIFTED, DRIVE, TAP, OUT),
    without=("base-short Q",),
    joint=10.0,
)  # fmt: skip

RAW_READINGS = (
    MeterReading("V_DC", "mean output voltage", "V_DC", "V"),
    MeterReading("V_RIP", "ripple, peak to peak", "V_RIP", "V"),
    MeterReading("f_RIP", "frequency of the ripple", "", "Hz"),
)
RAW_VALUES = {
    "V_SEC": (9.0, 10.0, 12.0, 15.0), "f": (50.0, 60.0), "C": (0.001, 0.0015, 0.0022, 0.0033, 0.0047),
    "I_L": (0.1, 0.15, 0.2, 0.25, 0.3, 0.4),
}  # fmt: skip
BRIDGE = Bench(
    "reservoir-bridge", {"D_1": "one of the four diodes", "C": "reservoir", "S": "winding"}, RAW_VALUES, RAW_READINGS,
    left=1 / 3, over=1.25,
)  # fmt: skip
CENTRE_TAP = Bench(
    "reservoir-centre-tap", {"D_1": "one of the two diodes", "C": "reservoir", "S": "winding"},
    {**RAW_VALUES, "V_SEC": (8.0, 9.0, 10.0, 11.0)}, RAW_READINGS, left=1 / 3, over=1.25,
)  # fmt: skip
HALF_WAVE = Bench(
    "reservoir-half-wave", {"D": "diode", "C": "reservoir", "S": "winding"}, RAW_VALUES, RAW_READINGS,
    left=0.5, over=1.25,
)  # fmt: skip
CREST = MeterReading("V_PK", "crest of the output voltage", "V_PK", "V")
LOAD = MeterReading("I_L", "load current", "I_L", "A")
SUPPLIES = (BRIDGE, CENTRE_TAP, HALF_WAVE)

OPEN_SHUNT = replace(ZENER_SHUNT, readings=(INPUT, OUT), also=(OUT_LIFTED, DRAWN, DRAWN_LIFTED, INPUT_LIFTED))
OPEN_COMPENSATED = replace(COMPENSATED, readings=(INPUT, OUT), also=(MIDDLE, OUT_LIFTED, DRAWN, INPUT_LIFTED))
OPEN_REFERENCE = replace(REFERENCE_SHUNT, readings=(INPUT, OUT), also=(TAP, OUT_LIFTED, DRAWN, INPUT_LIFTED))
OPEN_FOLLOWER = replace(FOLLOWER, readings=(INPUT, OUT), also=(BASE, BASE_LIFTED, OUT_LIFTED, DRAWN, INPUT_LIFTED))
OPEN_PAIR = replace(UNFED, readings=(INPUT, OUT), also=(BASE, TAP, EMITTER, OUT_LIFTED, DRAWN))
OPEN_OPAMP = replace(OPAMP, readings=(INPUT, OUT), also=(REFERENCE, DRIVE, TAP, OUT_LIFTED, DRAWN))
OPEN_SUPPLY = replace(
    BRIDGE,
    readings=RAW_READINGS[:2],
    also=(RAW_READINGS[2], CREST, LOAD),
    left=0.5,
)
OPEN_BENCHES = (OPEN_SHUNT, OPEN_COMPENSATED, OPEN_REFERENCE, OPEN_FOLLOWER, OPEN_PAIR, OPEN_OPAMP, OPEN_SUPPLY)

BELIEFS = (
    FaultBelief(
        "clamps-either-way", "reversed Z", "V_O", "stays",
        "the zener believed to hold its voltage either way round",
        "Forward it clamps at about 0.7 V, like any junction.",
        "Which end of the zener goes to the positive rail?",
        ("S25",), ("zener-shunt", "compensated-shunt", "boosted-shunt"),
    ),
    FaultBelief(
        "zener-feeds", "tenfold R", "V_O", "stays",
        "the output left at the zener's voltage after the zener has dropped out",
        "With no zener current the circuit is a plain divider.",
        "The zener can only take current away, never supply it.",
        ("S20",), ("zener-shunt",),
    ),
    FaultBelief(
        "resistor-as-before", "short L", "I_I", "stays",
        "the resistor believed to keep its usual voltage when the output is shorted",
        "With the output shorted the resistor has the whole supply across it, far above its normal share.",
        "What stands across $R$ when the load terminals are shorted?",
        ("S13",), ("zener-shunt", "compensated-shunt", "boosted-shunt", "reference-shunt"),
    ),
    FaultBelief(
        "no-junction-to-lose", "base-short Q", "V_O lifted", "stays",
        "the output taken to stand at the base already",
        "A healthy output is the base voltage less one junction; with the two joined that drop is gone.",
        "Which node is the output: base or emitter?",
        ("E02",), ("follower",),
    ),
    *(
        FaultBelief(
            f"equal-inputs-{fault.replace(' ', '-').lower()}", fault, "V_TAP", "stays",
            "equal inputs taken for granted at a rail",
            "The inputs are held equal only while the loop has authority; at its rail the amplifier holds nothing.",
            "Is the loop still in control here?",
            ("F08",), ("opamp-series-zener",),
        )
        for fault in ("open R_1", "tenfold R_1", "tenth R_2", "open Q", "short Q")
    ),
    FaultBelief(
        "one-top-up", "open D_1", "", "nothing",
        "one top-up a cycle taken for what a full-wave rectifier does",
        "A full-wave circuit tops the capacitor up twice in each mains cycle.",
        "How many top-ups per mains cycle does this rectifier give when it is whole?",
        ("U05",), ("reservoir-bridge", "reservoir-centre-tap"),
    ),
    FaultBelief(
        "two-top-ups", "nothing", "", "dried C",
        "two top-ups a cycle expected of a half-wave rectifier",
        "A half-wave circuit conducts once in each mains cycle, and this ripple is its own.",
        "Draw two cycles and mark each charging pulse.",
        ("U06",), ("reservoir-half-wave",),
    ),
    FaultBelief(
        "above-its-rating", "nothing", "", "high S",
        "a d.c. reading above the a.c. rating taken for a fault",
        "A winding is rated by its r.m.s. voltage; the capacitor holds the crest.",
        "Compare like with like: r.m.s. or crest?",
        ("U20",), ("reservoir-bridge", "reservoir-centre-tap", "reservoir-half-wave"),
    ),
)  # fmt: skip

FAMILY = AcrossFamily(
    title="What is wrong with it?",
    about="A few readings and a circuit as it was meant to be. Whoever can say what each fault would do to the meters "
    "needs no luck to find the one that did.",
    lesson="across",
    scenarios=(
        "The hall clock of a music school has stopped, and its supply lies open on the caretaker's table.",
        "A ferry's tide gauge went blank overnight; the mate has a meter and half an hour.",
        "In a seed bank the humidity alarm is silent when it should not be.",
        "A puppet theatre's footlights fail an hour before curtain, and a stagehand opens the box.",
        "The amateur weather mast on a school roof sends nothing, and the physics club takes its supply down.",
        "A mountain hut's radio came back from the repair shelf with a note and no diagnosis.",
        "At the second-hand stall of an electronics fair a bench supply is sold cheap, as faulty.",
        "An apprentice's first card of the morning says no more than: supply, does not hold.",
    ),
    cautions=("hot-parts", "output", "capacitors"),
    edition=2,
    levels=(
        FaultFinding(
            about="A shunt regulator: the fault from three readings, and readings from another fault",
            benches=(ZENER_SHUNT, ZENER_SHUNT, COMPENSATED, REFERENCE_SHUNT, BOOSTED),
            beliefs=BELIEFS,
        ),
        FaultFinding(
            about="A follower or a loop with and without its load: the fault, and what speaks against another",
            benches=(FOLLOWER, DARLINGTON, UNFED, FED, OPAMP),
            ways=1,
            against=True,
            beliefs=BELIEFS,
        ),
        EitherQuestion(
            about="A raw supply by its ripple, or two faults left open and the next measurement",
            questions=(
                FaultFinding(about="raw supplies", benches=SUPPLIES, options=4, ways=1, beliefs=BELIEFS),
                NextMeasurement(about="two faults left open", benches=OPEN_BENCHES),
            ),
        ),
    ),
)  # fmt: skip
