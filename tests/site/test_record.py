"""The record's rules and its keeping, in V8 with a made-up clock and a made-up store.

The days after which what was learnt comes back, and help that fades on success and comes back on failure, are those of
the sources in the rules' brief: spacing as in Latimier, Peyre and Ramus (2021, Educ. Psychol. Rev. 33, 959-987: a plain
fixed schedule is enough), fading as in Tetzlaff et al. (2025, Learn. Instr.: when unsure give more help).
"""

from __future__ import annotations

import json
from datetime import datetime

import pytest

from tests.site.record_browser import KEY, KIND, START, Browser, days, moment


def test_what_was_learnt_comes_back_after_1_3_7_and_21_days_and_then_no_more() -> None:
    browser = Browser()
    day = 0
    browser.finish(days(day))
    for number, wait in enumerate((1, 3, 7, 21), start=2):
        assert browser.due(days(day + wait - 1)) == []
        early_in_the_morning = days(day + wait).replace(hour=0, minute=5)
        assert browser.due(early_in_the_morning) == [KIND], "due all day long, whatever the hour it was learnt"
        assert browser.due(days(day + wait + 40)) == [KIND], "and due until it is done"
        day += wait
        browser.finish(days(day), number=number)
        assert browser.due(days(day)) == []
    assert browser.due(days(day + 4000)) == []


def test_a_kind_done_early_moves_no_date_and_a_late_one_counts_from_when_it_was_done() -> None:
    browser = Browser()
    browser.finish(days(0))
    browser.finish(days(0), number=2)
    assert browser.due(days(1)) == [KIND]
    browser.finish(days(5), number=3)
    assert browser.due(days(7)) == [] and browser.due(days(8)) == [KIND]


def test_a_failure_brings_a_kind_back_the_next_day_and_starts_its_days_anew() -> None:
    browser = Browser()
    browser.finish(days(0))
    browser.finish(days(1), number=2)
    browser.finish(days(4), right=False, number=3)
    assert browser.due(days(4)) == [] and browser.due(days(5)) == [KIND]
    browser.finish(days(5), number=4)
    assert browser.due(days(7)) == [] and browser.due(days(8)) == [KIND]


def test_due_says_since_when_and_when_it_was_last_done() -> None:
    browser = Browser()
    browser.finish(days(0))
    browser.finish(days(0.1), kind="follower-state:1", right=False)
    found = browser.ask(
        f"Steadyrail.record.due({moment(days(3))}).map(({{kind, since, last}}) => "
        "[kind, since.getMonth() + 1, since.getDate(), since.getHours(), last.getDate()])"
    )
    assert found == [["follower-state:1", 11, 4, 0, 3], [KIND, 11, 4, 0, 3]]


def test_a_level_rests_once_a_higher_one_has_been_done_since() -> None:
    browser = Browser()
    browser.finish(days(0), kind="zener-state:1")
    browser.finish(days(0.2), kind="zener-state:3")
    assert browser.due(days(2)) == ["zener-state:3"]
    browser.finish(days(2), right=False, kind="zener-state:1", number=5)
    assert sorted(browser.due(days(3))) == ["zener-state:1", "zener-state:3"], "unless it was missed after that"


def test_help_fades_on_success_and_comes_back_on_failure() -> None:
    browser = Browser()
    assert (browser.help(), browser.stage()) == (3, "new")
    seen = []
    for number, right in enumerate((True, True, True, False, False, True), start=1):
        browser.finish(days(number), right=right, help=int(str(browser.help())), number=number)
        seen.append((browser.help(), browser.stage()))
    assert seen == [(2, "faded"), (1, "faded"), (0, "whole"), (1, "faded"), (2, "faded"), (1, "faded")]


def test_whoever_needs_no_help_is_offered_none_any_more() -> None:
    browser = Browser()
    browser.finish(days(0), help=0)
    assert (browser.help(), browser.stage()) == (0, "mixed")


def test_right_only_after_misses_neither_fades_help_nor_brings_it_back() -> None:
    browser = Browser()
    browser.attempt(days(0), right=False, slip="no-knee-current")
    browser.attempt(days(0), right=True)
    browser.finish(days(0), help=3)
    assert browser.help() == 3
    browser.attempt(days(0.1), right=True, number=2)
    browser.finish(days(0.1), help=3, number=2)
    assert browser.help() == 2, "misses on one number are not held against the next"


