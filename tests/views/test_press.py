"""Text as it is set: units bound, values tied to their letters, names as letters, everything else escaped."""

from __future__ import annotations

import pytest

from tutor.views.press import prose, symbol, typeset, words


@pytest.mark.parametrize(
    ("given", "set_as"),
    [
        # SI Brochure, 9th edition, 5.4.3: the number and its unit stay together.
        ("5 mA and 40 %", "5\u00a0mA and 40\u00a0%"),
        ("5 V to 12 V", "5\u00a0V to 12\u00a0V"),
        ("2 Vases", "2 Vases"),
        ("the zener's", "the zener’s"),
        ("$R$'s and others' currents in '5 mA'", "$R$’s and others’ currents in '5\u00a0mA'"),
    ],
)
def test_text_is_set_as_a_compositor_would(given: str, set_as: str) -> None:
    assert typeset(given) == set_as


def test_a_letter_and_its_value_stay_on_one_line() -> None:
    told = str(prose("at $V_Z$ = 6.2 V and $R$"))
    assert told.startswith('at <span class="tied"><math') and "\u00a0=\u00a06.2\u00a0V</span> and <math" in told


def test_words_set_names_as_letters_and_nothing_else() -> None:
    assert str(words("−∂V_O/∂I_L & <b>")).count("<math") == 2
    assert str(words("file_name <b>")) == "file_name &lt;b&gt;"
    assert str(symbol("load <b>")) == "load &lt;b&gt;"
