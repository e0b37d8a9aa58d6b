"""The own-numbers pages: what they offer, and that the browser's scripts work numbers out as `solve` and `check` do.

The scripts run in V8 with the data that the pages get. Numbers come from the samples, moved by a fixed seed: into other
regions, to nothing, and into contradictions.
"""

from __future__ import annotations

import contextlib
import importlib.util
import inspect
import json
from dataclasses import replace
from functools import cache
from pathlib import Path
from random import Random
from types import ModuleType
from typing import Any

import pytest
from py_mini_racer import MiniRacer

import tutor
from tutor.circuit.component import PartKind
from tutor.errors import SteadyrailError
from tutor.generate.mirror_tables import reader_tables
from tutor.plan.plan import Step
from tutor.plan.region_plans import region_plans
from tutor.quantities.expression import Expr, Val, leaves
from tutor.quantities.quantity import write
from tutor.quantities.symbols import is_symbol, split_name, symbol_for
from tutor.solution.desk import our_desk
from tutor.solution.own_offer import OfferedSet, OwnOffer, _offered, own_offer
from tutor.solution.own_sets import EXAMPLES, GivenSet, Use, given_sets
from tutor.solution.own_sheet import own_sheet
from tutor.solution.sheet_json import level_sheet_data, number_sheet_data
from tutor.views.own_numbers import OwnPage, own_page
from tutor.views.own_plans import own_data_script
from tutor.views.own_steps import with_slots
from tutor.views.press import make_press
from tutor.views.sources import site_folder
from tutor.working.mirror_tables import checking_tables, reading_tables

BOOKS = Path(__file__).parents[1] / "books"
SEED = 60063
SCALES = (0.2, 0.5, 0.8, 1.0, 1.3, 2.0, 4.0)
SCRIPTS = (
    *("checker_writing", "checker_rules", "checker_sheets"), *("own_states", "own_resolve", "own_sheet"),
)  # fmt: skip
RUN = """
function resolved(at, given) {
  const found = Steadyrail.own.resolve(Steadyrail.ownData.sets[at], new Map(given));
  if (found.isStopped) return JSON.stringify({ error: found.sentence });
  return JSON.stringify({ region: Steadyrail.ownData.regions[found.plan.region], values: [...found.values],
                          tried: found.tried.map((item) => item.why),
                          further: Steadyrail.own.furtherStates(found) });
}
function plain(level, number) {
  const told = (key, value) => (value instanceof Map ? Object.fromEntries(value) : value);
  return JSON.stringify(Steadyrail.checker.sheetOf(level, number), told);
}
function sheet(at, given) {
  const set = Steadyrail.ownData.sets[at];
  const numbers = new Map(given);
  const found = Steadyrail.own.sheetOf(set, numbers, new Map(), Steadyrail.own.resolve(set, numbers));
  const plain = (key, value) => (value instanceof Map ? Object.fromEntries(value) : value);
  return JSON.stringify(found, plain);
}
"""
CIRCUITS = our_desk().folder.circuit_ids()
WHOLE = 3  # sets of each circuit that are looked at from every side
# Of these, whose plans take seconds a set, one is, and not every set is looked at.
SLOW = ("full-regulator", "whole-supply-follower", "foldback", "prestabilised-zener", "current-limit")
SLOW_SETS = 2


@cache
def offer_of(circuit: str) -> OwnOffer:
    desk = our_desk()
    return own_offer(desk.folder, desk.circuit(circuit), [desk.family(name) for name in desk.folder.family_ids()])


@cache
def page_of(circuit: str) -> OwnPage:
    return own_page(offer_of(circuit), make_press(site_folder() / "templates"))


def browser(script: str) -> MiniRacer:
    """V8 with the scripts, their tables and a page's data."""
    engine = MiniRacer()
    tables = json.dumps({**reader_tables(), "lines": reading_tables(), "checking": checking_tables()})
    engine.eval(f"var window = globalThis; var Steadyrail = {{tables: {tables}}};")
    engine.eval(script)
    for name in SCRIPTS:
        engine.eval((site_folder() / "assets" / f"{name}.js").read_text(encoding="utf-8"))
    engine.eval(RUN)
    return engine


