"""The study site as files: whole, plain, self-contained, the same bytes every time, and true to what it was given."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from tests.whole_site import PER_LEVEL, WholeSite, quiet
from tutor.errors import BadFormula, SteadyrailError
from tutor.generate.problem import Problem, SlipValue, TableRow
from tutor.quantities.symbols import split_name
from tutor.views.bank import Bank, expand
from tutor.views.content import ProblemContent, SiteContent
from tutor.views.lessons import read_lessons
from tutor.views.markup import serialise
from tutor.views.packed import unpacked
from tutor.views.pages import problem_body
from tutor.views.press import make_press, prose, typeset
from tutor.views.shared_help import SharedHelp
from tutor.views.site import MARKER, build_site
from tutor.views.sources import site_folder

NUMBERS = re.compile(r' data-shared="[0-9 ]*"')  # of the help that pages share
VOID = {"area", "base", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"}


@pytest.fixture(scope="module")
def content(whole: WholeSite) -> SiteContent:
    return whole.content


@pytest.fixture(scope="module")
def site(whole: WholeSite) -> Path:
    return whole.path


@dataclass
class Read(HTMLParser):
    """What a page holds, as a browser's tokeniser would see it."""

    tags: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    open_tags: list[str] = field(default_factory=list)
    scripts: str = ""
    text: str = ""

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open_tags.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open_tags and self.open_tags.pop() == tag, f"</{tag}> closes nothing here"

    def handle_data(self, data: str) -> None:
        if self.open_tags and self.open_tags[-1] == "script":
            self.scripts += data
        else:
            self.text += data

    def named(self, *names: str) -> Iterator[dict[str, str]]:
        return (attributes for tag, attributes in self.tags if tag in names)


def read_page(path: Path) -> Read:
    page = Read()
    page.feed(path.read_text(encoding="utf-8"))
    page.close()
    assert page.open_tags == [], f"{path.name} leaves {page.open_tags} open"
    return page


def pages(site: Path) -> list[Path]:
    found = sorted(site.rglob("*.html"))
    assert len(found) > 20
    return found


def test_every_page_runs_no_script_but_its_own_files(site: Path) -> None:
    # Content Security Policy Level 3 (W3C): 'self' shuts out inline scripts, handlers and other hosts.
    for path in pages(site):
        page = read_page(path)
        policy = next(meta for meta in page.named("meta") if meta.get("http-equiv") == "Content-Security-Policy")
        assert "default-src 'none'" in policy["content"] and "script-src 'self';" in policy["content"]
        assert "unsafe" not in policy["content"]
        assert page.scripts.strip() == ""
        for _, attributes in page.tags:
            assert not [name for name in attributes if name.startswith("on") or name == "style"]


def test_nothing_is_fetched_from_another_host(site: Path) -> None:
    for path in [*pages(site), *site.rglob("*.css")]:
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"(?:src|href)=\"(?:https?:)?//|url\(\"?(?:https?:)?//|@import", text), path.name


def test_no_script_evaluates_text_or_writes_markup(site: Path) -> None:
    for path in sorted((site / "assets").glob("*.js")):
        text = path.read_text(encoding="utf-8")
        for banned in ("eval(", "new Function", "innerHTML", "outerHTML", "document.write", "insertAdjacentHTML"):
            assert banned not in text, f"{path.name} holds {banned}"


