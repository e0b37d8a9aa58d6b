"""What the benchmarks compare comes to the same values, and every figure is a positive number: no speed is asserted."""

from __future__ import annotations

import math
import shutil
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import benching
import building
import checking
import dragging
import marking
import numpy as np
import papers
import plans
import printing
import processes
import pytest
import remembering
import starting
import worked
from table import Row
from timing import Effort, Timing

from tutor.generate.draws import draw_numbers
from tutor.plan.regions import resolve
from tutor.quantities.expression import Equation, Neg
from tutor.solution.desk import our_desk
from tutor.views.assemble import page_tables
from tutor.views.content import SiteContent

TINY = Effort(rounds=1, few_rounds=1, sets=5, problems=2, sample_seconds=0.0)
QUESTIONS = pytest.mark.parametrize("question", plans.QUESTIONS, ids=lambda item: item.circuit)


def require_figures(rows: Sequence[Row]) -> None:
    """Every figure is finite and above zero, and both sides have one for each round."""
    for row in rows:
        assert len(row.ours.seconds) == len(row.theirs.seconds) > 0
        for value in (*row.ours.seconds, *row.theirs.seconds, row.ratio):
            assert math.isfinite(value) and value > 0, row.what


@QUESTIONS
def test_plan_and_sympy_solve_give_the_same_values(question: plans.Question) -> None:
    """Alone, in a batch, by the lettered form, and by sympy on all laws and on the plan's: within 1e-9."""
    plan = plans.planned(question)
    plans.require_same_values(plan, plan.sets(20), solved=2)


@QUESTIONS
def test_a_plan_gone_wrong_is_noticed(question: plans.Question) -> None:
    """With one law of the plan turned in sign sympy finds something else, and that is refused: the check can fail."""
    plan = plans.planned(question)
    sets = plan.sets(1)
    first = plan.plan_laws[0]
    turned = replace(first, equation=Equation(first.equation.lhs, Neg(first.equation.rhs)))
    laws = [turned, *plan.plan_laws[1:]]
    wrong = plans.solving(laws, sets[0], question.wanted)()
    ours = [float(plan.run(sets[0])[name]) for name in question.wanted]
    with pytest.raises(plans.Disagreement, match="differ by more than 1e-09"):
        plans.require_alike(ours, wrong, "planted")


@QUESTIONS
def test_the_sets_differ_and_keep_the_region(question: plans.Question) -> None:
    """A thousand sets, nearly all distinct, whose ends are in the region the question was planned in."""
    plan = plans.planned(question)
    sets = plan.sets(1000)
    assert sets == plan.sets(1000)
    assert len({tuple(item.values()) for item in sets}) > 900
    first = question.wanted[0]
    ordered = sorted(sets, key=lambda item: float(plan.run(item)[first]))
    for values in (ordered[0], ordered[-1]):
        given = {name: values[name] for name in question.given}
        found = resolve(our_desk().circuit(question.circuit), given, question.wanted)
        assert found.region == plan.resolved.region
        plans.require_alike([found.values[first]], [float(plan.run(values)[first])], question.circuit)


@pytest.mark.parametrize(("ours", "theirs"), [(1.0, 1.0 + 1e-8), (1.0, math.nan), (math.nan, 1.0), (0.0, 1e-30)])
def test_values_that_are_not_alike_are_refused(ours: float, theirs: float) -> None:
    """A relative difference, so that small values are held as closely as large ones; nan is like no number."""
    with pytest.raises(plans.Disagreement):
        plans.require_alike([ours], [theirs], "planted")


def test_plan_rows_have_figures() -> None:
    """The smallest circuit, one round."""
    rows = plans.rows_for(plans.QUESTIONS[0], TINY)
    assert len(rows) == 5
    require_figures(rows)


def test_every_other_circuit_has_a_question() -> None:
    """Those above apart, each is asked for what it reports and is not given; one of them makes its rows."""
    asked = {question.circuit: question for question in plans.other_questions()}
    assert asked.keys() | {question.circuit for question in plans.QUESTIONS} == set(our_desk().folder.circuit_ids())
    assert all(question.wanted and not set(question.wanted) & set(question.given) for question in asked.values())
    rows = plans.short_rows(asked["heat-path-free-air"], TINY)
    assert [row.against for row in rows] == ["sympy.solve, 1 laws", "plain Python, lambdify"]
    require_figures(rows)


