"""The own-numbers pages as a reader uses them: opened from disk in Chromium, numbers typed, the solution read.

Numbers come from each set's sample, moved by a fixed seed; what the page shows is held against `solve`.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

import tutor
from tests.views.test_own_numbers import SLOW
from tests.whole_site import WholeSite
from tutor.errors import SteadyrailError
from tutor.quantities.prose import prose_text
from tutor.quantities.quantity import given
from tutor.quantities.symbols import split_name, symbol_for
from tutor.solution.answer import WorkedAnswer
from tutor.solution.desk import our_desk
from tutor.solution.own_offer import OfferedSet
from tutor.views.content import SiteContent
from tutor.views.plain import chain_text

SEED = 60064
CIRCUITS = our_desk().folder.circuit_ids()
SLOW_SETS = 2  # of circuits whose plans take seconds a set; the same scripts are held to more of them in V8
LOADED = "V_I.R.V_Z.R_L"

# All that the page shows of a solution, as plain data.
SHOWN = """() => ({
  status: document.querySelector(".own-status").dataset.text,
  hidden: document.querySelector(".own-solution").hidden,
  lines: [...document.querySelectorAll(".own-steps .step")].map((step) =>
    [...step.querySelectorAll("math[display]")].map((maths) => maths.getAttribute("alttext"))),
  open: document.querySelectorAll(".own-steps [data-slot]").length,
  values: [...document.querySelectorAll(".own-values tr")].map((row) =>
    [row.dataset.name, Number(row.lastChild.dataset.value)]),
})"""
FILL = """([id, texts]) => {
  const form = document.querySelector(".own-form");
  form.querySelector(`input[value="${CSS.escape(id)}"]`).click();
  for (const [name, text] of Object.entries(texts)) document.getElementById(`own-${name}`).value = text;
  form.dispatchEvent(new Event("submit", { cancelable: true }));
}"""


@pytest.fixture(scope="module")
def content(whole: WholeSite) -> SiteContent:
    return whole.content


@pytest.fixture(scope="module")
def site(whole: WholeSite) -> Path:
    return whole.path


class Reader:
    """A reader's page, every complaint of the browser about it, every address it asks for."""

    def __init__(self, context: BrowserContext, site: Path) -> None:
        self.site = site
        self.page: Page = context.new_page()
        self.complaints: list[str] = []
        self.asked: list[str] = []
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("request", lambda request: self.asked.append(request.url))

    def open(self, circuit: str, chosen: str = "") -> Page:
        self.page.goto((self.site / "own" / f"{circuit}.html").as_uri())
        if chosen:
            self.page.locator(f'.own-set input[value="{chosen}"]').check()
        return self.page

    def type(self, **texts: str) -> None:
        """Types into fields as a reader does."""
        for name, text in texts.items():
            self.page.fill(f"#own-{name}", text)

    def told(self, name: str) -> str:
        return self.page.locator(f"#own-{name}-told").inner_text()


@pytest.fixture
def context(working_browser: Browser) -> Iterator[BrowserContext]:
    made = working_browser.new_context(viewport={"width": 1280, "height": 900})
    yield made
    made.close()


@pytest.fixture
def reader(context: BrowserContext, site: Path) -> Iterator[Reader]:
    made = Reader(context, site)
    yield made
    assert made.complaints == []
    assert all(address.startswith(("file://", "blob:")) for address in made.asked)


def numbers_near(item: OfferedSet, random: Random) -> Iterator[dict[str, float]]:
    """The sample and two sets of numbers round it, four figures each; in the last, changes go the other way."""
    yield dict(item.sample)
    for spread, sign in ((0.1, 1), (0.6, -1)):
        moved = {name: value * random.uniform(1 - spread, 1 + spread) for name, value in item.sample.items()}
        moved = {name: value * sign if split_name(name).change else value for name, value in moved.items()}
        yield {name: float(f"{value:.4g}") for name, value in moved.items()}