def numbers_near(item: OfferedSet, random: Random) -> list[dict[str, float]]:
    """The sample; the sample with a value at nothing, and with a load that no supply brings; and two further away."""
    found = [dict(item.sample)]
    flat = [name for name in item.sample if symbol_for(name).unit in ("A", "V")]
    if flat:
        found.append({**item.sample, random.choice(flat): 0.0})
    if "V_I" in item.sample:  # a line that is far too low
        found.append({**item.sample, "V_I": 0.3 * item.sample["V_I"]})
    if "V_PRI" in item.sample:
        found.append({**item.sample, "V_PRI": 0.5 * item.sample["V_PRI"]})
    if "I_L" in item.sample:
        found.append({**item.sample, "I_L": 1e3 * item.sample["I_L"]})
    for _ in range(2):
        moved = {name: value * random.choice(SCALES) * random.uniform(0.9, 1.1) for name, value in item.sample.items()}
        found.append({name: float(f"{value:.4g}") for name, value in moved.items()})
    return found


def disagreement(circuit: str, item: OfferedSet, found: dict[str, Any], values: dict[str, float]) -> str:
    """What the browser found otherwise than `solve`; '' when nothing."""
    try:
        answer = tutor.solve(circuit, values, (), dict(item.given.conventions))
    except SteadyrailError as error:
        return "" if found.get("error") == error.sentence else f"{error.sentence} / {found}"
    if found.get("region") != answer.region:
        return f"{answer.region} / {found}"
    ours, theirs = {name: quantity.value for name, quantity in answer.values.items()}, dict(found["values"])
    if ours.keys() != theirs.keys():
        return f"only one has {sorted(ours.keys() ^ theirs.keys())}"
    off = [name for name in ours if abs(ours[name] - theirs[name]) > 1e-9 * max(abs(ours[name]), 1e-12)]
    tried = [step.text for step in answer.steps if step.title.startswith("Assume that")]
    said = [f"With these values {why}. So the assumption falls." for why in found["tried"]]
    further = [warning for warning in answer.warnings if "a further state" in warning]
    if tried != said or further != found["further"]:
        return f"{tried}, {further} / {said}, {found['further']}"
    return f"{off} differ" if off else ""


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_every_number_region_and_sentence_is_that_of_solve(circuit: str) -> None:
    """For every given-set offered: in its usual region, in others, and where the numbers cannot be."""
    engine, random = browser(own_data_script(page_of(circuit).data)), Random(SEED)
    regions, refusals = set(), 0
    for at, item in enumerate(offer_of(circuit).sets[: SLOW_SETS if circuit in SLOW else None]):
        near = numbers_near(item, random)
        # The first sets are looked at from every side, the others at their sample or from one side more, in turn.
        one = near[0] if at % 2 else near[1 + at // 2 % (len(near) - 1)]
        for values in near if at < (1 if circuit in SLOW else WHOLE) else (one,):
            found = json.loads(engine.call("resolved", at, [list(pair) for pair in values.items()]))
            told = f"{circuit} {item.given.id} {values}: "
            assert told + disagreement(circuit, item, found, values) == told
            regions.add(found.get("region"))
            refusals += "error" in found
    # A set without a load leaves the state open; one regulator drops out only just before its numbers cannot be.
    sets = [{*item.given.names} for item in offer_of(circuit).sets]
    decides = any({"I_L", "R_L"} & names for names in sets) and not three_terminal(circuit)
    assert len(regions - {None}) >= min(1 + decides, len(our_desk().circuit(circuit).regions), len(sets))
    assert refusals or not sets, "some numbers cannot be"


def three_terminal(circuit: str) -> bool:
    """Whether a part of the circuit holds its output, and drops out of it."""
    return any(part.kind is PartKind.THREE_TERMINAL for part in our_desk().circuit(circuit).parts)


QUADRATICS = (
    ("zener-shunt", ("V_I", "R", "I_L", "P_Z")),
    ("zener-shunt", ("V_I", "R", "r_z", "I_L", "P_Z")),
    ("source", ("V_OC", "R_S", "P_O")),
)


def offer_beyond(circuit: str, names: tuple[str, ...]) -> OwnOffer:
    """The offer of a circuit with one given-set that no family and no example begins with."""
    offer = offer_of(circuit)
    item = _offered(our_desk().folder, offer.circuit, GivenSet(names, (), ()))
    return replace(offer, sets=(item,), exact=())


@pytest.mark.parametrize(("circuit", "names"), QUADRATICS)
def test_roots_and_further_states_are_those_of_solve(circuit: str, names: tuple[str, ...]) -> None:
    """No set offered today leads to a quadratic; the scripts are ready for circuits that bring one."""
    offer = offer_beyond(circuit, names)
    (item,), random = offer.sets, Random(SEED)
    page = own_page(offer, make_press(site_folder() / "templates"))
    engine = browser(own_data_script(page.data))
    assert any(step["rule"][0] is None for step in page.data["steps"]), "a quadratic"
    further = 0
    for values in (values for _ in range(6) for values in numbers_near(item, random)):
        found = json.loads(engine.call("resolved", 0, [list(pair) for pair in values.items()]))
        assert f"{values}: " + disagreement(circuit, item, found, values) == f"{values}: "
        further += bool(found.get("further"))
    assert further, "of two solutions that both fit, the other is told"
    hold_sheet(engine, 0, circuit, item, set(offer.ratings))


def test_a_planted_fault_in_the_data_is_noticed() -> None:
    """The check above can fail: a law turned round in the browser's data alone shows in the numbers."""
    script = own_data_script(page_of("zener-shunt").data)
    right = '"rule":[["+",["s","I_R"],["-",["s","I_L"]]]]'
    assert right in script
    engine = browser(script.replace(right, '"rule":[["+",["s","I_R"],["s","I_L"]]]'))
    item = next(item for item in offer_of("zener-shunt").sets if item.given.id == "V_I.R.V_Z.I_L")
    at = offer_of("zener-shunt").sets.index(item)
    found = json.loads(engine.call("resolved", at, [list(pair) for pair in item.sample.items()]))
    assert disagreement("zener-shunt", item, found, dict(item.sample)) != ""


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_the_sheet_made_in_the_browser_is_that_of_check(circuit: str) -> None:
    """For every given-set at its sample: the same numbers, recipes, worlds and branches as `own_sheet` makes."""
    engine, offer = browser(own_data_script(page_of(circuit).data)), offer_of(circuit)
    for at, item in enumerate(offer.sets):
        hold_sheet(engine, at, circuit, item, set(offer.ratings))


def hold_sheet(engine: MiniRacer, at: int, circuit: str, item: OfferedSet, ratings: set[str]) -> None:
    """The sheet that the browser makes of a sample against that of `own_sheet`, read by the same script."""
    sheet = own_sheet(circuit, item.sample, dict(item.given.conventions))
    level = level_sheet_data([sheet])
    right = json.loads(engine.call("plain", level, number_sheet_data(sheet, level)))
    found = json.loads(engine.call("sheet", at, [list(pair) for pair in item.sample.items()]))
    assert set(found.pop("symbols")) == set(right.pop("symbols")) | ratings, item.given.id
    assert set(found.pop("symbolNames")) == set(right.pop("symbolNames")) | ratings
    worlds = found.pop("worlds"), right.pop("worlds")
    assert [world.keys() for world in worlds[0]] == [world.keys() for world in worlds[1]], item.given.id
    for ours, theirs in zip(*worlds, strict=True):
        assert ours == pytest.approx(theirs, rel=1e-12)
    assert {key: found[key] for key in right} == right, item.given.id


def test_the_table_of_examples_is_what_the_books_are_worked_from(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every example of tests/books runs, and the givens it hands to `solve` are exactly those of the table."""
    used: set[tuple[str, frozenset[str], tuple[tuple[str, str], ...]]] = set()
    solve = tutor.solve

    def recording(circuit: str, values: Any, find: Any = (), assume: Any = None) -> Any:
        first = {name: options[0] for name, options in our_desk().circuit(circuit).convention_values().items()}
        other = tuple(sorted(pair for pair in (assume or {}).items() if first[pair[0]] != pair[1]))
        formed = f"{circuit}-{values['form']}" if "form" in values else circuit
        used.add((formed, frozenset(values) - {"form"}, other))
        return solve(circuit, values, find, assume)

    monkeypatch.setattr(tutor, "solve", recording)
    rows = module_of(BOOKS / "conftest.py")
    for path in sorted(BOOKS.glob("test_*.py")):
        for name, test in inspect.getmembers(module_of(path), inspect.isfunction):
            if name.startswith("test_") and list(inspect.signature(test).parameters) == ["book"]:
                # What an example comes to is for tests/books to hold.
                with contextlib.suppress(SteadyrailError):
                    test(lambda example: rows.Row(rows.ROWS[example]))
    table = {(item.circuit, frozenset(item.names.split()), item.conventions) for item in EXAMPLES}
    stateless = {("zener-shunt", frozenset({"V_Z", "P_ZM"}), ())}
    stateless |= {("follower", frozenset(pair), ()) for pair in (("S_V", "DV_I"), ("R_OUT", "DI_L"), ("S_T", "DT"))}
    assert used == table | stateless


def module_of(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"own_{path.stem}", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_everything_known_in_a_family_and_every_example_is_offered(circuit: str) -> None:
    """No given-set is dropped from which anything follows, none that is the only one of its use; and each level's
    plain givens are among the names of some set with its conventions."""
    desk = our_desk()
    families = [desk.family(name) for name in desk.folder.family_ids()]
    offer = offer_of(circuit)
    told = given_sets(offer.circuit, families)
    offered = [item.given for item in offer.sets]
    dropped = [item for item in told if item not in offered]
    assert offered == [item for item in told if item not in dropped]
    # A design's givens may leave everything open until its part is chosen: then a further set offers its level.
    for item in dropped:
        usual = region_plans(offer.circuit, item.names, dict(item.conventions))[0]
        assert usual.why_not.startswith(f"nothing of '{circuit}' follows from"), item.id
        # Slopes and changes alone tell of no operating point, so a page of own numbers has nothing to solve there.
        elsewhere = {use for other in offered for use in other.uses} | {Use("Three causes, one band", 1)}
        assert set(item.uses) <= elsewhere, item.id
    assert len({(frozenset(item.names), item.conventions) for item in told}) == len(told)
    limits = {*offer.ratings, "I_ZK", "I_ZM", "P_ZM", "P_QM", "T_JM"}  # beside spreads: no operating point has them
    limits |= {"V_TROUGH"} - {*offer.circuit.report}  # of a regulator alone the lowest moment is one end of its line
    limits |= {"E_TEMP"}  # a share as it was measured is no quantity that a circuit could be in
    for family in families:
        for number, level in enumerate(family.levels, start=1):
            if family.circuit_of(number) != circuit:
                continue
            plain = {name for name in level.given if is_symbol(name) and not split_name(name).end}
            plain = {name for name in plain - limits if not name.startswith(("tol_", "R_thJC_", "R_thJA"))}
            plain = {name for name in plain if split_name(name).base not in limits}  # those of a first stage
            # A part value with an index is that of a second sort of it, or as it is rated.
            named = {name for name in plain if split_name(name).index and name not in offer.circuit.constants}
            plain -= {name for name in named if split_name(name).base in offer.circuit.constants}
            here = Use(family.title, number)
            mine = [item for item in told if here in item.uses]
            assert any(plain <= set(item.names) for item in mine), f"{family.id}, level {number}"


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_every_plan_is_in_letters_and_leads_to_a_pattern_and_letters_on_the_page(circuit: str) -> None:
    """No number of a sample stands in a plan; every step has its pattern, every name of it its meaning."""
    page = page_of(circuit)
    assert len(page.patterns) == len(page.data["steps"])
    for item in offer_of(circuit).sets:
        for plan in item.plans:
            for step in plan.steps:
                assert not [leaf for side in _sides(step) for leaf in leaves(side) if isinstance(leaf, Val)]
                assert step.target in page.data["symbols"]
    for markup, step in zip(page.patterns, page.data["steps"], strict=True):
        shown = {int(place) for place in _slots_in(markup)}
        assert shown == set(range(len(step["slots"]))), markup
        assert not any(f"70000{digit}" in markup for digit in range(10)), "no stand-in is left"


def _sides(step: Step) -> tuple[Expr, ...]:
    return (*([] if step.expr is None else [step.expr]), *step.coefficients)


def _slots_in(markup: str) -> list[str]:
    return [piece.split('"')[0] for piece in markup.split('data-slot="')[1:]]


def test_stand_ins_become_slots_and_their_places_are_spoken() -> None:
    """A formula printed with stand-ins, as the browser gets it."""
    markup = '<math alttext="R = 700001 + 3"><mn>700001</mn><mo>+</mo><mn>3</mn></math>'
    slot = '<mrow class="slot" data-slot="0"></mrow>'
    assert with_slots(markup) == f'<math alttext="R = {{0}} + 3">{slot}<mo>+</mo><mn>3</mn></math>'


def test_samples_are_written_so_that_they_can_be_typed() -> None:
    """What `put in an example` writes is read back as the sample."""
    for circuit in CIRCUITS:
        for item, data in zip(offer_of(circuit).sets, page_of(circuit).data["sets"], strict=False):
            for name, value in item.sample.items():
                assert data["sample"][name] == write(value, symbol_for(name).unit, 12)
