"""Papers and keys as PDF: no answer on a paper, every answer in its key, the same bytes for the same paper."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from pypdf import PdfReader

from tests.views.print_samples import NAMES, NASTY, asked_as, everything_in, page_texts, paper_of, plain, text_of
from tutor.generate.problem import WaypointKind
from tutor.quantities.prose import prose_text
from tutor.quantities.quantity import Quantity, write
from tutor.sets.paper import Asked, Learner, Look, Paper, Rules
from tutor.solution.solution import Chain, Solution, WorkedStep
from tutor.views.plain import chain_text
from tutor.views.print.key import key_pdf, scheme_pdf
from tutor.views.print.paper import paper_pdf
from tutor.views.print.parts import parts_of, shared_marks

PAPER = paper_of()


@pytest.fixture(scope="module")
def printed() -> bytes:
    """The sample paper."""
    return paper_pdf(PAPER)


@pytest.fixture(scope="module")
def key() -> bytes:
    """Its key."""
    return key_pdf(PAPER)


def written_ways(answer: Quantity) -> Iterator[str]:
    """An answer as it might be written: in 2 to 5 figures, with its unit near or apart, with a comma, in base units."""
    for figures in (2, 3, 4, 5):
        told = write(answer.value, answer.unit, figures)
        yield told
        yield told.replace(" ", "")
        yield told.replace(".", ",")
        digits = told.split(" ")[0].lstrip("−")
        if sum(map(str.isdigit, digits)) >= 3:
            yield digits
    for base in (f"{answer.value:.4g}", f"{answer.value:.3g}", f"{answer.value * 1e3:.4g}", repr(answer.value)):
        if sum(map(str.isdigit, base)) >= 3:
            yield base


def laid_before(item: Asked) -> str:
    """What a question says to its learner, put together without the printer."""
    problem = item.problem
    told = [problem.title, problem.statement, problem.ask, *(f"{row.label} {row.value}" for row in problem.table)]
    told += [line.words for line in item.lines] + [point.prompt for point in problem.waypoints]
    told += [option for point in problem.waypoints for option in (*point.options, *point.places)]
    told += [quantity.text for quantity in problem.given.values()]
    lines = [chain_text(line.chain) for line in item.lines if line.chain is not None]
    return plain(" ".join([*map(prose_text, told), *lines]))


def stands_in(form: str, text: str) -> bool:
    return re.search(rf"(?<![\w.,]){re.escape(form)}(?![\w]|[.,][0-9])", text) is not None


def test_a_paper_has_no_answer(printed: bytes) -> None:
    """Its text, and all of the file unpacked (metadata, descriptions, anything hidden), against every answer in
    several ways of writing; what the questions themselves say may of course stand there."""
    allowed = " ".join(laid_before(item) for item in PAPER.asked)
    text, whole = text_of(printed), everything_in(printed)
    looked_for = 0
    for item in PAPER.asked:
        for key_, answer in item.problem.answers.items():
            for form in set(written_ways(answer)):
                if stands_in(form, allowed):
                    continue
                looked_for += 1
                assert not stands_in(plain(form), text), (item.name, key_, form)
                if " " in form and len(form) > 5:
                    for coded in (form.encode(), form.encode("utf-16-be"), form.encode("utf-16-be").hex().encode()):
                        assert coded not in whole, (item.name, key_, form)
    assert looked_for > 100


def altered(item: Asked) -> Asked:
    """The same question with every answer another: values, accepted ones, slips, states, the words of the solution."""
    points, schemes = [], []
    for point, scheme in zip(item.problem.waypoints, item.scheme.points, strict=True):
        answer = point.answer and replace(point.answer, value=point.answer.value * 1.37 + 1)
        other = next((option for option in reversed(point.options) if option != point.state), "")
        points.append(
            replace(
                point, answer=answer, low=0.0, high=1.0, accepted=tuple(value * 2 for value in point.accepted),
                state=other, slips=(), remarks=(), arrangements=(),
            )
        )  # fmt: skip
        marks = tuple(replace(mark, earns="changed", value=None) for mark in scheme.marks)
        schemes.append(replace(scheme, answer=None, state=other, slips=(), accepted=(), marks=marks))
    steps = tuple(
        WorkedStep("other", "", tuple(Chain(chain.first, ()) for chain in step.chains), "", "", step.waypoint, None, "")
        for step in item.solution.steps
    )
    return replace(
        item,
        problem=replace(item.problem, waypoints=tuple(points)),
        solution=Solution(item.solution.name, steps, (), "changed", (), ()),
        scheme=replace(item.scheme, points=tuple(schemes)),
        sheet=None,
    )


def test_answers_do_not_reach_a_paper_in_any_form(printed: bytes) -> None:
    """With every answer changed the file is the same, byte for byte: nothing in it depends on one."""
    other = replace(PAPER, asked=tuple(map(altered, PAPER.asked)))
    assert other.asked[0].problem.answers != PAPER.asked[0].problem.answers
    assert paper_pdf(other) == printed


def test_the_search_would_find_an_answer(key: bytes) -> None:
    """The same search over the key finds each value, so that finding none on the paper says something."""
    text = text_of(key)
    for item in PAPER.asked:
        for answer in item.problem.answers.values():
            assert any(stands_in(plain(form), text) for form in written_ways(answer)), (item.name, answer.text)


def test_the_same_paper_gives_the_same_bytes(printed: bytes) -> None:
    """No date, no order by chance."""
    assert paper_pdf(paper_of()) == printed
    told = PdfReader(io.BytesIO(printed)).metadata
    assert told is not None and told.title == PAPER.set.title
    assert told.creation_date is None or told.creation_date.year == 1970
    assert not told.author and not told.subject


def test_every_page_says_what_it_belongs_to(printed: bytes) -> None:
    """The foot: names of the problems of that page, seed, page n of m; the head from page 2: title and learner."""
    pages = page_texts(printed)
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in page
        assert "seed 41" in page
        assert "K-07" in page
    assert all(any(item.name in page for page in pages) for item in PAPER.asked)
    first = next(page for page in pages if "Find the wrong line" in page)
    assert PAPER.asked[3].name in first and PAPER.asked[5].name not in first


def test_a_question_has_all_that_it_needs(printed: bytes) -> None:
    """Statement, data, the circuit's labels with values, marks of question and parts, options, places, cautions."""
    text = text_of(printed)
    assert "[14 marks]" in text and "(g)" in text
    for item in PAPER.asked:
        assert plain(prose_text(item.problem.statement)).split("=")[0][:40] in text
        for caution in item.problem.cautions:
            assert plain(caution)[:40] in text
        for part in parts_of(item):
            for option in part.point.options:
                assert plain(option.split("$")[0]) in text
    assert "17 V" in text and "to 21 V" in text  # beside the source in the drawing of question 1
    assert "Everything here is an exercise on paper." in text