def solved(circuit: str, values: dict[str, float], item: OfferedSet) -> WorkedAnswer | str:
    try:
        return tutor.solve(circuit, values, (), dict(item.given.conventions))
    except SteadyrailError as error:
        return error.sentence


def test_every_circuit_has_a_page_of_own_numbers(content: SiteContent, site: Path) -> None:
    assert sorted(offer.circuit.id for offer in content.own) == sorted(CIRCUITS)
    assert sorted(page.stem for page in (site / "own").glob("*.html")) == sorted(CIRCUITS)


@pytest.mark.parametrize("circuit", CIRCUITS[::3])  # of all, the scripts are held to `solve` in tests/views
def test_the_page_shows_what_solve_finds_line_by_line(circuit: str, reader: Reader, content: SiteContent) -> None:
    """Every given-set: region, every value to 1e-9, and each line of each step as `solve` writes it."""
    offer = next(offer for offer in content.own if offer.circuit.id == circuit)
    page, random, worked = reader.open(circuit), Random(SEED), 0
    looked_at = offer.sets[: SLOW_SETS if circuit in SLOW else None]
    for at, item in enumerate(looked_at):
        near = list(numbers_near(item, random))
        for values in near if at == 0 else (near[0], near[1 + at % 2]):
            texts = {name: given(value, symbol_for(name).unit).text for name, value in values.items()}
            page.evaluate(FILL, [item.given.id, texts])
            shown = page.evaluate(SHOWN)
            answer = solved(circuit, values, item)
            told = f"{circuit} {item.given.id} {texts}"
            if isinstance(answer, str):
                assert shown["status"].lower() == f"{answer}.".lower() and shown["hidden"], told
                continue
            worked += 1
            assert shown["status"] == f"Worked: {answer.region}." and not shown["hidden"], told
            assert shown["open"] == 0, told
            found = {name: quantity.value for name, quantity in answer.values.items() if name not in values}
            assert dict(shown["values"]) == pytest.approx(found, rel=1e-9, abs=1e-15), told
            lines = [[chain_text(chain) for chain in step.chains] for step in answer.steps]
            assert shown["lines"][: len(lines)] == lines, told
    assert worked > len(looked_at), "most sets are worked"


def test_a_change_of_region_is_told_with_the_bound_that_fails(reader: Reader) -> None:
    page = reader.open("zener-shunt", LOADED)
    reader.type(V_I="15 V", R="220", V_Z="9V1", R_L="0.9k")
    expect(page.locator(".own-state")).to_have_text("With these numbers the zener is in breakdown.")
    assert page.locator(".own-steps .step-title").first.inner_text() == "Output with the zener taken out"
    reader.type(R_L="100R")
    expect(page.locator(".own-state")).to_contain_text("the zener is off")
    first = page.locator(".own-steps .step").first
    assert first.locator(".step-title").inner_text() == "Assume that the zener is in breakdown"
    said = "With these values it needs IZ ≥ 0, but IZ = −64.2\u00a0mA. So the assumption falls."
    assert first.locator(".after").text_content() == said
    assert page.locator(".own-checks li").count() == 1


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("15,5 V", "Is the comma in"), ("9.1 A", "This is a current; a voltage in V was asked."), ("((", ""),
        ("-15", "cannot be negative"), ("1/0", ""), ("<b>15</b>", ""), ("inf", ""), ("9" * 500, ""),
    ],
    ids=("comma", "kind", "bracket", "sign", "quotient", "markup", "word", "long"),
)  # fmt: skip
def test_a_number_that_cannot_be_used_is_told_beside_its_field(reader: Reader, text: str, says: str) -> None:
    page = reader.open("zener-shunt", LOADED)
    reader.type(V_I=text, R="220", V_Z="9.1", R_L="900")
    expect(page.locator("#own-V_I")).to_have_attribute("aria-invalid", "true")
    told = reader.told("V_I")
    assert says in told and len(told) > 10 and told.count(".") + told.count("?") >= 1
    assert page.locator(".own-solution").is_hidden()
    status = page.locator(".own-status")
    expect(status).to_have_attribute("data-text", "V_I cannot be used as written; see beside it.")
    assert page.locator(".own-status b, .number-told b").count() == 0, "what is typed is never markup"
    reader.type(V_I="15")
    expect(page.locator(".own-solution")).to_be_visible()
    assert reader.told("V_I") == "Taken as 15\u00a0V."


