"""What was visited can be read without a network: the site served from a folder of a host, then the host gone."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Callable, Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from time import monotonic

import pytest
from playwright.sync_api import Browser, Error, Page, expect

from tests.site.small_site import chromium
from tutor.views.service_worker import service_worker, version_of

PROBLEM = "problems/zener-resistor-2.html"


class Quiet(SimpleHTTPRequestHandler):
    """A file server that keeps the terminal clean."""

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


class Host:
    """Serves a folder on loopback until it is gone; it can come back on the same port."""

    def __init__(self, folder: Path, port: int = 0) -> None:
        self.server = ThreadingHTTPServer(("127.0.0.1", port), partial(Quiet, directory=str(folder)))
        self.port: int = self.server.server_port
        threading.Thread(target=self.server.serve_forever, daemon=True).start()

    def gone(self) -> None:
        self.server.shutdown()
        self.server.server_close()


@pytest.fixture(scope="module")
def top(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A host's top folder; a copy of the site stands three folders down."""
    found = tmp_path_factory.mktemp("host")
    shutil.copytree(built, found / "a" / "course" / "site")
    return found


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context()
    yield context.new_page()
    context.close()


KEPT = """async () => {
  const found = [];
  for (const name of await caches.keys())
    for (const { url } of await (await caches.open(name)).keys()) found.push(`${name} ${url}`);
  return found;
}"""


def wait_for(page: Page, holds: Callable[[list[str]], bool]) -> None:
    """Until what the browser keeps is so: name of the cache and address, a line each."""
    until = monotonic() + 30
    while not holds(page.evaluate(KEPT)):
        assert monotonic() < until, page.evaluate(KEPT)
        page.wait_for_timeout(50)


def wait_until_kept(page: Page, place: str) -> None:
    wait_for(page, lambda kept: any(line.endswith(place) for line in kept))


def test_a_visited_page_is_read_and_turned_without_its_host(page: Page, top: Path) -> None:
    host = Host(top)
    site = f"http://127.0.0.1:{host.port}/a/course/site/"
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.goto(site + PROBLEM)
    for part in (PROBLEM, "bank/zener-resistor-2.js", "sheets/zener-resistor-2.js", "assets/checker.js", "index.html"):
        wait_until_kept(page, part)
    assert complaints == []
    host.gone()
    page.goto(site)
    expect(page.locator("h1")).to_have_text("Steadyrail")
    page.goto(site + PROBLEM)
    page.locator("#another").click()
    expect(page.locator("article.problem")).to_have_attribute("data-name", "zener-resistor:2:2")
    page.locator(".line-field").last.focus()
    page.keyboard.type("V_Z = 1 kV")
    page.keyboard.press("Enter")
    expect(page.locator(".first-wrong")).to_have_count(1, timeout=15000)
    with pytest.raises(Error):  # what was never visited is not there
        page.goto(site + "lessons/series.html")


def test_a_new_build_takes_over_and_keeps_what_was_visited(page: Page, top: Path) -> None:
    host = Host(top)
    folder = top / "a" / "course" / "site"
    site = f"http://127.0.0.1:{host.port}/a/course/site/"
    page.goto(site + PROBLEM)
    wait_until_kept(page, "bank/zener-resistor-2.js")
    old = (folder / "sw.js").read_text(encoding="utf-8")
    changed = (folder / PROBLEM).read_text(encoding="utf-8").replace("</h1>", ", built anew</h1>")
    (folder / PROBLEM).write_text(changed, encoding="utf-8")
    new = service_worker(folder)
    assert new != old
    (folder / "sw.js").write_text(new, encoding="utf-8")
    page.goto(site + "index.html")
    wait_for(page, lambda kept: all(f":{version_of(folder)} " in line for line in kept))
    host.gone()
    page.goto(site + PROBLEM)
    expect(page.locator("h1")).to_contain_text("built anew")


def test_the_version_is_that_of_what_was_built(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    for name, text in (("a/b", "1"), ("ab", "2")):
        (tmp_path / name).write_text(text)
    first = version_of(tmp_path)
    (tmp_path / "sw.js").write_text("any")
    assert version_of(tmp_path) == first
    (tmp_path / "ab").write_text("3")
    assert version_of(tmp_path) != first