def test_a_new_level_is_offered_one_more_help_than_the_level_below() -> None:
    browser = Browser()
    assert browser.help("zener-state:2") == 3
    browser.finish(days(0), help=0, kind="zener-state:1")
    assert (browser.help("zener-state:2"), browser.help("zener-state:3")) == (1, 3)
    browser.finish(days(1), right=False, kind="zener-state:2")
    assert (browser.help("zener-state:2"), browser.help("zener-state:3")) == (2, 3)


def test_stages_go_from_the_lesson_to_mixed_sets() -> None:
    browser = Browser()
    stages = [browser.stage()]
    for what in ("lesson", "example"):
        browser.ask(f"Steadyrail.record.seen({{kind: '{KIND}', what: '{what}', when: {moment(days(0))}}})")
        stages.append(browser.stage())
    for number, help in enumerate((3, 2, 1, 0), start=1):
        browser.finish(days(number), help=help, number=number)
        stages.append(browser.stage())
    assert stages == ["new", "example", "faded", "faded", "faded", "whole", "mixed"]


def test_dates_are_those_of_a_printed_page() -> None:
    browser = Browser()
    assert browser.dates("zener-resistor", START) == ""
    browser.finish(datetime(2026, 11, 3, 10, 0))
    browser.finish(datetime(2026, 11, 4, 10, 0), number=2)
    told = browser.dates("zener-resistor", datetime(2026, 11, 5, 9, 0))
    assert told == "worked on 4 November; due again 7 November"
    assert browser.dates("zener-resistor", days(30)) == "worked on 4 November; due since 7 November"
    assert browser.dates("zener-resistor", days(90)) == "worked on 4 November 2026; due since 7 November 2026"
    assert browser.dates("zener", START) == "", "another family whose name begins alike"


def test_what_holds_is_said_in_words() -> None:
    browser = Browser()
    for number in (1, 2):
        browser.attempt(days(0), right=False, number=number, slip="no-knee-current high-line")
    browser.attempt(days(0), right=False, number=3, slip="no-knee-current")
    state = f"Steadyrail.record.states().get('{KIND}')"
    standing = f"Steadyrail.recordWords.standing({state}, {moment(days(2))})"
    assert browser.say(standing) == "Three problems tried, none finished; last on 3 November."
    assert browser.ask(f"Steadyrail.recordWords.commonSlip({state})") == {"name": "no knee current", "times": 3}
    told = {"kind": KIND, "number": 3, "key": "R", "right": False, "slip": "no-knee-current"}
    told["words"] = "the knee left out"
    browser.ask(f"Steadyrail.record.attempt({{...{json.dumps(told)}, when: {moment(days(0))}}})")
    assert browser.ask(f"Steadyrail.recordWords.commonSlip({state})") == {"name": "the knee left out", "times": 4}
    browser.finish(days(0), right=False, number=3)
    assert "the last one not right without its solution" in browser.say(standing)
    for number in (4, 5, 6, 7):
        browser.finish(days(1), help=0, number=number)
    assert browser.ask(f"Steadyrail.recordWords.holds({state})") is True
    told = "Seven problems tried, the last four right and without help, on 4 November."
    assert browser.say(standing) == told


def test_what_comes_next_and_what_was_made_of_a_problem_are_said() -> None:
    browser = Browser()
    following = "Steadyrail.recordWords.next(Steadyrail.record.states(), 'zener-state', [1, 2, 3])"
    made = "Steadyrail.recordWords.madeOf(Steadyrail.record.entries(), 'zener-state:1', 4, new Date(2026, 10, 9))"
    assert browser.say(following) == "Next: the lesson, then the worked problem."
    assert browser.say(made) == ""
    browser.attempt(days(0), right=False, kind="zener-state:1", number=4)
    assert browser.say(following) == "Next: a part-worked problem."
    assert browser.say(made) == "begun on 3 November"
    browser.finish(days(0), right=False, kind="zener-state:1", number=4)
    assert browser.say(made) == "not right on 3 November"
    browser.finish(days(1), kind="zener-state:1", number=4)
    assert browser.say(made) == "right on 4 November"
    assert browser.say(following) == "Next: level 2, and this kind in mixed sets."
    browser.finish(days(2), right=False, kind="zener-state:2")
    assert browser.say(following) == "Next: a part-worked problem."
    browser.finish(days(2), kind="zener-state:3")
    assert browser.say(following) == "Next: this kind among others, in a mixed set."


