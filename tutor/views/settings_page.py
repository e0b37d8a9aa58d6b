"""The page of settings: how the book writes and draws, and how much it helps, chosen once for every page.

Vocabulary: a *setting* has a name and a few choices, the first of which holds unless another is chosen; the names and
values are those of `site/assets/settings.js`, which keeps what is chosen in the reader's browser.
Place in the data flow: SiteContent -> `settings_page` -> settings.html. What a choice does is done by the page itself,
by `settings_shown.js`, the working sheet and the problem page: nothing is built again.
"""

from __future__ import annotations

from dataclasses import dataclass

from jinja2 import Environment

from tutor.views.content import SiteContent
from tutor.views.pages import Page, frame_values

_SAMPLES = ("follower", "zener-shunt")  # with a gain and both letters in their drawing


@dataclass(frozen=True)
class SettingChoice:
    """One way a setting may stand: its value for the scripts, its words as prose."""

    value: str
    words: str


@dataclass(frozen=True)
class Setting:
    """One setting: its name for the scripts, its title, its choices, and what is to be known about it, as prose."""

    name: str
    title: str
    choices: tuple[SettingChoice, ...]
    about: str = ""


SETTINGS = (
    Setting(
        "decimal",
        "Decimal sign",
        (SettingChoice("point", "a point, 3.14"), SettingChoice("comma", "a comma, 3,14")),
        "With a comma, what you type may have either sign; with a point, a comma is queried.",
    ),
    Setting(
        "names",
        "Input and output",
        (SettingChoice("V_I", "$V_I$ and $V_O$"), SettingChoice("V_in", "V_in and V_out")),
        "Either may be typed, whichever is chosen.",
    ),
    Setting(
        "gain",
        "Current gain of a transistor",
        (SettingChoice("h_FE", "$h_FE$"), SettingChoice("beta", "β")),
        "Either may be typed, whichever is chosen.",
    ),
    Setting(
        "drawings",
        "Symbols in drawings",
        (SettingChoice("IEC", "IEC 60617: resistors are boxes"), SettingChoice("IEEE", "IEEE 315: resistors zigzag")),
    ),
    Setting(
        "mains",
        "Mains frequency",
        (SettingChoice("both", "both"), SettingChoice("50", "50 Hz"), SettingChoice("60", "60 Hz")),
        "Problems are drawn at one or the other. With one chosen, turning to another problem passes over those at the "
        "other; any of them can still be asked for by its number.",
    ),
    Setting(
        "help",
        "Help on the way",
        (SettingChoice("on", "offered, and fading as you manage without"), SettingChoice("off", "none")),
    ),
    Setting(
        "checking",
        "Lines of working",
        (SettingChoice("at-once", "checked as I write"), SettingChoice("at-the-end", "checked all at the end")),
    ),
)


def settings_page(content: SiteContent, press: Environment) -> Page:
    """The page of settings, with a drawing and a sentence that show what is chosen."""
    circuits = content.circuits()
    shown = next((circuits[name] for name in _SAMPLES if name in circuits), next(iter(circuits.values()), None))
    text = press.get_template("settings.html").render(
        frame_values("Settings", "", "settings", "How this book writes and draws, and how much it helps.", ""),
        sheets=("problem", "settings"),
        scripts=("settings_page",),
        settings=SETTINGS,
        sample=shown.schematic_svg if shown else "",
        sample_title=shown.title if shown else "",
    )
    return Page("settings.html", text)
