"""A browser with the scripts of the record in V8, with a made-up clock and a made-up store."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path

from py_mini_racer import MiniRacer

ASSETS = Path(__file__).parents[2] / "site" / "assets"
KIND = "zener-resistor:2"
START = datetime(2026, 11, 3, 18, 30)
KEY = "steadyrail:record"
STORE = """
var window = globalThis;
var SHUT = false, FULL = false, STORE = new Map();
window.localStorage = {
  getItem: (key) => { if (SHUT) throw new Error("shut"); return STORE.has(key) ? STORE.get(key) : null; },
  setItem: (key, text) => { if (SHUT || FULL) throw new Error("shut"); STORE.set(key, String(text)); },
};
"""


class Browser:
    """A browser with the scripts of the record: a page is opened, things happen, another page is opened."""

    def __init__(self, kept: str | None = None, *scripts: str) -> None:
        self.engine = MiniRacer()
        self.engine.eval(STORE)
        if kept is not None:
            self.engine.eval(f"STORE.set('{KEY}', {json.dumps(kept)});")
        self.scripts = ("record", "record_words", *scripts)
        self.open_page()

    def open_page(self) -> None:
        self.engine.eval("delete globalThis.Steadyrail;")
        for name in self.scripts:
            self.engine.eval((ASSETS / f"{name}.js").read_text(encoding="utf-8"))

    def ask(self, expression: str) -> object:
        """What an expression comes to, by way of JSON."""
        return json.loads(str(self.engine.eval(f"JSON.stringify({expression}) || 'null'")))

    def say(self, expression: str) -> str:
        """The same for a sentence; a space that does not break is written as any other."""
        return str(self.ask(expression)).replace("\u00a0", " ")

    def attempt(self, when: datetime, right: bool, number: int = 1, kind: str = KIND, slip: str = "") -> object:
        told = {"kind": kind, "number": number, "key": "R_MAX", "right": right, "slip": slip, "help": 0}
        return self.ask(f"Steadyrail.record.attempt({{...{json.dumps(told)}, when: {moment(when)}}})")

    def finish(self, when: datetime, right: bool = True, help: int = 0, number: int = 1, kind: str = KIND) -> object:
        told = {"kind": kind, "number": number, "right": right, "help": help}
        return self.ask(f"Steadyrail.record.finished({{...{json.dumps(told)}, when: {moment(when)}}})")

    def due(self, when: datetime) -> list[str]:
        found = self.ask(f"Steadyrail.record.due({moment(when)}).map((item) => item.kind)")
        assert isinstance(found, list)
        return found

    def help(self, kind: str = KIND) -> object:
        return self.ask(f"Steadyrail.record.helpOf('{kind}')")

    def stage(self, kind: str = KIND) -> object:
        return self.ask(f"Steadyrail.record.stageOf('{kind}')")

    def dates(self, family: str, when: datetime) -> str:
        return self.say(f"Steadyrail.recordWords.dates(Steadyrail.record.states(), '{family}', {moment(when)})")

    def stored(self, key: str = KEY) -> str | None:
        found = self.ask(f"STORE.get('{key}')")
        assert found is None or isinstance(found, str)
        return found


def moment(when: datetime) -> str:
    """A moment here, as a Date of the script's own: both clocks are of one zone."""
    return f"new Date({when.year}, {when.month - 1}, {when.day}, {when.hour}, {when.minute})"


def days(number: float) -> datetime:
    return START + timedelta(days=number)
