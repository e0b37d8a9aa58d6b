"""What the build packs the pages unpack to the same bytes; liblzma is the outside witness."""

from __future__ import annotations

import json
import lzma
from random import Random

import pytest
from py_mini_racer import MiniRacer

from tutor.views.packed import FILTERS, packed, unpacked
from tutor.views.sources import site_folder


@pytest.fixture(scope="module")
def engine() -> MiniRacer:
    made = MiniRacer()
    made.eval((site_folder() / "assets" / "unpack.js").read_text(encoding="utf-8"))
    return made


def unlzma(engine: MiniRacer, data: bytes) -> bytes:
    return bytes(json.loads(engine.eval(f"JSON.stringify([...Steadyrail.unlzma(new Uint8Array({list(data)}))])")))


def raw(data: bytes, **more: int) -> bytes:
    return lzma.compress(data, lzma.FORMAT_RAW, filters=[{**FILTERS[0], **more}])


@pytest.mark.parametrize(
    "more",
    [{}, {"mode": lzma.MODE_FAST, "mf": lzma.MF_HC3, "nice_len": 4}, {"nice_len": 273, "mf": lzma.MF_BT4}],
    ids=["ours", "fast", "long"],
)
def test_the_page_unpacks_what_lzma_packs(engine: MiniRacer, more: dict[str, int]) -> None:
    """Bytes alone, runs, repeats near and far (past 128 and past 64 kB), even and uneven."""
    random = Random(8)
    for size in (0, 1, 2, 300, 5000, 70_000):
        for spread in (1, 7, 256):
            data = bytes(random.randrange(spread) for _ in range(size))
            data += data[: size // 2] + bytes(random.randrange(256) for _ in range(9)) + data[: size // 3]
            assert unlzma(engine, raw(data, **more)) == data, (size, spread)


def test_data_that_ends_early_is_refused(engine: MiniRacer) -> None:
    data = raw(b"the raw supply, the raw supply, the zener" * 20)
    for cut in (9, len(data)):
        asked = f"Steadyrail.unlzma(new Uint8Array({list(data[:-cut])}))"
        told = engine.eval(f"try {{ {asked}; 'no fault' }} catch (fault) {{ fault.message }}")
        assert "ends early" in told


@pytest.mark.parametrize(
    "script",
    [
        'Steadyrail.takeBank("zener-state:1", {"template":"a); Ω","rows":[[1]]});\n',
        '(window.Steadyrail = window.Steadyrail || {}).ownData = {"a":{"b":"};"}};\n',
    ],
)
def test_a_data_script_packs_and_unpacks(script: str) -> None:
    assert unpacked(packed(script)) == script
    assert "Ω" not in packed(script)


@pytest.mark.parametrize("script", ["alert(1);\n", 'Steadyrail.takeBank("x", [1]);\n', ""])
def test_another_form_of_script_is_refused(script: str) -> None:
    with pytest.raises(ValueError, match="no script that hands one literal"):
        packed(script)
