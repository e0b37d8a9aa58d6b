"""The words of a line of working, as data: which may stand around a chain, and which say what kind of line it is.

Vocabulary: a *listed* word may begin a remark before or after a chain; a word that is not listed may follow one that
is, or stand after a comma. A *phrase* is several words in order. All are written in small letters here.
Place in the data flow: data for `read.py` and its parts, and through `mirror_tables.py` for the browser.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

Phrase = tuple[str, ...]
# Phrases by their first word, longer ones first, so that the longest is found.
Phrases = Mapping[str, tuple[Phrase, ...]]


def _phrases(text: str) -> Phrases:
    """One phrase a line."""
    found: dict[str, tuple[Phrase, ...]] = {}
    for row in sorted((line.split() for line in text.splitlines() if line.strip()), key=lambda row: (-len(row), row)):
        found[row[0]] = (*found.get(row[0], ()), tuple(row))
    return MappingProxyType(found)


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


# Set aside at the start of a line; a relation may follow them.
OPENINGS = _phrases("""
    so
    and so
    so that
    hence
    and hence
    thus
    and thus
    therefore
    and therefore
    then
    and then
    so then
    giving
    gives
    which gives
    this gives
    that gives
    which means
    this means
    that means
    which is
    we get
    so we get
    we find
    we have
    i get
    i find
    it follows
    it follows that
    i . e .
    or
    and
    consequently
    accordingly
""")

# Open a branch that holds until it is given up.
HYPOTHESES = _phrases("""
    assume
    assuming
    assume that
    suppose
    supposing
    suppose that
    if
    say
    let's say
    lets say
    let us say
    let's assume
    lets assume
    let us assume
    let's suppose
    let us suppose
    we assume
    we assume that
    i assume
    i assume that
    imagine
    imagine that
""")

CHOICES = _words("choose chose chosen take use pick select let set")
# What may stand before such a verb, and between it and what is chosen.
CHOOSERS = _words("i we you let's lets us can could will would should must may now to please")
CHOSEN = _words(
    "a an the our my nearest next standard preferred larger smaller bigger lower higher closest available value values "
    "rating resistor zener diode capacitor transistor of from series as for with just e6 e12 e24 e48 e96 e192"
)
# "choose 150 ohm for R", "choose R as 150 ohm".
CHOSEN_FOR = _words("for as")
CHOSEN_AS = _words("as at of to be equal")

RELEASES = _words("contradiction contradicts contradictory contradicted impossible absurd")
NOT = _words("not isn't can't cannot doesn't")

QUESTIONS = _words("what which why how is are was does do did can could should will would who where when")

IS = _words("is equals are was becomes")
# A word that stands for a sign when a value follows it.
OPERATORS = _words("plus minus times over per divided multiplied multiply less into to by of squared cubed until till")
# These stand for a sign whatever follows.
STRICT_OPERATORS = _words("plus minus times per of")
JOINERS = _words("and or but while versus vs so hence thus therefore then")
# After these a value belongs to the words, unless it is a symbol alone.
CONDITIONS = _words("at for with when where under in of per between on above below near")
LETTERED = _words("a b c d e f g h i ii iii iv v vi vii viii ix x")
# A number in brackets after any of `REFERRING`, or a bare one after any of `NUMBERED`, points at a line.
REFERRING = _words("from by using in with into see eq eqn eqs equation line step part")
NUMBERED = _words("eq eqn eqs equation line step part law case question problem")

# Joined to a symbol they name an end of its range: I_Z max, the least R.
ENDS: Mapping[str, str] = MappingProxyType(
    {
        "max": "MAX", "maximum": "MAX", "greatest": "MAX", "largest": "MAX", "highest": "MAX", "biggest": "MAX",
        "min": "MIN", "minimum": "MIN", "least": "MIN", "smallest": "MIN", "lowest": "MIN",
        "nom": "NOM", "nominal": "NOM",
    }
)  # fmt: skip
# Those that may follow a symbol directly, after a comma or in brackets: V_I,max and V_CE(sat).
JOINED_ENDS = ("min", "max", "nom", "sat", "on")

# Names of quantities that are words as well: "gain A = 100" names the gain twice.
WORDS_AND_NAMES = _words("gain turns efficiency temperature pin")

NOT_FINITE = _words("nan inf infinity infinite")
SERIES = _words("e6 e12 e24 e48 e96 e192")

# Name as called, fewest and most arguments.
FUNCTIONS: Mapping[str, tuple[str, int, int]] = MappingProxyType(
    {
        "sqrt": ("sqrt", 1, 1), "ln": ("ln", 1, 1), "log10": ("log10", 1, 1), "log": ("log10", 1, 1),
        "lg": ("log10", 1, 1), "exp": ("exp", 1, 1), "abs": ("abs", 1, 1),
        "min": ("min", 2, 99), "max": ("max", 2, 99),
    }
)  # fmt: skip
CONSTANTS: Mapping[str, float] = MappingProxyType({"pi": 3.141592653589793, "π": 3.141592653589793})
CHANGES = frozenset(("Δ", "delta", "Delta"))

LISTED = OPERATORS | STRICT_OPERATORS | JOINERS | CONDITIONS | IS | NOT | RELEASES | CHOICES | _words(
    """
    a an the this that these those it its they them we you he she there here my our your one
    is are was be been being am isn't aren't was were do does did don't doesn't didn't has have had having
    can can't cannot could will won't would should must may might shall need needs
    and or but if as because since though although while whereas so hence thus therefore then than else unless
    at by for from in into of off on onto out over per to under until up upon via with within without above below
    between across through during about around near before after against beyond versus vs along
    not no nor never yes ok okay fine good bad right wrong true false allowed safe unsafe enough too also only just
    still already again even very quite rather more less most fewer much many few several each every any all both
    either neither other another same such some none once twice always now next last finally lastly later
    first second third what which who why how when where
    max min maximum minimum nominal greatest largest highest biggest smallest lowest least larger smaller higher lower
    bigger greater better worse best worst nearest exact exactly about roughly approx approximately nearly almost
    check checks checked checking find finds found calc calculate calculated compute computed solve solved work
    working recall remember note notice see show shown given known use uses used using apply applying take takes taken
    taking put substitute substituting insert inserting rearrange rearranging rearranged write rewrite written
    consider try want wanted require required requires get gets got gives give giving given becomes become means mean
    follow follows following holds hold held matches match agrees agree exceeds exceed exceeded stays stay falls fall
    rises rise drops sits lies lie comes goes flows carries carry leaves takes draws
    choose chose chosen pick picked select selected let set assume assumed assuming suppose say
    answer result value values number figure rule law laws equation eq eqn formula
    kcl kvl ohm's kirchhoff kirchhoff's kirchoff kirchoff's thevenin thevenin's norton loop node divider
    series parallel shunt corner case bound bounds limit limits range band condition spec specification
    step part line question problem hypothesis assumption approximation approximate choice design test
    load loaded unloaded current voltage power resistor resistance zener diode output input supply source base
    collector emitter transistor bjt npn capacitor reservoir bridge winding transformer rectifier mains regulator
    regulation amplifier op-amp opamp loop reference cathode anode pass error sense feedback bias drive headroom
    dropout tolerance rating ratings rated knee ripple peak trough crest mean average rms dc ac heat sink
    resistors zeners diodes capacitors transistors
    heatsink junction ambient thermal breakdown saturated active full light heavy half high low hot cold worst-case
    dissipation dissipated available allowable permissible safe standard preferred rounded rounding e6 e12
    e24 e48 e96 e192 i.e eg etc says hence yields leads
    """
)