def test_links_labels_and_descriptions_lead_somewhere(site: Path) -> None:
    # WCAG 2.2: 1.3.1 and 4.1.2 need references that resolve; ids must be unique for that (HTML Living Standard, 3.2.6).
    read = {path.resolve(): read_page(path) for path in pages(site)}
    places = {path: [item["id"] for _, item in page.tags if "id" in item] for path, page in read.items()}
    for path, page in read.items():
        ids = places[path]
        assert len(ids) == len(set(ids)), f"{path.name} repeats an id"
        for _, attributes in page.tags:
            for name in ("for", "aria-labelledby", "aria-describedby"):
                for target in attributes.get(name, "").split():
                    assert target in ids, f"{path.name}: {name}={target}"
        for attributes in page.named("a", "link", "script"):
            target, _, fragment = (attributes.get("href") or attributes.get("src") or "").partition("#")
            assert (path.parent / target).exists(), f"{path.name} leads to {target}"
            there = places[(path.parent / target).resolve()] if target and fragment else ids
            if re.fullmatch(r"(\.\./)?problems/[a-z0-9-]+\.html", target) and fragment.isdigit():
                assert 1 <= int(fragment) <= PER_LEVEL, f"{path.name} leads to {target}#{fragment}"
            elif not target.endswith("mixed.html"):  # whose script reads the fragment
                assert not fragment or fragment in there, f"{path.name} leads to {target}#{fragment}"


def test_every_page_has_language_title_one_heading_and_no_gap_in_its_headings(site: Path) -> None:
    # WCAG 2.2: 3.1.1, 2.4.2, 2.4.6; headings as in WAI's page structure tutorial.
    for path in pages(site):
        page = read_page(path)
        assert next(page.named("html"))["lang"] == "en-GB"
        levels = [int(tag[1]) for tag, _ in page.tags if re.fullmatch("h[1-6]", tag)]
        assert levels.count(1) == 1 and levels[0] == 1, path.name
        assert all(deeper - before <= 1 for before, deeper in pairwise(levels)), path.name
        titles = [tag for tag, _ in page.tags if tag == "title"]
        assert titles


def test_every_field_has_a_label(site: Path) -> None:
    # WCAG 2.2, 3.3.2: a radio button stands inside its label, a text field is named by one.
    for path in pages(site):
        page = read_page(path)
        labelled = {attributes.get("for") for attributes in page.named("label")}
        for attributes in page.named("input"):
            assert attributes["type"] == "radio" or attributes["id"] in labelled


def test_the_words_are_those_of_the_trade(site: Path) -> None:
    for path in [*pages(site), *(site / "assets").glob("*.js")]:
        text = path.read_text(encoding="utf-8").lower()
        for word in ("streak", "badge", "leaderboard", "xp ", "mastery", "congratulations", "game"):
            assert word not in text, f"{path.name} says {word}"


def test_a_bank_gives_each_page_exactly_as_it_is_set(site: Path, content: SiteContent) -> None:
    press = make_press(site_folder() / "templates")
    for family in content.families():
        for level in family.levels:
            script = unpacked((site / "bank" / f"{family.id}-{level.level}.js").read_text(encoding="utf-8"))
            call, _, literal = script.removesuffix(");\n").partition(", ")
            assert call == f'Steadyrail.takeBank("{family.id}:{level.level}"'
            data = json.loads(literal)
            bank = Bank(data["template"], tuple(data["rows"]))
            assert len(bank.rows) == PER_LEVEL
            for index, shown in enumerate(level.problems):
                assert expand(bank, index) == problem_body(shown, press)
            page = (site / "problems" / f"{family.id}-{level.level}.html").read_text(encoding="utf-8")
            assert NUMBERS.sub(" shared", serialise(SharedHelp().lighten(problem_body(level.problems[0], press)))) in (
                NUMBERS.sub(" shared", page)
            )


def test_a_page_states_its_problem_whole(site: Path, content: SiteContent) -> None:
    for family in content.families():
        for level in family.levels:
            problem, solution = level.problems[0].problem, level.problems[0].solution
            page = read_page(site / "problems" / f"{family.id}-{level.level}.html")
            assert problem.name in page.text
            for row in problem.table:
                assert str(prose(row.value)).split("<")[0] in page.text
            lines = [attributes for attributes in page.named("li") if attributes.get("class") == "answer"]
            assert [line["data-part"] for line in lines] == [point.key for point in problem.waypoints]
            for line, point in zip(lines, problem.waypoints, strict=True):
                assert (float(line["data-low"]), float(line["data-high"])) == (point.low, point.high)
                assert tuple(map(float, line["data-accepted"].split())) == point.accepted
            steps = [attributes for attributes in page.named("li") if attributes.get("class") == "step"]
            assert len(steps) == len(solution.steps)


