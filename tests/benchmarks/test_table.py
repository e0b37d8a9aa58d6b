"""Contenders take turns, figures are written as the trade writes them, and the command refuses in one sentence."""

from __future__ import annotations

import io
from dataclasses import replace
from itertools import count

import plans
import pytest
import run
import table
import timing
from rich.console import Console
from table import Row, Section
from timing import Contender, Effort, Timing


def test_contenders_take_turns() -> None:
    """A B A B: no round of one before the round of the other that precedes it; set-up is done outside the sample."""
    order: list[str] = []

    def contender(name: str) -> Contender:
        def prepare(number: int):
            order.append(f"set up {name}{number}")
            return lambda: order.append(f"{name}{number}")

        return Contender(prepare)

    timing.interleaved({"A": contender("A"), "B": contender("B")}, 2)
    assert order == ["set up A0", "A0", "set up B0", "B0", "set up A1", "A1", "set up B1", "B1"]


def test_a_short_call_is_repeated_until_the_sample_is_long_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a clock that a call moves on by 1 ms, a sample of 20 ms still comes to 1 ms for each call."""
    ticks = count()
    now = [0.0]

    def call() -> None:
        next(ticks)
        now[0] += 0.001

    monkeypatch.setattr(timing, "perf_counter", lambda: now[0])
    found = timing.interleaved({"it": Contender(lambda number: call, 0.02)}, 1)
    assert found["it"].median == pytest.approx(0.001)
    assert next(ticks) > 20


WRITTEN = [
    (5.412e-6, "5.41 µs"), (1.0, "1.00 s"), (0.0996, "99.6 ms"), (24.7, "24.7 s"), (1.16e-8, "11.6 ns"),
    (0.9999e-3, "1.00 ms"), (131.4, "131 s"),
]  # fmt: skip


@pytest.mark.parametrize(("seconds", "text"), WRITTEN)
def test_durations_are_written_with_three_figures(seconds: float, text: str) -> None:
    """An SI prefix, a space before the unit."""
    assert table.duration(seconds) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [(1_920_400.0, "1 920 000"), (999.6, "1 000"), (9.56e-5, "0.0000956"), (9.996, "10.0"), (467.4, "467")],
)
def test_numbers_are_written_with_three_figures(value: float, text: str) -> None:
    """Thousands are grouped by a space."""
    assert table.figures(value) == text


def test_the_table_shows_medians_spreads_and_ratios() -> None:
    """Piped, everything is there and no line is wider than said; a rate's least is its slowest round."""
    rows = (
        Row("build", Timing((1.0, 2.0, 4.0)), "another", Timing((10.0, 20.0, 30.0)), "a note"),
        Row("draw", Timing((0.5, 1.0, 2.0)), "bare", Timing((0.1, 0.1, 0.1)), "", count=100),
        Row("keep", Timing((39.3, 40.0, 41.0)), "nothing", Timing((25.0, 25.0, 25.0)), "", unit="MB"),
    )
    out = io.StringIO()
    table.report(Console(file=out, width=table.PIPED_WIDTH), {"both": Section(rows, "how it was done")})
    text = out.getvalue()
    shown = ("2.00 s", "1.00..4.00 s", "20.0 s", "10.0..30.0 s", "a note", "7.50..10.0", "100 /s", "50.0..200 /s",
             "0.100", "40.0 MB", "39.3..41.0 MB", "both: how it was done", "numpy", "sympy")  # fmt: skip
    assert [item for item in shown if item not in text] == []
    assert max(len(line) for line in text.splitlines()) <= table.PIPED_WIDTH


def test_names_pick_benchmarks_and_the_table_is_printed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One name, one section; every benchmark is told of in the help."""
    row = Row("it", Timing((1.0,)), "that", Timing((2.0,)), "")
    seen: list[Effort] = []

    def measure(effort: Effort) -> Section:
        seen.append(effort)
        return Section((row,), "somehow")

    for name, item in list(run.BENCHMARKS.items()):
        monkeypatch.setitem(run.BENCHMARKS, name, replace(item, measure=measure))
    with pytest.raises(SystemExit) as ended:
        run.main(["--quick", "start"])
    assert (ended.value.code, seen) == (0, [timing.QUICK])
    assert "start: somehow" in capsys.readouterr().out
    with pytest.raises(SystemExit):
        run.main([])
    assert seen == [timing.QUICK, *[timing.FULL] * len(run.BENCHMARKS)]
    with pytest.raises(SystemExit):
        run.main(["--help"])
    told = " ".join(capsys.readouterr().out.split())
    assert all(f"{name}: {item.says}" in told for name, item in run.BENCHMARKS.items())


@pytest.mark.parametrize(
    ("words", "sentence"),
    [(["strat"], "there is no benchmark 'strat'; did you mean 'start'?"), (["--quik"], "No such option")],
)
def test_a_wrong_word_gets_one_sentence(words: list[str], sentence: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit status 2, before anything is measured."""
    with pytest.raises(SystemExit) as ended:
        run.main(words)
    captured = capsys.readouterr()
    assert ended.value.code == 2 and captured.out == ""
    assert sentence in captured.err and captured.err.count("\n") == 1


def test_disagreeing_values_end_the_run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit status 1 and the sentence: no table of figures that compare different things."""

    def measure(effort: Effort) -> Section:
        raise plans.Disagreement("two values differ")

    monkeypatch.setitem(run.BENCHMARKS, "plans", replace(run.BENCHMARKS["plans"], measure=measure))
    with pytest.raises(SystemExit) as ended:
        run.main(["plans"])
    captured = capsys.readouterr()
    assert ended.value.code == 1 and captured.out == "" and captured.err == "run.py: two values differ\n"
