"""The table of symbols: complete, free of clashes, and read under every spelling a learner may use."""

from __future__ import annotations

import pytest

from tutor.errors import UnknownName
from tutor.quantities.symbols import (
    SYMBOLS,
    NameParts,
    Sign,
    fold,
    folded_aliases,
    is_symbol,
    resolve_alias,
    split_name,
    symbol_for,
)
from tutor.quantities.units import units


def test_every_row_is_whole():
    """Each row names a known unit and says what it stands for."""
    for name, symbol in SYMBOLS.items():
        assert symbol.name == name
        assert symbol.unit in units(), name
        assert len(symbol.meaning) > 10, name


def test_no_two_symbols_share_a_spelling():
    """A spelling that folds to two different symbols would make a learner's line ambiguous."""
    owner: dict[str, str] = {}
    for name, symbol in SYMBOLS.items():
        for spelling in (name, *symbol.aliases):
            assert owner.setdefault(fold(spelling), name) == name, spelling
    assert folded_aliases() == owner


def test_every_alias_leads_to_its_symbol():
    """Names and aliases, in the case they stand in the table."""
    for name, symbol in SYMBOLS.items():
        for spelling in (name, *symbol.aliases):
            assert resolve_alias(spelling) == name


# IEC 60027 and IEC 60747-1 fix the letters and the case of the subscripts; the suffix forms are this project's own.
PARTS = [
    ("V_I", NameParts(False, "V_I", "", "")),
    ("V_I_MIN", NameParts(False, "V_I", "", "MIN")),
    ("V_I_2", NameParts(False, "V_I", "2", "")),
    ("V_BE_1_MAX", NameParts(False, "V_BE", "1", "MAX")),
    ("V_Z_P", NameParts(False, "V_Z", "P", "")),
    ("R_P", NameParts(False, "R", "P", "")),
    ("R_1", NameParts(False, "R_1", "", "")),
    ("R_1_MAX", NameParts(False, "R_1", "", "MAX")),
    ("R_1_P", NameParts(False, "R_1", "P", "")),
    ("I_C_1_P_NOM", NameParts(False, "I_C", "1_P", "NOM")),
    ("I_K_MIN", NameParts(False, "I_K_MIN", "", "")),
    ("I_K_MAX", NameParts(False, "I_K", "", "MAX")),
    ("I_K_MIN_MAX", NameParts(False, "I_K_MIN", "", "MAX")),
    ("V_RIP_O", NameParts(False, "V_RIP_O", "", "")),
    ("DT", NameParts(False, "DT", "", "")),
    ("DV_O", NameParts(True, "V_O", "", "")),
    ("DI_L_2", NameParts(True, "I_L", "2", "")),
    ("DR", NameParts(True, "R", "", "")),
]


@pytest.mark.parametrize(("name", "parts"), PARTS)
def test_names_come_apart(name: str, parts: NameParts):
    """Change, base, index and end; a base in the table wins over a base with a suffix."""
    assert split_name(name) == parts
    assert is_symbol(name)


def test_a_change_has_either_sign_and_temperatures_change_in_kelvins():
    """Celsius degrees are for temperatures, kelvins for differences (SI Brochure, 2.3.1)."""
    assert symbol_for("DV_O").sign is Sign.ANY
    assert symbol_for("DV_O").unit == "V"
    assert symbol_for("DT_J").unit == "K"
    assert symbol_for("V_BE_2_MAX").sign is Sign.POSITIVE
    assert "number 2" in symbol_for("V_BE_2_MAX").meaning


TYPED = [
    ("Vz", "V_Z"),
    ("VZ", "V_Z"),
    ("v_z", "V_Z"),
    ("rz", "r_z"),
    ("Vin", "V_I"),
    ("Vin_max", "V_I_MAX"),
    ("VINmin", "V_I_MIN"),
    ("I_Z(max)", "I_Z_MAX"),
    ("I_Z,min", "I_Z_MIN"),
    ("V_{I}", None),
    ("Vout", "V_O"),
    ("beta", "h_FE"),
    ("β", "h_FE"),
    ("hFE", "h_FE"),
    ("hfe_1", "h_FE_1"),
    ("VBE1", "V_BE_1"),
    ("VBE1max", "V_BE_1_MAX"),
    ("V_CE(sat)", "V_CE_SAT"),
    ("VBE(on)", "V_BE"),
    ("R1", "R_1"),
    ("r2", "R_2"),
    ("R2max", "R_2_MAX"),
    ("VzP", "V_Z_P"),
    ("Vz_p", "V_Z_P"),
    ("dVo", "DV_O"),
    ("ΔVout", "DV_O"),
    ("∆I_L", "DI_L"),
    ("ΔT", "DT"),
    ("dT", "DT"),
    ("ΔT_J", "DT_J"),
    ("A", "A"),
    ("a", None),
    ("F", None),
    ("f", "f"),
    ("pi", None),
    ("Pi", "P_I"),
    ("DC", None),
    ("D", None),
    ("", None),
    ("Vxx", None),
    ("x" * 500, None),
]


@pytest.mark.parametrize(("text", "name"), TYPED)
def test_what_a_learner_types(text: str, name: str | None):
    """Aliases, with suffixes; what is no symbol is None and never an error."""
    assert resolve_alias(text) == name


def test_an_unknown_name_is_told_its_nearest():
    """The sentence names the closest symbol of the table."""
    with pytest.raises(UnknownName, match="there is no symbol 'V_BEE'; did you mean 'V_BE'"):
        symbol_for("V_BEE")