def test_worked_rows_have_figures_and_add_up() -> None:
    """One level in two regions and one with choices: the first row is the sum of the others."""
    whole, *single = worked.rows_for([("zener-state", 1), ("zener-resistor", 1)], replace(TINY, rounds=2))
    require_figures([whole, *single])
    assert whole.count == 4 and [row.count for row in single] == [2, 2]
    first, second = (row.ours.seconds for row in single)
    assert whole.ours.seconds == pytest.approx([sum(both) for both in zip(first, second, strict=True)])


def test_bare_programs_find_what_was_drawn() -> None:
    """The bare arithmetic is that of the same problems: each ask's values are those of the draws, region by region."""
    ready = our_desk().level("zener-state", 2)
    drawn = draw_numbers(ready, our_desk().parts, range(1, 21))
    assert len({item.run.region for item in drawn}) == 2
    asks = worked.bare_asks(drawn)
    assert sum(len(ask.found) for ask in asks) >= 20
    for ask in asks:
        np.testing.assert_allclose(ask.run(), ask.found, rtol=1e-9)


def test_checking_rows_have_figures_and_lines_their_findings(monkeypatch: pytest.MonkeyPatch) -> None:
    """Numbers new, numbers met, lines met, and the slowest line against the middle one; a wrong label is refused."""
    rows = checking.rows_for(TINY)
    require_figures(rows)
    assert rows[0].count == sum(code == "holds" for _, code in checking.LINES) and rows[2].ratio >= 1
    monkeypatch.setattr(checking, "LINES", (("I_R = I_L − I_Z", "holds"),))
    with pytest.raises(plans.Disagreement, match="holds expected"):
        checking.rows_for(TINY)


def test_marking_rows_have_figures_and_papers_their_marks(monkeypatch: pytest.MonkeyPatch) -> None:
    """Lines and papers against checking and feedback; marks other than those by hand are refused."""
    rows = marking.rows_for(TINY)
    require_figures(rows)
    assert [row.count for row in rows] == [20, 2, 2]
    monkeypatch.setattr(marking, "WORKINGS", dict.fromkeys(marking.WORKINGS, (5, 6)))
    with pytest.raises(plans.Disagreement, match=r"marks \(5, 6\) expected, \(2, 4\) given"):
        marking.rows_for(TINY)


def test_bench_rows_have_figures_and_both_sides_agree(tmp_path: Path) -> None:
    """The smallest circuit, one round; with the decks of another set the two disagree, and that is refused."""
    if shutil.which("ngspice") is None:
        pytest.skip("ngspice is missing (Debian package ngspice)")
    row = benching.row_for("zener-shunt", TINY, tmp_path)
    require_figures([row])
    circuit = our_desk().circuit("zener-shunt")
    sets = benching.sets_of(circuit, benching.DECKS)
    seen = benching.simulate("ngspice", benching.decks_in(tmp_path, circuit, sets))
    moved = {**sets, "R": 1.1 * sets["R"]}
    with pytest.raises(plans.Disagreement, match="the outputs differ by"):
        benching.require_agreement(circuit, moved, seen)


def test_dragging_rows_have_figures_and_a_still_figure_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """One circuit, one round; a page on which dragging moves nothing is not timed."""
    if not (shutil.which("chromium") or shutil.which("chromium-headless-shell")):
        pytest.skip("chromium is missing (Debian package chromium)")
    monkeypatch.setattr(dragging, "CIRCUITS", ("zener-shunt",))
    monkeypatch.setattr(dragging, "MOVES", 3)
    require_figures(dragging.measure(TINY).rows)
    monkeypatch.setattr(dragging, "DRAGGED", dragging.LEFT_ALONE)
    with pytest.raises(plans.Disagreement, match="no value moves"):
        dragging.measure(TINY)


def test_start_rows_have_figures(monkeypatch: pytest.MonkeyPatch) -> None:
    """Real processes, one round: a problem with an empty store and with a full one, the list of commands, bare starts.

    Of a level that is compiled soon; each round's store is its own (`processes.Ground`).
    """
    monkeypatch.setattr(starting, "PROBLEM", ("-m", "tutor", "problem", "supply-peak", "--level", "1"))
    monkeypatch.setattr(starting, "LIGHT", {"--help": ("--help",)})
    monkeypatch.setattr(starting, "DERIVING", {})
    rows = starting.measure(TINY).rows
    assert [row.what for row in rows] == ["problem, store full"] * 2 + ["problem", "--help"]
    require_figures(rows)


