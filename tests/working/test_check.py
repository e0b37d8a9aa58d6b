"""A whole working: what earlier lines leave to later ones, and that nothing typed gets lost or raises."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from tests.solution.at_hand import sheet
from tutor.working.check import MOST_LINES, check_working
from tutor.working.finding import WRONG, Code, Finding

STATE, DESIGN, FOLLOWER = "zener-state:2:1", "zener-resistor:2:1", "follower-state:2:1"


def findings(text: str, name: str = STATE) -> tuple[Finding, ...]:
    return check_working(text, sheet(name)).findings


def codes(text: str, name: str = STATE) -> list[str]:
    return [item.code.value for item in findings(text, name)]


def test_findings_are_numbered_as_the_lines_are_typed():
    """Blanks count and have no finding; the first one counted wrong is told."""
    checked = check_working("V_O = V_Z\n\nI_R = 40 mA\n  \nI_R = V_I", sheet(STATE))
    assert [(item.number, item.code.value) for item in checked.findings] == [(1, "holds"), (3, "fails"), (5, "units")]
    assert checked.first_wrong == 3
    assert [item.text for item in checked.findings] == ["V_O = V_Z", "I_R = 40 mA", "I_R = V_I"]
    assert check_working("", sheet(STATE)).findings == ()
    assert check_working("V_O = V_Z", sheet(STATE)).first_wrong is None


def test_what_is_unread_or_follows_is_not_counted_wrong():
    """Fails, units and choice-bad are."""
    assert {Code.FAILS, Code.UNITS, Code.CHOICE_BAD} == WRONG
    assert check_working("I_R = ((", sheet(STATE)).first_wrong is None


def test_line_ends_of_every_kind():
    """Windows, old Mac, Unix: the same lines."""
    lines = ["V_O = V_Z", "I_R = 48.8 mA", "I_L = 13.4 mA"]
    assert {tuple(codes(end.join(lines))) for end in ("\n", "\r\n", "\r")} == {("holds", "holds-here", "holds-here")}


def test_a_value_that_is_wrong_is_carried_on_and_one_that_is_right_again_holds():
    """Follow-through until the learner's value is written anew."""
    text = "I_Z = 48.8 mA + 13.4 mA = 62.2 mA\nP_Z = V_Z I_Z = 684 mW\nI_Z = 35.4 mA\nP_Z = V_Z I_Z = 389 mW"
    assert codes(text) == ["fails", "follows", "holds-here", "holds-here"]


def test_what_is_worked_with_a_wrong_value_follows_and_with_a_right_one_holds():
    """Without a symbol, too; and with a wrong I_L the value of a known slip is the one that follows."""
    assert codes("I_Z = 48.8 mA + 13.4 mA = 62.2 mA\n11 V × 62.2 mA = 684 mW") == ["fails", "follows"]
    assert codes("I_R = 48.8 mA\n11 V × 48.8 mA = 537 mW") == ["holds-here", "holds-here"]
    assert codes("I_L = -13.4 mA\nI_Z = I_R - I_L = 62.2 mA") == ["fails", "follows"]


def test_a_line_that_goes_on_with_the_one_before():
    """= … takes up its last member; after a wrong line it only follows; after a blank there is none."""
    assert codes("I_R = (V_I - V_O)/R\n= 4/82\n= 48.8 mA") == ["holds", "holds-here", "holds-here"]
    assert codes("I_R = V_I/R\n= 183 mA")[1] == "follows"
    difference = "I_Z = I_R - I_L\n= 48.8 mA - 13.4 mA\n= 45.4 mA\nP_Z = V_Z I_Z = 499 mW"
    assert codes(difference) == ["holds", "holds-here", "fails", "follows"]  # I_Z heads all three
    assert codes("I_Z = 48.8 mA + 13.4 mA\n= 66 mA\nP_Z = V_Z I_Z = 726 mW") == ["fails", "fails", "follows"]
    assert codes("= 48.8 mA") == ["unread"]
    assert codes("I_R = 4/82\n\n= 48.8 mA") == ["holds-here", "unread"]
    assert findings("= 48.8 mA")[0].columns == (1, 10)  # all of it, from 1; past its end
    after_words = findings("I_R\n= (V_I - V_O)/R")
    assert [item.code.value for item in after_words] == ["note", "holds"]
    assert after_words[1].key == "I_R"


def test_own_symbols_are_defined_and_used():
    """A name of the learner's own stands for its chain from then on, and another chain for it is a claim."""
    assert codes("V_X = V_I - V_O\nI_R = V_X/R") == ["defines", "holds"]
    assert codes("I_R = V_X/R") == ["unread"]
    assert codes("V_X = V_I - V_O\nV_X = V_I\nI_R = V_X/R") == ["defines", "fails", "holds"]
    assert codes("V_X = V_I - V_O = 4 V\nI_R = V_X/R = 48.8 mA") == ["defines", "holds-here"]
    assert codes("V_X = V_I - V_O = 5 V") == ["fails"]
    assert codes("V_X = V_I + I_R") == ["units"]
    assert codes("V_X < 5") == ["unread"]
    assert codes("V_X = V_I - V_O\nI_R = V_X") == ["defines", "units"]


