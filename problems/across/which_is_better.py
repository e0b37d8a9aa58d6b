"""Which is better? Two supplies compared by their readings."""

from tutor.across.comparing import CommonLoad, OwnLoads, Regulations
from tutor.across.family import AcrossFamily
from tutor.across.two_supplies import Misjudged, WrongRoute

NO_LOAD_BASE = WrongRoute(
    "no-load-base",
    "REG_LOAD",
    "(V_OC - V_I)/V_OC",
    "the change divided by the no-load voltage",
    "By the definition in use the change is referred to the full-load voltage.",
    "Which voltage stands below the line in the definition given?",
    ("N03",),
)
RATIO_FOR_CHANGE = WrongRoute(
    "ratio-for-change",
    "REG_LOAD",
    "V_I/V_OC",
    "the ratio of the voltages given for the change",
    "Regulation is a change over a voltage; a steady supply has little of it.",
    "Is it a measure of steadiness or of change?",
)
LOAD_FOR_SOURCE = WrongRoute(
    "load-for-source",
    "R_S",
    "V_I/I_I",
    "the load's resistance given for the supply's",
    "Voltage over current at the terminals is the load. The supply's resistance shows in how far the voltage fell.",
    "By how much did the voltage fall, and what current made it fall?",
)
SHARE_OF_NO_LOAD = WrongRoute(
    "share-of-no-load",
    "I_I",
    "V_OC*REG_LOAD/R_S",
    "the share allowed taken of the no-load voltage",
    "By the definition in use the share is one of the voltage under load, and that is the lower one.",
    "Of which voltage is the change allowed a share?",
    ("N03",),
)
WHOLE_VOLTAGE = WrongRoute(
    "whole-voltage",
    "I_I",
    "V_I/R_S",
    "the whole terminal voltage put across the supply's resistance",
    "Across its own resistance a supply has only what is lost; the rest is the load's.",
    "Which voltage stands across the supply's own resistance?",
)
LARGER_FIGURE = Misjudged(
    "larger-figure",
    "the larger figure taken as the better",
    "Load regulation is a change, so small is good.",
    "Is it a measure of steadiness or of change?",
    ("N04",),
)
LARGER_ALLOWED = Misjudged(
    "more-than-allowed",
    "a larger change than is allowed taken as good",
    "Load regulation is a change, and what is allowed is the most of it.",
    "Is the figure allowed a least or a most?",
    ("N04",),
)
HIGHER_VOLTAGE = Misjudged(
    "higher-voltage",
    "the higher voltage believed the better regulated",
    "How high a supply stands says nothing of how far it moves.",
    "Would a supply of 20 V that falls to 15 V be steadier than one of 10 V that stays?",
)
STIFFER_IS_BETTER = Misjudged(
    "stiffer-is-better",
    "the smaller resistance taken for the better regulation",
    "Regulation depends on the resistance, on the current delivered and on the voltage; here the currents differ.",
    "How much current is each asked to deliver?",
)
BETTER_IS_STIFFER = Misjudged(
    "better-is-stiffer",
    "the better regulation taken for the smaller resistance",
    "A supply of which little is asked is well regulated even with a large resistance.",
    "What would each do if it had to deliver the current of the other?",
)
AS_IT_WAS_READ = Misjudged(
    "as-it-was-read",
    "the regulation at the test load taken for that at the load to be fed",
    "Another current makes another fall in voltage.",
    "At which current was each read, and what current is it to deliver?",
)

FAMILY = AcrossFamily(
    title="Which is better?",
    about="Two supplies, two sets of readings: which keeps its voltage better, which is the stiffer, and which still "
    "serves a given load. The figure that decides is a change, and it belongs to a load.",
    lesson="across",
    scenarios=(
        "A puppet theatre owns two supplies for its footlights and can take only one on tour.",
        "At a swap meet for radio parts two supplies stand on one table, and the seller lets anybody measure.",
        "A beekeeper has two supplies for the heater of a honey press.",
        "The caretaker of a planetarium must decide which of two supplies goes to the slide carousel.",
        "Two supplies were returned from a rowing club's start signals, and one is to be kept as a spare.",
        "A class has built two supplies to one drawing, and they turned out differently.",
        "A clockmaker tests two supplies for a row of electric slave clocks.",
        "In the store of a marionette film studio two supplies are up for the same lamp.",
    ),
    cautions=("mains-fed", "hot-parts", "output"),
    levels=(
        Regulations(
            about="Two supplies at one full load: the regulation of each, and the better",
            routes=(NO_LOAD_BASE, RATIO_FOR_CHANGE),
            larger_figure=LARGER_FIGURE,
            higher_voltage=HIGHER_VOLTAGE,
        ),
        OwnLoads(
            about="Full loads of their own: better regulated is not yet stiffer",
            routes=(NO_LOAD_BASE, RATIO_FOR_CHANGE, LOAD_FOR_SOURCE),
            larger_figure=LARGER_FIGURE,
            higher_voltage=HIGHER_VOLTAGE,
            stiffer_is_better=STIFFER_IS_BETTER,
            better_is_stiffer=BETTER_IS_STIFFER,
        ),
        CommonLoad(
            about="Backwards: a regulation allowed at a common load, and which of the two serves",
            routes=(LOAD_FOR_SOURCE, SHARE_OF_NO_LOAD, WHOLE_VOLTAGE),
            as_it_was_read=AS_IT_WAS_READ,
            larger_figure=LARGER_ALLOWED,
        ),
    ),
)