def test_memory_rows_are_megabytes() -> None:
    """A command takes more than importing numpy, and no more than a machine has; a process that fails is told of."""
    rows = remembering.rows_for({"problem": ("problem", "supply-peak:1:1")}, 1)
    require_figures(rows)
    assert [row.unit for row in rows] == ["MB"] and rows[0].ratio < 1 and rows[0].ours.median < 4000
    with pytest.raises(RuntimeError, match="there is no family 'none'"):
        remembering.rows_for({"problem": ("problem", "none")}, 1)


def test_a_process_that_fails_is_not_timed(tmp_path: Path) -> None:
    """Its last words are in the complaint."""
    ground = processes.Ground(tmp_path)
    with pytest.raises(RuntimeError, match="there is no family 'none'"):
        ground.run(("-m", "tutor", "problem", "none"), 0)


def test_an_empty_store_is_required_to_be_empty(tmp_path: Path) -> None:
    """A round whose store is there already cannot pass for a first one."""
    ground = processes.Ground(tmp_path)
    ground.store(0).mkdir()
    with pytest.raises(RuntimeError, match="not empty"):
        ground.first_process(starting.NOTHING).prepare(0)


def test_the_site_rows_are_of_a_page_and_refuse_two_sites(tmp_path: Path) -> None:
    """Same names and contents make the rows; one byte of difference ends in Disagreement."""
    for folder in ("cold", "warm"):
        (tmp_path / folder / "deep").mkdir(parents=True)
        (tmp_path / folder / "index.html").write_bytes(b"x" * 1_500_000)
        (tmp_path / folder / "deep" / "page.html").write_bytes(b"y" * 500_000)
    cold, warm = (processes.contents_of(tmp_path / name) for name in ("cold", "warm"))
    times = {"full": (1.0, 2.0), "empty": (2.0, 6.0), "build": (0.5, 0.5), "jinja2": (0.1, 0.1)}
    found = {name: Timing(seconds) for name, seconds in times.items()}
    rows = building.site_rows(found, 2, cold, warm)
    assert rows[0].note == "2 pages among 2 files, 2.00 MB" and rows[0].ours.seconds == (0.5, 1.0)
    assert rows[0].ratio == pytest.approx(4.0 / 1.5) and rows[0].ratios == (2.0, 3.0)
    assert [row.theirs.median for row in rows[1:]] == [0.05] * 3
    (tmp_path / "warm" / "deep" / "page.html").write_bytes(b"y" * 499_999 + b"z")
    with pytest.raises(plans.Disagreement, match="differ"):
        building.site_rows(found, 2, cold, processes.contents_of(tmp_path / "warm"))


def test_templates_are_rendered_again_alike(tmp_path: Path) -> None:
    """A site without circuits: every page of it comes from the templates that were kept; one that renders otherwise a
    second time is refused."""
    content = SiteContent((), page_tables())
    found = building.renders_of(content, tmp_path / "site")
    pages = {path.read_text(encoding="utf-8") for path in (tmp_path / "site").rglob("*.html")}
    assert len(pages) > 5 and pages <= {item.text for item in found}
    building.require_same_texts(found)
    with pytest.raises(plans.Disagreement, match=r"\.html rendered again gives another text"):
        building.require_same_texts([*found, replace(found[-1], text="")])


def test_papers_of_a_class_make_rows() -> None:
    """Two small classes, each in a process of its own."""
    rows = papers.rows_for((2, 4))
    require_figures(rows)
    assert [row.what for row in rows] == ["a paper, 2 learners", "a paper, 4 learners"] and rows[0].ratio == 1.0
    assert all(row.note.endswith(" MB") and "drawing" in row.note for row in rows)


def test_every_form_of_a_paper_makes_a_row() -> None:
    """The set of ten questions is read, and its first paper written in each form."""
    rows = printing.rows_for(1, TINY)
    require_figures(rows)
    assert [row.what.split()[0] for row in rows] == ["papers", "keys", "study", "a", "tables", "papers", "keys"]
    assert len(printing.papers(1)[0][0].asked) == 10