def test_what_is_withheld_is_not_drawn() -> None:
    """The part whose ends are asked for is in neither the drawing nor the words for it."""
    item = asked_as(1, "complete-the-circuit:1:1")
    assert item.withheld == ("Z",)
    paper = replace(PAPER, asked=(item,))
    assert b"zener diode" not in everything_in(paper_pdf(paper))
    assert b"zener diode" in everything_in(paper_pdf(replace(PAPER, asked=(replace(item, withheld=()),))))


@pytest.mark.parametrize("large", [False, True])
def test_looks(large: bool) -> None:
    """Letter, commas, other letters, in both sizes: the size of the sheet in points is that of ANSI/ASME Y14.1."""
    look = Look("Letter", large, "IEEE", True, "V_in", "beta")
    rules = Rules(assume={"base-current": "neglected", "V_BE": "0.65V"})
    pdf = paper_pdf(paper_of(NAMES[:1] + NAMES[2:3], look, rules=rules))
    page = PdfReader(io.BytesIO(pdf)).pages[0]
    assert (round(float(page.mediabox.width)), round(float(page.mediabox.height))) == (612, 792)
    text = text_of(pdf)
    assert "4,3 V" in text and "4.3 V" not in text
    assert "Vin" in text.replace(" ", "") and "β" in text
    assert "The decimal sign is a comma" in text and "base current: neglected" in text
    assert "Convention: VBE = 0,65 V." in text


