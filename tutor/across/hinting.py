"""Hints for problems across circuits: three for each thing asked, as for a circuit's family.

Where a value is worked out, they come from its worked step as everywhere (`solution/hints.py`). Where the answer is
words, the first two say how a question of that kind is gone about, and the third where in this problem to begin: at a
relation, a line or a value of its own, none of which is the answer.
Place in the data flow: Posed -> Hints -> views.
"""

from __future__ import annotations

from collections.abc import Mapping

from tutor.across.family import Posed
from tutor.generate.problem import Waypoint, WaypointKind
from tutor.quantities.expression import Sym
from tutor.quantities.prose import listed
from tutor.quantities.symbols import is_symbol, split_name
from tutor.solution.hints import Hints, value_hints
from tutor.solution.relation_shown import Open, behind, in_letters, name_found, names_joined
from tutor.solution.solution import WorkedStep

WRONG_LINE = "line"

# What is asked, by the key of the waypoint: which principle, what to look at, and where to begin; {fact} is a value or
# a letter of the problem.
_WORDS: Mapping[str, tuple[str, str, str]] = {
    "line": (
        "Take no line on trust: a line is right when it is true of the circuit, whatever stands above it.",
        "Ask of each relation whether the law behind it is whole, and of each number whether it was read at the "
        "corner that counts.",
        "Begin at the top, with {fact}: do you come to the same when you work it by yourself?",
    ),
    "reason": (
        "Not the arithmetic: look for what must be true whatever the numbers are.",
        "Say in words what was written there, term by term, and ask of each what it stands for.",
        "Hold it against {fact}: what does that leave room for?",
    ),
    "order": (
        "A cause stands before what it brings about: which statement leans on no other?",
        "Go round the loop once: what is disturbed, what notices it, what steers, what gives way.",
        "It begins with {fact}: which statement speaks of nothing beyond that?",
    ),
    "joining": (
        "Each part has one job: between which two places must it stand to do that?",
        "Join an end in thought and ask what would then be shorted, starved, or left without a way to ground.",
        "Begin with what is told: {fact}. Which place has that already, and which still lacks it?",
    ),
    "functions": (
        "Each takes away something that the one before it leaves over.",
        "Name for each what comes in and what goes out, and what would be missing without it.",
        "Begin with {fact}: which of them meets it first?",
    ),
    "does": (
        "A circuit joined otherwise is another circuit: forget what it was meant to do.",
        "Follow the current from the supply to ground, and see which part it now passes by.",
        "Begin with {fact}: where in the new circuit does that still stand?",
    ),
    "turned": (
        "The part conducts the other way round now: forget what it was meant to do.",
        "Add up what stands between that place and ground, each drop in the sense in which current flows.",
        "Begin with {fact}: does the part still hold that?",
    ),
    "fault": (
        "Work the healthy circuit first: only against that is a meter high or low.",
        "A fault must explain each reading, those that are as they should be too. Strike out what leaves one over.",
        "Begin with {fact}: which meter shows what must follow from it, and which does not?",
    ),
    "against": (
        "Suppose that it were so, and work out what each meter would then show.",
        "All but one come out as they were found. Look for the widest gap.",
        "Begin with {fact}: what follows from it with that one thing wrong?",
    ),
    "pair": (
        "Two things stay possible when neither contradicts any meter so far.",
        "Suppose each in turn, and strike out what leaves one meter unexplained.",
        "Begin with {fact}: which of them would leave the meters as they are?",
    ),
    "next": (
        "A measurement is worth making where the two would show different things.",
        "Work out, with the one and with the other, what stands at each place that can be measured.",
        "Begin with {fact}: where does it go with the one, and where with the other?",
    ),
    "foretold": (
        "Put the one thing that is wrong into the circuit: what does it make of the two ends of the part?",
        "All else is healthy. Follow the current from the supply to ground round that part.",
        "Begin with {fact}, and write down what stands between it and the place in question.",
    ),
    "verdict": (
        "Some results can be thrown out at sight: a rule that no circuit breaks is broken.",
        "Try sign, sum and size in turn: does it have the sense it must, does it fit with the rest, is it within "
        "what the supply can give?",
        "Hold it against {fact}: is there room for that?",
    ),
    "result": (
        "A rule that no circuit breaks is broken by just one of them; the others may surprise and still be true.",
        "Try sign, sum and size on each, without working anything out.",
        "Hold each against {fact}: for which is there no room?",
    ),
    "meaning": (
        "Believe it for a moment: what would the circuit have to be doing?",
        "Which part would then carry the current, or have the voltage across it?",
        "Set it beside {fact}: what does the difference say?",
    ),
    "corner": (
        "Move one thing at a time and hold the others still.",
        "For each that ranges: does it rise or fall when that rises? The end that is worse is part of the answer.",
        "Begin with {fact}: go from there to the other end, and see which way it pulls.",
    ),
}
# In a working with a wrong line these two are asked otherwise.
_OF_THE_SLIP = (
    "Look at that line alone: which law should stand there, and is all of it there?",
    "Say in words what was written, term by term, and ask of each term what it stands for and at which corner.",
    "Hold it against {fact}: was that used, and used in the right place?",
)
_OF_THE_REST = (
    "What is said of the whole rests on every line: those below the wrong one have to be worked anew.",
    "Take each result as it now is, and set it beside the limit that it must keep to.",
    "Begin with {fact}, and go down to the last line from there.",
)
_MORE_OF_ONE_KIND = (
    "Suppose it, and go through the circuit part by part: what does each then see?",
    "Go by what changes first, and ask of each part beyond it whether it follows, opposes or does not notice.",
    "Begin with {fact}: does it stay as it is, and what rests on it?",
)
_OF_A_RESULT = _WORDS["verdict"]
_OF_A_COMPARISON = (
    "Like with like: the same figure of the two, over the same change.",
    "Work that figure out for each before you look at which is which.",
    "Begin with {fact}, and ask what the other one has in its place.",
)


