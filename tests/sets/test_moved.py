"""What moved between two markings: which marks, and the likeliest reason."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from tests.sets.demo_class import JUNCTION_ADDED, LEARNERS, RIGHT, SET, paper_of
from tutor.errors import SteadyrailError
from tutor.sets.by_hand import Override
from tutor.sets.marking import mark_paper
from tutor.sets.marks_record import LearnerRecord, kept_marks, marks_lines, record_of, rules_kept
from tutor.sets.moved import MovedQuestion, moves
from tutor.sets.paper import Rules
from tutor.sets.returned import by_headings

SAME = (rules_kept(Rules()), rules_kept(Rules()))


def record(
    place: int, text: str | None, rules: Rules | None = None, decided: Sequence[Override] = ()
) -> LearnerRecord:
    returned = None if text is None else by_headings(text, 3)
    return record_of(mark_paper(paper_of(LEARNERS[place], rules), returned, decided))


def moved(
    before: Sequence[LearnerRecord], after: Sequence[LearnerRecord], was: Rules, now: Rules
) -> list[MovedQuestion]:
    return list(moves(before, after, (rules_kept(was), rules_kept(now))))


def test_nothing_moves_where_nothing_changed() -> None:
    """The same workings by the same rules."""
    same = [record(0, RIGHT), record(1, JUNCTION_ADDED), record(2, None)]
    assert list(moves(same, same, SAME)) == []


def test_a_changed_rule_is_named_with_the_mark_it_moved() -> None:
    """Which rule, from what to what, and the first mark that is won now or no longer."""
    strict = Rules(follow_through=False)
    found = moved([record(1, JUNCTION_ADDED)], [record(1, JUNCTION_ADDED, strict)], Rules(), strict)
    why = "follow through was on, is off (I_L, A1 now A0: no follow-through is given here)"
    assert found == [MovedQuestion("w02", 2, 2.5, 1.5, why)]
    text = RIGHT.replace("= 23.0 V", "= 23.6 V")
    wider = Rules(tolerance=0.03)
    found = moved([record(0, text)], [record(0, text, wider)], Rules(), wider)
    assert [(move.before, move.after) for move in found] == [(4, 5)]
    assert found[0].why.startswith("tolerance was 1 %, is 3 % (V_TH, A0 now A1: ")
    assumed = ({"assume": {}}, {"assume": {"base-current": "neglected", "V_BE": "0.6V"}, "figures": False})
    why = "assume was none, is base-current=neglected, V_BE=0.6V; figures was not told, is off (V_TH, A0 now A1: "
    assert next(moves([record(0, text)], [record(0, text, wider)], assumed)).why.startswith(why)


def test_a_decision_another_working_and_a_changed_scheme_are_told_apart() -> None:
    """What a human decided comes first; then what was handed back; then the question and its scheme."""
    decided = [Override(2, "", 4, "seen at the desk", "override.csv, line 2")]
    before = [record(1, JUNCTION_ADDED)]
    assert [move.why for move in moves(before, [record(1, JUNCTION_ADDED, None, decided)], SAME)] == [
        "by hand: seen at the desk"
    ]
    assert {move.why for move in moves(before, [record(1, RIGHT)], SAME)} == {"another working was handed back"}
    counted = replace(before[0], questions=tuple(replace(item, of=8, marks=8.0) for item in before[0].questions))
    assert next(move.why for move in moves(before, [counted], SAME)) == "the question counted 5 marks, now 8"
    scheme = replace(before[0].questions[1], marks=3.0, points=before[0].questions[1].points[:2])
    other = replace(before[0], questions=(before[0].questions[0], scheme, before[0].questions[2]))
    assert [move.why for move in moves(before, [other], SAME)] == ["the mark scheme has another number of marks"]


def test_who_comes_goes_or_hands_back_late_is_told() -> None:
    """In whatever order the class stands."""
    before = [record(0, RIGHT), record(1, None), record(2, RIGHT)]
    after = [record(1, JUNCTION_ADDED), record(2, RIGHT), record(3, "Q1\nV_O = 15 V")]
    found = list(moves(before, after, SAME))
    told = [(move.id, move.question, move.before, move.after, move.why) for move in found if move.question == 1]
    assert told == [
        ("w02", 1, None, 5, "a readable working came"),
        ("w01", 1, 5, None, "no longer in the class"),
        ("w04", 1, None, 2, "not in the class before"),
    ]
    assert len(found) == 9


def test_a_question_more_or_less_is_told_to_those_who_count() -> None:
    """Where nothing was handed back there were no marks before, and are none now."""
    both = [record(0, RIGHT), record(2, None)]
    fewer = [replace(item, questions=item.questions[:2]) for item in both]
    assert list(moves(fewer, both, SAME)) == [MovedQuestion("w01", 3, None, 4, "the question is new")]
    assert list(moves(both, fewer, SAME)) == [MovedQuestion("w01", 3, 4, None, "the question is no longer asked")]


def test_a_marks_table_is_read_back_record_by_record(tmp_path: Path) -> None:
    """One JSON object, a learner a line; a damaged one is refused, and none at all is no earlier marking."""
    file = tmp_path / "marks.json"
    assert kept_marks(file) is None
    records = [record(0, RIGHT), record(1, JUNCTION_ADDED)]
    file.write_text("".join(marks_lines(replace(SET, title="Régulateurs"), records)), encoding="utf-8")
    assert '"Régulateurs"' in file.read_text(encoding="utf-8")  # as it was typed, for whoever opens the file
    assert [item["id"] for item in json.loads(file.read_text(encoding="utf-8"))["learners"]] == ["w01", "w02"]
    kept = kept_marks(file)
    assert kept is not None and kept.rules == rules_kept(SET.rules)
    assert list(kept.records()) == records
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('"questions"', '"quest"'), encoding="utf-8")
    with pytest.raises(SteadyrailError, match="is not as it was written"):
        list(kept.records())
    file.unlink()
    with pytest.raises(SteadyrailError, match="is not as it was written"):
        list(kept.records())
    for broken in ("", "[1]", '{"rules": 3,"learners":[\n]}', "\udcff"):
        file.write_text(broken, encoding="utf-8", errors="surrogateescape")
        with pytest.raises(SteadyrailError, match="is no marks table of this command"):
            kept_marks(file)