def test_a_drawing_in_words_tells_no_answer(content: SiteContent) -> None:
    for family in content.families():
        for level in family.levels:
            for shown in level.problems:
                given = {quantity.text for quantity in shown.problem.given.values()}
                for row in shown.description_rows:
                    assert all(part in given for part in row.value.split(" to ") if part), (shown.problem.name, row)


def hostile(shown: ProblemContent, text: str) -> ProblemContent:
    first = shown.problem.waypoints[0]
    slip = SlipValue(text, 1.0, text, text, text)
    point = replace(first, prompt=text, slips=(slip,), options=(text,), state=text)
    problem: Problem = replace(
        shown.problem,
        title=text,
        statement=text,
        ask=text,
        table=(TableRow(text, text, text),),
        waypoints=(point,),
        cautions=(text,),
    )
    return replace(shown, problem=problem)


@pytest.mark.parametrize("text", ["<script>x()</script>", '"><img src=x onerror=x()>', "a & b <b>bold</b> 'q'"])
def test_text_never_becomes_markup(content: SiteContent, text: str) -> None:
    shown = hostile(content.families()[0].levels[0].problems[0], text)
    body = Read()
    body.feed(serialise(problem_body(shown, make_press(site_folder() / "templates"))))
    assert not list(body.named("script", "img", "b"))
    assert typeset(text) in body.text


def test_equal_content_gives_equal_bytes(content: SiteContent, tmp_path: Path) -> None:
    """Of two stages with two families each, which between them have every kind of page."""
    shown = tuple(replace(stage, families=stage.families[:2]) for stage in content.stages[1::3])
    site, again = (build_site(replace(content, stages=shown), tmp_path / name, quiet).path for name in ("one", "again"))
    files = [path.relative_to(site) for path in sorted(site.rglob("*")) if path.is_file()]
    assert files == [path.relative_to(again) for path in sorted(again.rglob("*")) if path.is_file()]
    for name in files:
        assert (site / name).read_bytes() == (again / name).read_bytes(), name


def test_a_report_counts_what_is_there(whole: WholeSite) -> None:
    report, told = whole.report, list(whole.told)
    sizes = [path.stat().st_size for path in report.path.rglob("*") if path.is_file()]
    assert (report.files, report.bytes) == (len(sizes), sum(sizes))
    assert told[0][0] == 0 and told[-1][0] == told[-1][1] and told == sorted(told)


def small(content: SiteContent) -> SiteContent:
    """One stage with one family at one level: quick to build."""
    stage = next(stage for stage in content.stages if stage.families)
    family = replace(stage.families[0], levels=stage.families[0].levels[:1])
    return replace(content, stages=(replace(stage, families=(family,)),))


def test_an_older_site_of_ours_is_replaced_whole(content: SiteContent, tmp_path: Path) -> None:
    out = tmp_path / "site"
    build_site(small(content), out, quiet)
    (out / "left-over.html").write_text("old")
    build_site(small(content), out, quiet)
    assert not (out / "left-over.html").exists() and (out / MARKER).is_file()
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_a_folder_that_is_not_ours_is_left_alone(content: SiteContent, tmp_path: Path) -> None:
    (tmp_path / "thesis.tex").write_text("years of work")
    with pytest.raises(SteadyrailError, match="was not built by this command, so it is left alone"):
        build_site(small(content), tmp_path, quiet)
    assert [path.name for path in tmp_path.iterdir()] == ["thesis.tex"]


def test_a_file_in_the_way_is_named(content: SiteContent, tmp_path: Path) -> None:
    (tmp_path / "site").write_text("a file")
    with pytest.raises(SteadyrailError, match="is a file; the site needs a folder of its own"):
        build_site(small(content), tmp_path / "site", quiet)