def test_what_is_still_open_and_what_cannot_be_are_told_in_one_sentence(reader: Reader) -> None:
    page = reader.open("zener-shunt", LOADED)
    status = page.locator(".own-status")
    reader.type(V_I="15", R="0")
    expect(status).to_have_text(re.compile("cannot be used as written"))
    assert "must be above zero" in reader.told("R")
    reader.type(R="220")
    expect(status).to_have_text(re.compile("^Still to be given: .*and"))
    page.locator('.own-set input[value="V_I.V_Z.I_Z.I_L"]').check()
    reader.type(V_I="5", V_Z="9.1", I_Z="10m", I_L="10m")
    expect(status).to_have_text(re.compile("below zero"))
    assert page.locator(".own-solution").is_hidden()


def test_a_supply_above_sixty_volts_and_an_overloaded_part_are_warned_of(reader: Reader) -> None:
    page = reader.open("zener-shunt", LOADED)
    page.locator(".own-ratings summary").click()
    reader.type(V_I="70", R="1k", V_Z="12", R_L="1k", P_ZM="0.5 W")
    expect(page.locator(".own-warnings li")).to_have_count(2)
    said = page.locator(".own-warnings").inner_text()
    answer = tutor.solve("zener-shunt", {"V_I": 70, "R": 1000, "V_Z": 12, "R_L": 1000, "P_ZM": 0.5})
    assert len(answer.warnings) == 2 and answer.warnings[0] in said.replace("\u00a0", " ")
    assert "the part would be overloaded" in said


def test_an_approximation_is_held_against_the_exact_circuit(reader: Reader) -> None:
    page = reader.open("follower", "V_I.R.V_Z.V_BE.h_FE.R_L.base-current=load-over-h_FE")
    reader.type(V_I="18", R="390", V_Z="10", V_BE="0.7", h_FE="20", R_L="100")
    expect(page.locator(".own-checks li").last).to_contain_text("does not hold")
    values = {"V_I": 18, "R": 390, "V_Z": 10, "V_BE": 0.7, "h_FE": 20, "R_L": 100}
    check = tutor.solve("follower", values, (), {"base-current": "load-over-h_FE"}).checks[-1]
    error = re.search(r"the error is ([0-9.]+)", prose_text(check.text))
    assert not check.holds and error is not None
    assert f"the error is {error[1]}" in page.locator(".own-checks li").last.inner_text()


def test_a_working_is_checked_against_the_numbers_and_again_when_they_change(reader: Reader) -> None:
    page = reader.open("zener-shunt", LOADED)
    reader.type(V_I="15", R="220", V_Z="9.1", R_L="900")
    expect(page.locator(".own-solution")).to_be_visible()
    field = page.locator(".line-field")
    field.first.focus()
    for line in ("I_R = (V_I - V_Z)/R = 26.8 mA", "I_Z = I_R + V_Z/R_L = 36.9 mA"):
        page.keyboard.type(line)
        page.keyboard.press("Enter")
    findings = page.locator(".line-finding")
    expect(findings.nth(0)).to_contain_text("true")
    expect(findings.nth(1)).to_contain_text("not so", timeout=8000)
    page.reload()
    expect(page.locator(".own-status")).to_have_text("Worked: the zener is in breakdown.")
    expect(page.locator(".line-field").first).to_have_value("I_R = (V_I - V_Z)/R = 26.8 mA")
    expect(findings.nth(0)).to_contain_text("true")
    reader.type(R="270")
    expect(findings.nth(0)).to_contain_text("not so", timeout=8000)
    assert page.locator(".working-line").count() == 3


