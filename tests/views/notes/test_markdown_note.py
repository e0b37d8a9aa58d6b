"""Notes in Markdown, read by the library that the pages are made with, and what the commands print."""

from __future__ import annotations

import re
from html import unescape

import markdown
import pytest

from tests.views.test_commands import run
from tutor.across.named import problem
from tutor.quantities.prose import prose_text
from tutor.solution.desk import our_desk
from tutor.views.drawn_problem import Pictures
from tutor.views.notes.blocks import Heading, Listing, Note, Paragraph, Table
from tutor.views.notes.gather import problem_note
from tutor.views.notes.markdown_note import markdown_text, markdown_words


def read(text: str) -> str:
    """The note as HTML, formulas taken out first as a reader of maths in Markdown does."""
    bare = re.sub(r"\$\$.*?\$\$", "FORMULA", text, flags=re.DOTALL)
    return markdown.markdown(re.sub(r"\$[^$]+\$", "LETTER", bare), extensions=["tables"])


def texts(tag: str, html: str) -> list[str]:
    """The texts of the elements of one kind."""
    found = re.findall(rf"<{tag}(?: [^>]*)?>(.*?)</{tag}>", html, flags=re.DOTALL)
    return [unescape(re.sub(r"<[^>]+>", "", text)) for text in found]


def test_a_problem_as_a_reader_sees_it() -> None:
    """Headings, tables, lists and cautions arrive as such, each step with its number and its formula."""
    worked = problem("zener-resistor:2:17")
    rows = Pictures(our_desk()).of(worked.problem).rows
    text = markdown_text(problem_note(worked.problem, worked.solution, rows))
    html = read(text)
    assert texts("h1", html) == [worked.problem.title]
    assert texts("h2", html) == ["Circuit", "To find", "Worked solution", "Checks", "On the bench"]
    steps = texts("h3", html)
    assert [step.split(".")[0] for step in steps] == [str(at) for at in range(1, len(worked.solution.steps) + 1)]
    cells = texts("td", html)
    assert len(cells) == 3 * len(worked.problem.table) + 5 * len(rows)
    assert {row.part for row in rows} <= set(cells)
    assert len(texts("li", html)) == len(worked.problem.waypoints) + len(worked.solution.checks)
    for caution in worked.problem.cautions:
        assert f"Caution: {caution}" in texts("p", html)
    assert html.count("FORMULA") == sum(len(step.chains) for step in worked.solution.steps)
    assert text.count("\\begin{aligned}") == text.count("\\end{aligned}") > 3


@pytest.mark.parametrize(
    "words",
    [
        "a * b * c_d_e `f` [g](h) ![i](j) <b>k</b> &amp; | l ~~m~~ \\n #o",
        "- no list",
        "+ nor here",
        "# no heading",
        "1. no list",
        "3) nor here",
        "> no quotation",
        "===",
        "2.5 V is a number",
    ],
)
def test_words_come_back_as_they_were(words: str) -> None:
    """Whatever Markdown would take for its own is text, wherever it stands."""
    html = markdown.markdown(markdown_text(Note("T", "", (Paragraph(words),))), extensions=["tables"])
    assert texts("p", html) == [words]
    html = markdown.markdown(markdown_text(Note("T", "", (Listing((words,)),))), extensions=["tables"])
    assert [text.strip() for text in texts("li", html)] == [words]
    html = markdown.markdown(markdown_text(Note("T", "", (Table(("a",), ((words,),), (1.0,)),))), extensions=["tables"])
    assert texts("td", html) == [words]


def test_a_heading_and_a_dollar() -> None:
    """A heading keeps its marks of emphasis as text; a dollar outside a formula does not begin one."""
    html = markdown.markdown(markdown_text(Note("T", "", (Heading(2, "a *b* #"),))))
    assert texts("h3", html) == ["a *b* #"]
    assert "$" not in markdown_words("5 $ and 6 $")


def test_problem_command_prints_either_form(capsys: pytest.CaptureFixture[str]) -> None:
    """With and without the solution; what is asked and found stands in it."""
    status, out, _ = run(capsys, "problem", "zener-resistor:2:17", "--solution", "--format", "markdown")
    assert status == 0 and out.startswith("# Choose the series resistor") and "## Worked solution" in out
    assert r"&= 342\,\Omega" in out
    status, out, _ = run(capsys, "problem", "zener-resistor:2:17", "--format", "latex")
    assert status == 0 and out.endswith("\\end{document}\n")
    assert "Worked solution" not in out and "342" not in out and r"\textbf{Caution:}" in out


def test_solve_and_derive_print_either_form(capsys: pytest.CaptureFixture[str]) -> None:
    """Answers as a table; laws with their relations; what was assumed and what is to be minded."""
    own = ["solve", "zener-shunt", "V_I=15V", "R=220", "V_Z=9.1V", "R_L=1k"]
    status, out, _ = run(capsys, *own, "--format", "markdown")
    assert status == 0 and "## Answers" in out and r"| $I_{\mathrm{Z}}$ | 17.7 mA |" in out.replace("17.72", "17.7")
    assert texts("h2", read(out))[:2] == ["Circuit", "Worked solution"]
    status, out, _ = run(capsys, "derive", "zener-shunt", "--for", "I_Z", "--format", "latex")
    assert status == 0 and r"\subsection*{$I_{\mathrm{Z}}$ from the laws}" in out
    assert r"Kirchhoff's current law at the output node & $I_{\mathrm{R}}=I_{\mathrm{Z}}+I_{\mathrm{L}}$" in out


def test_withheld_parts_stay_out(capsys: pytest.CaptureFixture[str]) -> None:
    """Where a part goes is what is asked: the circuit in words does not say it."""
    status, out, _ = run(capsys, "problem", "complete-the-circuit:1:1", "--format", "markdown")
    circuit = out.split("## Circuit")[1].split("##")[0]
    assert status == 0 and "resistor" in circuit and "zener" not in circuit


def test_two_forms_at_once_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """One sentence, status 2."""
    for words in (["problem", "zener-state"], ["derive", "follower"], ["solve", "source", "V_OC=12", "R_S=1", "I_L=1"]):
        status, out, err = run(capsys, *words, "--format", "latex", "--json")
        assert (status, out) == (2, "")
        assert err == "steadyrail: --json and --format latex ask for two forms at once; leave one out\n"
    status, _, err = run(capsys, "problem", "zener-resistor", "--hint", "R_MAX", "--format", "latex")
    assert status == 2 and "leave --format latex out" in err
    status, _, err = run(capsys, "derive", "follower", "--format", "word")
    assert status == 2 and "'text', 'markdown', 'latex'" in err


def test_plain_words_and_notes_agree() -> None:
    """The statement of a note is that of the terminal, formulas aside."""
    worked = problem("zener-state:1:1")
    text = markdown_text(problem_note(worked.problem, None, ()))
    said = prose_text(worked.problem.statement).split("V_")[0].strip()
    assert said and said in unescape(text.replace("\\", ""))