def test_a_hypothesis_holds_until_it_is_given_up():
    """Under it what is true of that state holds here; after `so not` or a blank line no longer."""
    supposed = "assume the zener is off\nV_O = V_I R_L/(R + R_L)\nI_R = I_L"
    first = findings(supposed)
    assert [item.code.value for item in first] == ["note", "holds-here", "holds-here"]
    assert all(item.assumed for item in first[1:])
    assert codes(f"{supposed}\nI_R = 2 I_L")[-1] == "fails"  # of a state that is known what is wrong is wrong
    assert codes("V_O = V_I R_L/(R + R_L)") == ["fails"]
    for back in ("so not", "", "but the zener is in breakdown"):
        assert codes(f"{supposed}\n{back}\nI_R = I_L")[-1] == "fails", back
        assert codes(f"{supposed}\n{back}\nI_R = I_Z + I_L")[-1] == "holds", back


def test_what_holds_under_a_hypothesis_is_told_to_do_so():
    """By symbols and by numbers alike, and nothing of it where nothing is assumed."""
    supposed = findings("assume the zener is off\nI_Z = 0\nI_R = I_L")[1:]
    assert [(item.code.value, item.why) for item in supposed] == [("holds-here", "under your assumption")] * 2
    plain = findings("V_O = V_Z\nI_R = 48.8 mA\nwhat is V_O?\nI_R = ((")
    assert not any("assumption" in item.why or item.assumed for item in plain)
    assert codes("assume the zener is off\nV_O = V_I R_L/(R + R_L)\n= 13.6 V") == ["note", "holds-here", "holds-here"]


def test_what_holds_of_the_circuit_leaves_a_hypothesis():
    """A line that is false of the supposed state and true of the real one is taken to be said of that."""
    text = "assume the zener is off\nI_Z = 35.4 mA\nP_Z = V_Z I_Z"
    assert codes(text)[1:] == ["holds-here", "holds"]


def test_a_wrong_verdict_is_believed():
    """Having concluded that the zener is off a learner goes on with the divider: that follows."""
    found = findings("so the zener is off\nV_O = V_I R_L/(R + R_L) = 13.6 V")
    assert found[1].code is Code.FOLLOWS and "as you concluded" in found[1].why


def test_a_choice_is_remembered_and_doubted():
    """A good one holds from then on; a bad one makes what rests on it follow, until a good one is made."""
    good = "choose R = 240 Ω\nI_R = (V_I_MAX - V_Z)/R = 72.5 mA"
    assert codes(good, DESIGN) == ["choice-ok", "holds-here"]
    bad = "choose R = 330 Ω\nI_R = (26.5 - 9.1)/330 = 52.7 mA"
    assert codes(bad, DESIGN) == ["choice-bad", "follows"]
    mended = f"{bad}\nchoose R = 240 Ω\nI_R = (26.5 - 9.1)/240 = 72.5 mA"
    assert codes(mended, DESIGN)[-2:] == ["choice-ok", "holds-here"]


def test_a_bare_value_of_the_part_is_a_choice_unless_it_is_the_bound():
    """R = 270 Ω chooses; R = 288 Ω is R_MAX written down."""
    assert codes("R = 270 Ω", DESIGN) == ["choice-ok"]
    assert findings("R = 288 Ω", DESIGN)[0].chosen is False
    assert codes("take 1 W for P_RM", DESIGN) == ["choice-bad"]
    assert findings("choose 270 Ω", DESIGN)[0].key == "R"


def test_two_statements_on_a_line_are_asked_for_one_and_not_lost():
    """The line is unread; what it says still serves the next."""
    text = "I_Z = 62.2 mA, P_O = 148 mW\nP_Z = V_Z I_Z = 684 mW"
    assert codes(text) == ["unread", "follows"]
    assert check_working(text, sheet(STATE)).first_wrong is None


@pytest.mark.parametrize("text", ["I_Z = ?", "this is what we want", "now the power:", "-----", "what is V_O?"])
def test_words_are_notes(text: str):
    """And leave no trace on later lines."""
    assert codes(text) == ["note"]
    assert codes(f"{text}\nV_O = V_Z") == ["note", "holds"]


def test_a_statement_of_ones_own_may_be_supposed():
    """`assume` with a wrong value is a note; what follows rests on it."""
    found = findings("assume I_Z = 50 mA\nP_Z = V_Z I_Z = 550 mW")
    assert [item.code for item in found] == [Code.NOTE, Code.FOLLOWS]
    assert "your own assumption" in found[0].why
    assert found[1].why == "right with your own values above"  # no line before it is wrong