def test_the_record_outlasts_the_page_and_pages_side_by_side_lose_nothing() -> None:
    browser = Browser()
    browser.finish(days(0))
    browser.open_page()
    assert browser.due(days(1)) == [KIND]
    other = Browser(browser.stored())
    other.finish(days(0), kind="zener-state:1")
    written = other.stored()
    assert written is not None
    browser.engine.eval(f"STORE.set('{KEY}', {json.dumps(written)});")  # as the other window wrote it meanwhile
    browser.attempt(days(1), right=True)
    assert sorted(browser.due(days(1))) == [KIND, "zener-state:1"]


def test_an_export_is_read_back_on_a_clean_profile_once() -> None:
    browser = Browser()
    browser.attempt(days(0), right=False, slip="high-line")
    browser.finish(days(0))
    text = browser.ask("Steadyrail.record.exported()")
    assert isinstance(text, str) and json.loads(text)["form"] == 1
    clean = Browser()
    clean.finish(days(0), kind="zener-state:1")
    read = f"Steadyrail.record.readBack({json.dumps(text)})"
    assert clean.ask(read) == {"taken": 2}
    assert clean.ask(read) == {"taken": 0}, "the same file twice adds nothing"
    assert sorted(clean.due(days(1))) == [KIND, "zener-state:1"]
    clean.open_page()
    assert sorted(clean.due(days(1))) == [KIND, "zener-state:1"]


ENTRY = {"at": "2026-11-03T10:00:00.000Z", "kind": KIND, "number": 4, "done": True, "right": True, "help": 0}


@pytest.mark.parametrize(
    "kept",
    [
        [ENTRY],  # form 0: a bare list
        {"form": 1, "of": "steadyrail record", "entries": [{**ENTRY, "mood": "good"}]},
        {"form": 1, "of": "steadyrail record", "entries": [{**ENTRY, "at": 1793700000000}]},
        {"form": 9, "of": "steadyrail record", "ink": "blue", "entries": [ENTRY, {"drawn": "a figure"}]},
    ],
)
def test_records_of_other_forms_are_read(kept: object) -> None:
    browser = Browser(json.dumps(kept))
    assert browser.due(days(2)) == [KIND]
    assert browser.ask("Steadyrail.record.setAside()") == []


def test_what_a_newer_form_says_more_is_written_back_word_for_word() -> None:
    newer = {"form": 9, "of": "steadyrail record", "ink": "blue", "entries": [{"drawn": "a figure"}, ENTRY]}
    browser = Browser(json.dumps(newer))
    browser.finish(days(3), kind="zener-state:1")
    stored = json.loads(str(browser.stored()))
    assert (stored["form"], stored["ink"]) == (9, "blue")
    assert {"drawn": "a figure"} in stored["entries"] and len(stored["entries"]) == 3


FOREIGN = ["not JSON", "null", "7", '{"entries": 3}', '{"form": 1, "entries": []}', '[{"a": 1}]', '{"form": -1}', ""]


@pytest.mark.parametrize("kept", FOREIGN)
def test_text_that_is_no_record_is_set_aside_and_never_written_over(kept: str) -> None:
    browser = Browser(kept)
    browser.finish(days(0))
    assert browser.stored(f"{KEY}:set-aside") == kept
    assert browser.ask("Steadyrail.record.setAside()") == [kept]
    browser.open_page()
    assert browser.due(days(1)) == [KIND]
    second = "another text that is none"
    browser.engine.eval(f"STORE.set('{KEY}', '{second}');")
    browser.finish(days(1), number=2)
    assert browser.ask("Steadyrail.record.setAside()") == [kept, second]
    assert browser.ask("Steadyrail.record.entries().length") == 2


@pytest.mark.parametrize("text", FOREIGN)
def test_a_file_that_is_no_record_is_refused_in_a_sentence(text: str) -> None:
    browser = Browser()
    browser.finish(days(0))
    found = browser.ask(f"Steadyrail.record.readBack({json.dumps(text)})")
    assert isinstance(found, dict) and found["why"].endswith("saved on today’s page.")
    assert browser.ask("Steadyrail.record.entries().length") == 1