def test_numbers_outlast_a_reload_and_belong_to_their_letters(reader: Reader) -> None:
    page = reader.open("zener-shunt", LOADED)
    reader.type(V_I="15.5 V", R="2k7")
    page.reload()
    expect(page.locator(f'.own-set input[value="{LOADED}"]')).to_be_checked()
    expect(page.locator("#own-R")).to_have_value("2k7")
    page.locator('.own-set input[value="V_I.V_Z.I_L"]').check()
    expect(page.locator("#own-V_I")).to_have_value("15.5 V")
    assert page.locator("#own-R").is_hidden()
    reader.open("follower")
    expect(page.locator("#own-V_I")).to_have_value("")


def test_numbers_written_over_can_be_had_back(reader: Reader) -> None:
    page = reader.open("zener-shunt", LOADED)
    mine = {"V_I": "15.5 V", "R": "2k7"}
    back = page.get_by_role("button", name="put mine back")
    for name in ("put in an example", "clear"):
        reader.type(**mine)
        expect(back).to_be_hidden()
        page.get_by_role("button", name=name).click()
        assert page.input_value("#own-R") != "2k7"
        back.click()
        expect(page.locator("#own-R")).to_have_value("2k7")
        expect(page.locator("#own-V_I")).to_have_value("15.5 V")
        expect(page.locator("#own-V_Z")).to_have_value("")
        expect(back).to_be_hidden()


def test_the_sheet_says_why_it_is_not_there(reader: Reader) -> None:
    page = reader.open("zener-shunt", LOADED)
    told = page.locator(".working-unchecked")
    expect(told).to_have_text("Your lines are checked as soon as all the numbers above are there.")
    reader.type(V_I="15", R="220", V_Z="9.1", R_L="900")
    expect(told).to_be_empty()
    reader.type(R_L="x")
    expect(told).to_contain_text("as soon as all the numbers")
    page.locator('.own-set input[value="V_I.V_Z.I_Z.I_L"]').check()
    reader.type(V_I="5", V_Z="9.1", I_Z="10m", I_L="10m")
    expect(told).to_contain_text("kept but not checked: these numbers could not be worked")
    expect(page.locator(".when")).to_be_hidden()


def test_a_solution_can_be_closed_and_stays_closed_while_a_working_is_checked(reader: Reader) -> None:
    page = reader.open("zener-shunt", LOADED)
    reader.type(V_I="15", R="220", V_Z="9.1", R_L="900")
    page.locator(".own-solution > summary").click()
    expect(page.locator(".own-steps")).to_be_hidden()
    page.reload()
    expect(page.locator(".own-status")).to_have_text("Worked: the zener is in breakdown.")
    expect(page.locator(".own-steps")).to_be_hidden()
    page.locator(".line-field").focus()
    page.keyboard.type("I_R = (V_I - V_Z)/R")
    expect(page.locator(".line-finding").first).to_contain_text("true of the circuit", timeout=8000)
    page.get_by_role("button", name="work them out").click()
    expect(page.locator(".own-steps")).to_be_visible()
    expect(page.locator("#own-solution-title")).to_be_focused()


def test_a_disputed_finding_is_saved_with_the_numbers_it_rests_on(reader: Reader) -> None:
    page = reader.open("zener-shunt", LOADED)
    reader.type(V_I="15 V", R="220", V_Z="9V1", R_L="0.9k")
    page.locator(".own-ratings summary").click()
    reader.type(P_ZM="0.5 W")
    page.locator(".line-field").focus()
    page.keyboard.type("I_Z = V_R/R")
    button = page.get_by_role("button", name="I disagree")
    expect(button).to_be_visible(timeout=8000)
    with page.expect_download() as waiting:
        button.click()
    record = json.loads(Path(waiting.value.path()).read_text(encoding="utf-8"))
    assert record["problem"] == f"own:zener-shunt:{LOADED}"
    assert record["given"] == {"V_I": "15 V", "R": "220", "V_Z": "9V1", "R_L": "0.9k", "P_ZM": "0.5 W"}
    assert record["line"] == {"number": 1, "text": "I_Z = V_R/R"} and record["finding"]["code"] == "fails"