def hints_of_posed(posed: Posed) -> tuple[Hints, ...]:
    """The hints of every waypoint of a problem across circuits, in their order."""
    problem, steps = posed.problem, posed.solution.steps
    shown = Open(frozenset(problem.given), tuple(problem.answers.values()))
    found: list[Hints] = []
    start = 0
    for point in problem.waypoints:
        place = next((at for at, step in enumerate(steps) if step.waypoint == point.key), None)
        step = None if place is None else steps[place]
        before = [] if place is None else behind(steps, place, min(start, place))
        found.append(_hints(posed, point, step, before, shown))
        start = start if place is None else place + 1
    return tuple(found)


def _hints(posed: Posed, point: Waypoint, step: WorkedStep | None, before: list[WorkedStep], shown: Open) -> Hints:
    keys = [item.key for item in posed.problem.waypoints]
    after = WRONG_LINE if WRONG_LINE in keys and point.key != WRONG_LINE else ""
    letter = "" if step is None else name_found(step)
    if point.kind is WaypointKind.VALUE and step is not None and is_symbol(letter):
        return Hints(point.key, *value_hints(letter, point.prompt, step, before, shown), after=after)
    if point.kind is WaypointKind.CHOICE:
        return Hints(point.key, *_anew(point.key if is_symbol(point.key) else letter), after=after)
    if step is not None and point.key == letter:
        return _way_hints(point, step)
    if after:
        words = _OF_THE_SLIP if point.key == "reason" else _OF_THE_REST
    elif point.key in _WORDS:
        words = _WORDS[point.key]
    elif point.key.startswith("way_"):
        words = _MORE_OF_ONE_KIND
    else:
        words = _OF_A_RESULT if posed.lines else _OF_A_COMPARISON
    first, second, third = words
    claimed = next((line.chain for line in posed.lines if line.label == point.key), None)
    if claimed is not None and isinstance(claimed.first, Sym):
        third = third.replace("it", f"${claimed.first.name}$", 1)
    return Hints(point.key, first, second, third.replace("{fact}", _fact(posed, point, shown)), after=after)


def _way_hints(point: Waypoint, step: WorkedStep) -> Hints:
    """Which way a quantity goes: what sets it, what of that moves, and the relation itself."""
    relation = in_letters(step)
    names = [name for name in names_joined(relation) if name != point.key] if relation is not None else []
    second = "Does anything in its relation move, or does the state settle it?"
    if names:
        asked = "is that held, or does it move?" if len(names) == 1 else "which of these are held, and which move?"
        second = f"It hangs on {listed([f'${name}$' for name in names])}: {asked}"
    third = "Ask of each on the right side which way it pulls, and whether it moves at all:"
    if relation is None:
        third = f"Write down what sets ${point.key}$ in the state told, and look for what moves in it."
    first = "What sets it, in the state that is told? Name the law first and only then look for what moves."
    return Hints(point.key, first, second, third, (relation,) if relation is not None else ())


def _anew(letter: str) -> tuple[str, str, str]:
    about = f"${letter}$" if letter else "the part"
    return (
        "With that line put right its bounds have moved: what was taken before may no longer do.",
        "Work down from there to the bounds, and choose only then.",
        f"Find the values on the shelf at which {about} keeps to every bound, as they now are.",
    )


def _fact(posed: Posed, point: Waypoint, shown: Open) -> str:
    """A value or a letter of the problem to begin with, which is no answer and names none."""
    if point.key == WRONG_LINE:
        for line in posed.lines:
            if line.chain is not None and isinstance(line.chain.first, Sym):
                return f"${line.chain.first.name}$"
    if point.key == "corner":
        ranging = [name for name in posed.problem.given if is_symbol(name) and split_name(name).end == "MIN"]
        if ranging:
            return f"${ranging[0]}$"
    for name, quantity in posed.problem.given.items():
        if is_symbol(name) and not shown.tells(quantity.value, quantity.unit):
            return f"${name}$ = {quantity.text}"
    for row in posed.problem.table:
        if row.symbol and is_symbol(row.symbol):
            return f"${row.symbol}$"
    return next((f"${name}$" for step in posed.solution.steps if (name := name_found(step))), "what is told")