@pytest.mark.parametrize("trouble", ["SHUT", "FULL"])
def test_with_storage_shut_or_full_the_record_lasts_as_long_as_the_page(trouble: str) -> None:
    browser = Browser()
    browser.engine.eval(f"{trouble} = true;")
    browser.finish(days(0))
    browser.finish(days(0), kind="zener-state:1")
    assert len(browser.due(days(1))) == 2
    assert browser.ask("Steadyrail.record.isKept()") is False
    text = str(browser.ask("Steadyrail.record.exported()"))
    assert len(json.loads(text)["entries"]) == 2, "and can still be saved"


def test_foreign_text_that_cannot_be_set_aside_is_left_where_it_is() -> None:
    browser = Browser("not JSON")
    browser.engine.eval("""
        const set = localStorage.setItem;
        localStorage.setItem = (key, text) => {
          if (key !== "steadyrail:record") throw new Error("full");
          set(key, text);
        };
    """)
    browser.finish(days(0))
    assert browser.stored() == "not JSON"
    assert browser.due(days(1)) == [KIND] and browser.ask("Steadyrail.record.isKept()") is False


@pytest.mark.parametrize(
    "told",
    [
        {"kind": "zener resistor:2"}, {"kind": "zener-resistor"}, {"kind": "__proto__"}, {"kind": 5}, {"number": 0},
        {"number": "4"}, {"number": 1.5}, {"right": "yes"}, {"key": ""}, {"key": None}, {"when": "no day"},
    ],
)  # fmt: skip
def test_what_is_no_entry_is_not_taken(told: dict[str, object]) -> None:
    browser = Browser()
    whole = {"kind": KIND, "number": 1, "key": "R_MAX", "right": True, "slip": "", "help": 0, "when": 1793700000000}
    assert browser.ask(f"Steadyrail.record.attempt({json.dumps(whole | told)})") is False
    assert browser.ask(f"Steadyrail.record.attempt({json.dumps(whole)})") is True
    assert browser.ask("Steadyrail.record.entries().length") == 1


def test_a_record_carried_in_an_address_is_the_record() -> None:
    """Where each file opened from disk has a store of its own, entries travel along the links."""
    browser = Browser(None, "record_carried")
    browser.attempt(days(0), right=False, slip="a slip~with!odd letters √ %")
    told = {"kind": KIND, "number": 3, "key": "R", "right": False, "slip": "high-line"}
    told["words"] = "the highest line (so)"
    browser.ask(f"Steadyrail.record.attempt({{...{json.dumps(told)}, when: {moment(days(0))}}})")
    browser.ask(f"Steadyrail.record.seen({{kind: '{KIND}', what: 'lesson', when: {moment(days(0))}}})")
    browser.finish(days(1), help=2)
    packed = browser.ask("Steadyrail.recordCarried.packed(Steadyrail.record.entries())")
    assert isinstance(packed, str) and not set(packed) & set('"<>& #?\\')
    same = f"Steadyrail.recordCarried.unpacked({json.dumps(packed)})"
    assert browser.ask(same) == browser.ask("Steadyrail.record.entries()")
    for cut in range(0, len(packed), 7):
        browser.ask(f"Steadyrail.recordCarried.unpacked({json.dumps(packed[:cut] + '%' + packed[cut + 1 :])})")


def test_a_whole_year_is_worked_through_quickly_and_stays_small() -> None:
    """Ten thousand entries: what a store holds (5 MB by common practice), and no rule that grows with their square."""
    browser = Browser()
    entries = [
        {**ENTRY, "at": f"2026-{1 + at // 900 % 12:02}-{1 + at // 32 % 28:02}T10:{at % 60:02}:00.000Z",
         "kind": f"family-{at % 50}:{1 + at % 3}", "number": 1 + at % 60, "right": at % 4 > 0}
        for at in range(10000)
    ]  # fmt: skip
    text = json.dumps({"form": 1, "of": "steadyrail record", "entries": entries})
    browser.engine.eval(f"STORE.set('{KEY}', {json.dumps(text)}); var TEXT = STORE.get('{KEY}');")
    assert browser.ask("Steadyrail.record.states().size") == 150
    assert len(str(browser.stored())) < 2_000_000
    browser.finish(days(0))
    assert browser.ask("Steadyrail.record.entries().length") == 10001