def test_a_unit_that_was_typed_does_not_stand_there_twice(reader: Reader) -> None:
    page = reader.open("zener-shunt", LOADED)
    reader.type(V_I="15 V", R="220")
    expect(page.locator('.number[data-name="V_I"] .number-unit')).not_to_be_visible()
    expect(page.locator('.number[data-name="R"] .number-unit')).to_be_visible()


def test_data_that_is_missing_is_told(context: BrowserContext, site: Path, tmp_path: Path) -> None:
    copy = shutil.copytree(site, tmp_path / "site")
    (copy / "own" / "source.js").unlink()
    page = Reader(context, copy).open("source")
    expect(page.locator(".own-status")).to_contain_text("No numbers can be worked here")
    assert page.locator(".own-form").is_hidden()


def test_what_another_version_kept_is_no_stumbling_block(context: BrowserContext, site: Path) -> None:
    for kept in ("[]", "null", "7", "{", '{"texts": [1]}', '{"set": "none", "texts": {"R": {"a": 1}}, "version": 9}'):
        made = Reader(context, site)
        made.page.add_init_script(f"localStorage.setItem('steadyrail:own:zener-shunt', {kept!r})")
        page = made.open("zener-shunt")
        page.locator(".own-example").click()
        expect(page.locator(".own-solution")).to_be_visible()
        assert made.complaints == []
        page.close()


def test_every_way_by_keyboard_alone(reader: Reader) -> None:
    """A set by arrow keys, numbers by Tab, the solution by Enter, which takes the reading place to its heading."""
    page = reader.open("source")
    page.locator(".own-set input").first.focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Tab")
    for text in ("18 V", "3", "500m"):
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    page.keyboard.press("Shift+Tab")
    page.locator("#own-I_I").press("Enter")
    expect(page.locator("#own-solution-title")).to_be_focused()
    assert page.locator('.own-values tr[data-name="V_I"] .value').inner_text() == "16.5\u00a0V"


def test_a_phone_reads_every_page_without_scrolling_sideways(working_browser: Browser, site: Path) -> None:
    phone = working_browser.new_context(viewport={"width": 360, "height": 740}, color_scheme="dark")
    for circuit in CIRCUITS:
        made = Reader(phone, site)
        page = made.open(circuit)
        page.locator(".own-example").click()
        expect(page.locator(".own-solution")).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= 360, circuit
        assert made.complaints == []
    phone.close()


def test_without_scripts_the_page_says_so_and_names_the_terminal(working_browser: Browser, site: Path) -> None:
    bare = working_browser.new_context(java_script_enabled=False)
    page = bare.new_page()
    page.goto((site / "own" / "zener-shunt.html").as_uri())
    assert "steadyrail solve zener-shunt" in page.locator("noscript").inner_text()
    assert page.locator(".own-form").is_hidden() and page.locator(".figure svg").is_visible()
    bare.close()


def test_the_pages_are_reached_from_contents_running_head_and_circuits(reader: Reader) -> None:
    page = reader.page
    page.goto((reader.site / "index.html").as_uri())
    page.get_by_role("link", name="Your own numbers").click()
    page.get_by_role("link", name="Zener shunt regulator", exact=True).click()
    expect(page.locator("h1")).to_have_text("Your own numbers: Zener shunt regulator")
    page.get_by_role("link", name="Own numbers", exact=True).click()
    page.goto((reader.site / "circuits" / "source.html").as_uri())
    page.get_by_role("listitem").filter(has_text="Your own numbers on").get_by_role("link").click()
    expect(page.locator("h1")).to_contain_text("Raw supply")