def test_a_build_that_fails_keeps_the_old_site_and_leaves_nothing_behind(content: SiteContent, tmp_path: Path) -> None:
    out = tmp_path / "site"
    build_site(small(content), out, quiet)
    before = {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    stage = small(content).stages[0]
    level = stage.families[0].levels[0]
    broken = replace(level.problems[0], problem=replace(level.problems[0].problem, ask="find $V_O"))
    family = replace(stage.families[0], levels=(replace(level, problems=(broken,)),))
    with pytest.raises(BadFormula):
        build_site(replace(content, stages=(replace(stage, families=(family,)),)), out, quiet)
    assert {path: path.read_bytes() for path in out.rglob("*") if path.is_file()} == before
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_the_contents_page_shows_only_what_exists(content: SiteContent, tmp_path: Path) -> None:
    stage = next(stage for stage in content.stages if stage.number == 2)
    bare = replace(content, stages=(replace(stage, families=()),))
    out = build_site(bare, tmp_path / "bare", quiet).path
    links = [attributes["href"] for attributes in read_page(out / "index.html").named("a")]
    assert not [link for link in links if link.startswith("problems/")]
    assert [path.name for path in (out / "lessons").iterdir()] == ["shunt.html"]


def test_the_contents_page_follows_the_lessons(site: Path) -> None:
    """Problems stand in the order in which the lessons explain them: the state of a zener before its ratings."""
    links = [attributes["href"] for attributes in read_page(site / "index.html").named("a")]
    listed = list(dict.fromkeys(re.findall(r"problems/([a-z-]+)-\d\.html", " ".join(links))))
    lessons = {lesson.id: lesson.text for lesson in read_lessons(site_folder() / "lessons")}
    for text in lessons.values():
        sections = re.findall(r"^## .*\{#([a-z-]+)\}$", text, re.MULTILINE)
        assert [name for name in listed if name in sections] == sections
    assert listed.index("zener-state") < listed.index("zener-ratings") < listed.index("follower-state")


def test_the_letter_table_holds_the_letters_of_the_circuits(site: Path, content: SiteContent) -> None:
    page = (site / "symbols.html").read_text(encoding="utf-8")
    names = {split_name(name).base for circuit in content.circuits().values() for name in circuit.symbols}
    listed = re.findall(r"<tr><th scope=\"row\"><math.*?<td><kbd>(.*?)</kbd>", page)
    assert len(names) > 15 and sorted(listed) == sorted(names)


def test_the_conventions_are_told_as_the_statements_tell_them(site: Path, content: SiteContent) -> None:
    """Each in words, under its name; no value of the terminal's own, such as load-over-h_FE."""
    page = (site / "symbols.html").read_text(encoding="utf-8")
    rows = {
        row for family in content.families() for level in family.levels for shown in level.problems
        for row in shown.problem.table if row.label.startswith("convention: ")
    }  # fmt: skip
    assert rows
    for row in rows:
        listed = re.search(rf'<th scope="row">{row.label.removeprefix("convention: ")}</th><td>(.*?)</td>', page)
        assert listed is not None and f'<div class="reading">{prose(row.value)}</div>' in listed[1]


def test_the_maths_font_has_every_sign_of_every_formula(site: Path) -> None:
    # OpenType 1.9, MATH table; SIL Open Font Licence 1.1, condition 2: each copy carries the licence.
    font = TTFont(io.BytesIO((site / "fonts" / "STIXTwoMath-subset.woff2").read_bytes()))
    assert "MATH" in font
    signs = set()
    for path in pages(site):
        for formula in re.findall(r"<math.*?</math>", path.read_text(encoding="utf-8"), re.DOTALL):
            signs |= set(re.sub(r"<[^>]*>", "", formula).replace("&lt;", "<").replace("&gt;", ">"))
    assert len(signs) > 40
    assert {sign for sign in signs if ord(sign) not in font.getBestCmap()} == set()
    # A browser turns a lone letter in <mi> into mathematical italics (MathML Core, 3.2.1.1).
    assert {0x1D449, 0x1D445, 0x210E} <= set(font.getBestCmap())
    licence = (site / "fonts" / "STIXTwoMath-OFL.txt").read_text(encoding="utf-8")
    assert licence.startswith("Copyright 2001") and "SIL OPEN FONT LICENSE" in licence
