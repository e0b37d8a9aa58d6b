"""What the build packs the pages unpack to the same bytes; zlib is the outside witness of RFC 1951."""

from __future__ import annotations

import json
import zlib
from random import Random

import pytest
from py_mini_racer import MiniRacer

from tutor.views.packed import packed, unpacked
from tutor.views.sources import site_folder


@pytest.fixture(scope="module")
def engine() -> MiniRacer:
    made = MiniRacer()
    made.eval((site_folder() / "assets" / "unpack.js").read_text(encoding="utf-8"))
    return made


def inflated(engine: MiniRacer, data: bytes) -> bytes:
    return bytes(json.loads(engine.eval(f"JSON.stringify([...Steadyrail.inflated(new Uint8Array({list(data)}))])")))


def raw(data: bytes, level: int, strategy: int) -> bytes:
    packer = zlib.compressobj(level, zlib.DEFLATED, -15, 9, strategy)
    return packer.compress(data) + packer.flush()


@pytest.mark.parametrize("strategy", [zlib.Z_DEFAULT_STRATEGY, zlib.Z_FIXED, zlib.Z_HUFFMAN_ONLY, zlib.Z_RLE])
@pytest.mark.parametrize("level", [0, 1, 9])
def test_the_page_unpacks_what_zlib_packs(engine: MiniRacer, level: int, strategy: int) -> None:
    """Blocks as they stand, with the fixed code and with codes of their own; little, much, even and uneven."""
    random = Random(8)
    for size in (0, 1, 2, 300, 5000, 70_000):
        for spread in (1, 7, 256):
            data = bytes(random.randrange(spread) for _ in range(size))
            assert inflated(engine, raw(data, level, strategy)) == data, (size, spread)


def test_data_that_ends_early_is_refused(engine: MiniRacer) -> None:
    data = raw(b"the raw supply, the raw supply, the zener" * 20, 9, zlib.Z_DEFAULT_STRATEGY)
    asked = f"Steadyrail.inflated(new Uint8Array({list(data[:-9])}))"
    told = engine.eval(f"try {{ {asked}; 'no fault' }} catch (fault) {{ fault.message }}")
    assert "ends early" in told or "no code" in told


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