def sizes(pdf: bytes) -> dict[float, str]:
    """Sizes of print (points) in which words stand, each with some that do; subscripts in words are left out."""
    found: dict[float, str] = {}

    def see(text: str, around: list[float], inside: list[float], font: object, size: float) -> None:
        words = re.findall(r"[a-z]{5,}", text)
        if words and "trough" not in words:
            found.setdefault(round(abs(size * inside[3] * around[3]), 1), text)

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=see)
    return found


@pytest.mark.parametrize("written", [paper_pdf, key_pdf])
def test_large_print_is_large_throughout(written: Callable[[Paper], bytes]) -> None:
    """18 points for whatever is read, cautions, captions and the formula sheet too; only what runs along every page is
    smaller. (Large print begins at 16 points by the UK Association for Accessible Formats: from memory.)"""
    found = sizes(written(paper_of(NAMES, Look(large=True, formula_sheet=True))))
    assert min(found) == 15 and sorted(found)[1] == 18
    assert min(sizes(written(paper_of(NAMES, Look())))) == 8.5


def test_a_formula_sheet_is_appended_when_asked_for() -> None:
    """The derived relations of the circuits on the paper, from a page of its own."""
    pages = page_texts(paper_pdf(paper_of(NAMES[:1], Look(formula_sheet=True))))
    assert pages[-1].startswith("Regulators, second sheet K-07, Ada Marsh Formula sheet Zener shunt regulator")
    assert "Kirchhoff's current law at the output node" in pages[-1]


def test_codes_lead_to_pages() -> None:
    """A question with an address has it beside its code; the others have none."""
    address = "https://example.org/p/zener.html#2"
    without = paper_pdf(paper_of(NAMES[:2]))
    with_code = paper_pdf(paper_of(NAMES[:2]), {PAPER.asked[0].name: address})
    assert text_of(with_code).count(address) == 1 and address not in text_of(without)


def test_untrusted_text_is_text_everywhere() -> None:
    """Title, learner's id and name, a lecturer's own words."""
    for text in NASTY[:4]:
        item = replace(PAPER.asked[0], named=None, problem=replace(PAPER.asked[0].problem, statement=text, ask=text))
        paper = replace(paper_of(NAMES[:1], learner=Learner(text, text), title=text), asked=(item,))
        said = text_of(paper_pdf(paper)) + text_of(key_pdf(paper))
        assert said.count(plain(text).replace("$x$ ", "")) + said.count(plain(text)) >= 4


def test_the_key_works_and_marks(key: bytes) -> None:
    """Reasons, checks, the bench, each mark with what earns it and what it needs."""
    text = text_of(key)
    for told in ("Worked solution", "Checks", "On the bench", "Mark scheme, 14 marks", "what earns it", "M2", "A1"):
        assert told in text
    step = PAPER.asked[0].solution.steps[3]
    assert plain(step.why)[:60] in text
    states = [point for item in PAPER.asked for point in item.problem.waypoints if point.kind is WaypointKind.STATE]
    assert states and all(plain(prose_text(point.state)) in text for point in states)


def test_marks_scaled_to_a_paper_say_so() -> None:
    """14 marks of a scheme that count 6: shared over the parts in whole marks, and the key tells how to scale."""
    paper = paper_of(NAMES[:1], marks=6)
    parts = parts_of(paper.asked[0])
    assert sum(part.marks for part in parts) == 6
    assert "the question counts 6 marks: the marks won above are multiplied by 6/14" in text_of(scheme_pdf(paper))


@pytest.mark.parametrize(
    ("shares", "total", "marks"),
    [([2, 2, 2, 1], 7, (2, 2, 2, 1)), ([2, 2, 2, 1, 3, 1, 3], 6, (1, 1, 1, 1, 1, 0, 1)), ([1], 5, (5,)), ([], 3, ()),
     ([0], 3, (0,)), ([1, 1], 3, (2, 1))],
)  # fmt: skip
def test_marks_are_shared_out_whole(shares: list[int], total: int, marks: tuple[int, ...]) -> None:
    """The method of largest remainders (of Hamilton), ties to the earlier part."""
    assert shared_marks(shares, total) == marks