def test_an_expression_alone_says_nothing_yet():
    """It may clash in itself, and the next line may go on with it."""
    assert codes("(V_I - V_O)/R\n= 48.8 mA") == ["note", "holds-here"]
    assert codes("V_I + I_R") == ["units"]


def test_the_decimal_comma_is_that_of_the_sheet():
    """48,8 mA is read where the reader is set to it and asked back where it is not."""
    comma = replace(sheet(STATE), decimal_comma=True)
    assert [item.code for item in check_working("I_R = 48,8 mA", comma).findings] == [Code.HOLDS_HERE]
    assert codes("I_R = 48,8 mA") == ["unread"]


def test_a_working_is_capped_not_refused():
    """Of ten thousand lines the first few hundred are answered."""
    found = findings("V_O = V_Z\n" * 10_000)
    assert len(found) == MOST_LINES
    assert {item.code for item in found} == {Code.HOLDS}


def test_the_order_of_checking_does_not_matter_to_a_line_alone():
    """A working checked twice, and its lines apart where they do not rest on each other: the same findings."""
    lines = ["V_O = V_Z", "I_R = (V_I - V_O)/R = 48.8 mA", "I_L = V_O/R_L = 13.4 mA", "P_R = V_R^2/R = 195 mW"]
    whole = findings("\n".join(lines))
    assert whole == findings("\n".join(lines))
    apart = [findings(line)[0] for line in lines]
    assert [(item.code, item.why) for item in apart] == [(item.code, item.why) for item in whole]
    turned = findings("\n".join(lines[::-1]))[::-1]
    assert [(item.code, item.why) for item in turned] == [(item.code, item.why) for item in whole]


def test_symbols_that_double_with_every_line_are_given_up_in_time():
    """a = V_I + V_O, b = a + a, and so on: at last too much to be judged, the whole line said to be so."""
    names = [f"A_{letter}" for letter in "abcdefghijklmnopqrst"]
    lines = [f"{names[0]} = V_I + V_O", *(f"{new} = {old} + {old}" for old, new in pairwise(names))]
    found = findings("\n".join(lines))
    first = next(place for place, item in enumerate(found) if item.code is not Code.DEFINES)
    assert first > 3 and found[first].code is Code.UNREAD and "grown too long" in found[first].why
    assert found[first].columns == (1, len(lines[first]) + 1)


def test_what_a_definition_goes_on_with():
    """A symbol of one's own stands for what it was set equal to, for its value only where that is not what was meant;
    an inequality gives it no meaning, whatever follows it."""
    assert codes("V_X = V_I - V_O = 4 V\nI_R = V_X/R") == ["defines", "holds"]
    wrong = "V_X = V_I - V_O = 5 V"
    assert codes(f"{wrong}\nI_R = V_X/82 = 61 mA") == ["fails", "follows"]
    assert codes(f"{wrong}\nI_R = V_X/R\nI_R = 61 mA") == ["fails", "holds", "follows"]
    assert codes(f"{wrong}\nI_R = V_X R_L") == ["fails", "units"]
    assert codes("V_X ≤ V_I = 15 V") == ["unread"]


def test_under_a_state_that_the_sheet_does_not_know_only_what_holds_is_said():
    """What does not hold of the circuit as it is may hold there, and is not judged, until it is given up."""
    text = "assume the resistor is shorted\nI_R = I_Z + I_L\nV_O = V_I"
    found = findings(text)
    assert [item.code.value for item in found] == ["note", "holds", "note"], [item.why for item in found]
    assert "not judged" in found[2].why
    assert codes(f"{text}\nso not\nI_R = 2 I_L")[-1] == "fails"


def test_a_part_without_a_symbol_has_the_value_that_was_written_for_it():
    """The drop across R, by symbols or by its numbers: right, what is worked with it holds; wrong, it follows."""
    for drop in ("V_I - V_O", "15 - 11"):
        assert codes(f"{drop} = 4 V\nI_R = 4 V/82 Ω = 48.8 mA") == ["holds-here", "holds-here"]
    assert codes("V_I - V_O = 5 V\nI_R = 5 V/82 Ω = 61 mA") == ["fails", "follows"]
    assert codes("15 V - 11 V = 5 V\nI_R = 5 V/82 Ω = 61 mA\nI_R = 61 mA") == ["fails", "follows", "follows"]
    assert codes("I_R = 5 V/82 Ω = 61 mA") == ["fails"]  # nobody wrote 5 V before


def test_a_chain_goes_on_from_its_last_side():
    """Of three sides the last is taken up, and the symbol at the head is still what is spoken of."""
    found = findings("I_R = (V_I - V_O)/R = 4/82\n= 48.8 mA\n= 0.5 A")
    assert [item.code.value for item in found] == ["holds-here", "holds-here", "fails"]
    assert {item.key for item in found} == {"I_R"}
    assert codes("V_TH = 13.6 V > V_Z\n= 11 V") == ["holds-here", "holds-here"]
