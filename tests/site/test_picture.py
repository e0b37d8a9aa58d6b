"""The picture in the README shows the page as it is now."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

from PIL import Image, ImageChops, ImageStat

from tests.site.picture import PICTURE, SIZE, one_page_site, take
from tests.site.small_site import chromium

MOST_BYTES = 150_000
BLOCKS = (53, 61)  # so coarse that another text face is much the same


def apart(one: Image.Image, other: Image.Image) -> float:
    """How far two pictures lie apart, block by block (of 255)."""
    return float(ImageStat.Stat(ImageChops.difference(one, other)).mean[0])


def test_the_picture_is_small_and_of_the_page_as_it_is(tmp_path: Path) -> None:
    """Taken anew (which waits for every line's finding) it has the same size and ink in the same places.

    Half as far from the kept one as an empty page is would be another page.
    """
    with chromium() as browser:
        taken = take(browser, one_page_site(tmp_path / "site"))
    assert PICTURE.stat().st_size < MOST_BYTES
    with Image.open(PICTURE) as kept, Image.open(BytesIO(taken)) as now:
        assert kept.size == now.size == SIZE
        old, new = (picture.convert("L").resize(BLOCKS, Image.Resampling.BOX) for picture in (kept, now))
    empty = Image.new("L", BLOCKS, old.getpixel((0, 0)))
    assert apart(old, new) < apart(old, empty) / 2, "take it anew: python -m tests.site.picture"
