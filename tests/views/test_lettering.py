"""Letter symbols as printed: main letter and subscript."""

from __future__ import annotations

import pytest

from tutor.quantities.symbols import SYMBOLS
from tutor.views.lettering import Run, label_runs, plain_label, symbol_parts

# IEC 60747-1 style (V_BE, h_FE, V_CE(sat), R_th(j-c), I_Z(max)), from memory; Δ for a change.
PRINTED = [
    ("V_I", "V", "I"),
    ("V_I_MIN", "V", "I(min)"),
    ("R_MAX", "R", "max"),
    ("V_BE_1", "V", "BE1"),
    ("V_BE_1_MAX", "V", "BE1(max)"),
    ("I_I_2", "I", "I2"),
    ("V_Z_P", "V", "Z,P"),
    ("R_1", "R", "1"),
    ("R_1_MAX", "R", "1(max)"),
    ("V_Z0", "V", "Z0"),
    ("r_z", "r", "z"),
    ("h_FE", "h", "FE"),
    ("V_CE_SAT", "V", "CE(sat)"),
    ("V_SPK", "V", "s(pk)"),
    ("I_K_MIN", "I", "K(min)"),
    ("R_thJC", "R", "th(j-c)"),
    ("R_thSA", "R", "th(s-a)"),
    ("eta", "η", ""),
    ("alpha_Z", "α", "Z"),
    ("DV_O", "ΔV", "O"),
    ("DT", "ΔT", ""),
    ("PIV", "PIV", ""),
    ("Q_1", "Q", "1"),
]


@pytest.mark.parametrize(("name", "main", "subscript"), PRINTED, ids=[name for name, _, _ in PRINTED])
def test_a_symbol_as_printed(name: str, main: str, subscript: str) -> None:
    assert symbol_parts(name) == (main, subscript)


def test_no_two_symbols_of_the_table_look_alike() -> None:
    names = [f"{name}{end}" for name in SYMBOLS for end in ("", "_MIN", "_MAX", "_NOM") if name + end != "I_K_MIN"]
    printed = [symbol_parts(name) for name in names]
    assert len(set(printed)) == len(printed)
    assert not any("_" in main + subscript for main, subscript in printed)


def test_a_label_is_a_symbol_or_words() -> None:
    assert label_runs("R_L") == (Run("R", italic=True), Run("L", lowered=True))
    assert label_runs("PIV_1") == (Run("PIV"), Run("1", lowered=True))
    assert label_runs("DV_O") == (Run("Δ"), Run("V", italic=True), Run("O", lowered=True))
    assert label_runs("raw supply") == (Run("raw supply"),)
    assert plain_label("V_I_MIN") == "V_I(min)"
