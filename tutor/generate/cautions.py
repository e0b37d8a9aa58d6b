"""The cautions that stand with every problem that could be built, in our own words.

Limits quoted: 42.4 V peak, 60 V d.c., 20 J (the wording of IEC 60950-1, since replaced by the energy classes of
IEC 62368-1). Capacitors and bleeders: S. Gibilisco, Teach Yourself Electricity and Electronics, ch. 21. The rest is
common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from tutor.errors import unknown

STANDING = (
    "Everything here is an exercise on paper. Its values are for learning and no approval to build. Work on the mains "
    "belongs to people who are trained and, where the law says so, licensed for it; your local wiring code, "
    "product-safety standards and laboratory rules come before anything printed here."
)

CAUTIONS: Mapping[str, str] = {
    "mains-fed": "A raw supply hangs on the mains: in the laboratory start from a certified low-voltage adaptor or an "
    "isolated, current-limited bench supply, and leave the mains side closed.",
    "transformer": "Use a safety isolating transformer, fused on its mains side, and never one whose windings are "
    "joined.",
    "electrolytics": "An electrolytic capacitor that is reversed or over its rated voltage may burst: check polarity "
    "and rating, and protect your eyes at first switch-on.",
    "capacitors": "The reservoir of the supply stays charged after switch-off: wait, discharge it through a resistor, "
    "then measure before touching.",
    "hot-parts": "Resistors and transistors that dissipate a good part of a watt burn fingers and benches; mount them "
    "clear and limit the current at first switch-on.",
    "live-tab": "A heat-sink above some 60 °C burns the skin, and the metal tab on it may be live: insulate it, guard "
    "it and mark it.",
    "output": "Check the power with the output shorted before any test, limit the current, and keep such a test short.",
}


def caution_text(caution_id: str) -> str:
    """The words of a caution by its id; UnknownName with the nearest otherwise."""
    if caution_id not in CAUTIONS:
        raise unknown("caution", caution_id, CAUTIONS)
    return CAUTIONS[caution_id]
