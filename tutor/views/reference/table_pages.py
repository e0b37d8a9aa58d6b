"""The pages that are tables: letter symbols, findings on a line, fields of a set file.

Place in the data flow: the engine's own tables and the annotated set file -> Markdown.
"""

from __future__ import annotations

import re
from pathlib import Path

from tutor.quantities.symbols import SYMBOLS, Sign
from tutor.quantities.units import printed_unit
from tutor.sets.set_file import set_fields
from tutor.views.found_words import MEANT, SAID
from tutor.views.reference.markdown import code, page, plain, table
from tutor.working.finding import WRONG, Code
from tutor.working.misreadings import MISREADINGS

_SIGNS = {Sign.POSITIVE: "positive", Sign.NONNEGATIVE: "zero or more", Sign.ANY: "any"}
_LINE = re.compile(r"(?:# )?(?P<key>[A-Za-z_-]+) = (?P<value>.+?)(?:\s+# (?P<said>.+))?")
_SHORT = 40  # characters of a malformed line that stand in a table


def symbols_page() -> str:
    """The page of letter symbols: unit, sign, meaning, and what else may be typed."""
    rows = [
        (
            code(item.name),
            printed_unit(item.unit) or "1",
            _SIGNS[item.sign],
            plain(item.meaning),
            ", ".join(map(code, item.aliases)),
        )
        for item in SYMBOLS.values()
    ]
    about = (
        "`_MIN`, `_MAX` and `_NOM` behind a name are the ends and the middle of a range, `_1` and `_2` number devices, "
        "`_P` is a first stage, and `D` before a name is a change. Case and underscores may be left out in typing."
    )
    heads = ("symbol", "unit", "sign", "what it is, and its direction", "also typed")
    return page("Letter symbols", about, [table(heads, rows)])


def findings_page() -> str:
    """The page of findings: the ten codes, and every way in which a line cannot be read."""
    codes = [
        (code(item.value), SAID[item][0], plain(SAID[item][1]), "wrong" if item in WRONG else "", plain(MEANT[item]))
        for item in Code
    ]
    unread = [(code(row.fault.name.lower()), plain(row.sentence), _example(row.examples)) for row in MISREADINGS]
    about = "Each line of a working has exactly one of these codes; a line is judged, never refused."
    parts = [
        table(("code", "sign", "words", "counted", "what it says of the line"), codes),
        "## What cannot be read",
        "In the sentence `{found}` is what stands at the columns, `{near}` the symbol probably meant.",
        table(("fault", "sentence", "for example"), unread),
    ]
    return page("Findings", about, parts)


def _example(examples: tuple[str, ...]) -> str:
    short = [line for line in examples if len(line) <= _SHORT and line.isprintable() and "`" not in line]
    return code(short[0].strip()) if short else ""


def set_file_page(example: Path) -> str:
    """The page of the set file: each table's fields, with what the annotated example says of them."""
    said = _said(example.read_text(encoding="utf-8"))
    parts = []
    for where, fields in set_fields().items():
        parts.append(f"## {f'In `[{where}]`' if where in ('learners', 'print', 'rules') else _title(where)}")
        kept = "questions" if where.startswith("questions") else where
        rows = []
        for name in fields:
            value, words = said.get((kept, name), ("", "a table of its own"))
            rows.append((code(name), code(value), plain(words)))
        parts.append(table(("field", "for example", "what it says"), rows))
    about = f"A set file is TOML. `{example.parent.name}/{example.name}` of the problems uses every field there is."
    return page("Set files", about, parts)


def _title(where: str) -> str:
    return f"In `[[questions]]`, told by `{where.rpartition(' ')[2]}`" if where else "At the head of the file"


def _said(text: str) -> dict[tuple[str, str], tuple[str, str]]:
    """(table, field) -> value and comment in the example; what stands above a question is said of its first field."""
    found: dict[tuple[str, str], tuple[str, str]] = {}
    where, above = "", ""
    for line in text.splitlines():
        if line.startswith("["):
            where = line.partition("#")[0].strip().strip("[]")
        elif match := _LINE.fullmatch(line):
            value = '"""..."""' if match["value"] == '"""' else match["value"]
            found.setdefault((where, match["key"]), (value, match["said"] or (above if where == "questions" else "")))
            above = ""
        elif line.startswith("# "):
            above = line[2:]
    return found
