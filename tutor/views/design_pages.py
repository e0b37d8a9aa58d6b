"""The pages of the design desks as text: one a family and level that asks for a choice, and the page that lists them.

Place in the data flow: SiteContent (DeskContent of each level) -> pages -> files (site.py). Only formatting.
"""

from __future__ import annotations

from collections.abc import Iterator

from jinja2 import Environment

from tutor.quantities.symbols import symbol_for
from tutor.views.content import FamilyContent, LevelContent, SiteContent
from tutor.views.lessons import LevelLink
from tutor.views.own_plans import own_data_script
from tutor.views.pages import Link, Page, frame_values, level_name

_SCRIPTS = (
    *("tables", "checker_writing", "own_states", "own_resolve", "own_steps"),
    *("design_desk_judge", "design_desk_figure", "design_desk"),
)


def desk_index_page(content: SiteContent, press: Environment) -> Page:
    """The page from which every design desk is reached."""
    desks = []
    for family in content.families():
        levels = [level for level in family.levels if level.desk is not None]
        links = [LevelLink(item.level, f"desks/{level_name(family, item)}.html", item.about) for item in levels]
        if links:
            desks.append({"title": family.title, "links": links})
    summary = "Parts chosen from their shelves and judged at every corner."
    frame = frame_values("Design desk", "", "desks", summary, "")
    text = press.get_template("design_desks.html").render(frame, desks=desks)
    return Page("desks.html", text)


def desk_pages(family: FamilyContent, level: LevelContent, content: SiteContent, press: Environment) -> Iterator[Page]:
    """The desk of a family at one level, and the script with its data; nothing where nothing is chosen."""
    desk = level.desk
    if desk is None:
        return
    name = level_name(family, level)
    circuit = content.circuits()[level.circuit or family.circuit]
    yield Page(f"desks/{name}.js", own_data_script(desk.data))
    links = [
        Link("Problems:", f"{family.title}, level {level.level}", f"../problems/{name}.html"),
        Link("Circuit:", circuit.title, f"../circuits/{circuit.id}.html"),
        Link("Other designs:", "Design desk", "../desks.html"),
    ]
    text = press.get_template("design_desk.html").render(
        frame_values(
            f"Design desk: {family.title}, level {level.level}",
            "../",
            "desk",
            f"Choose parts and see every corner: {family.title}, level {level.level}.",
            "Design desk",
        ),
        sheets=("problem", "book", "design_desk"),
        scripts=_SCRIPTS,
        data=f"{name}.js",
        name=name,
        family=family,
        level=level,
        count=len(desk.data["desk"]["numbers"]["rows"]),
        svg=circuit.schematic_svg,
        rows=circuit.description_rows,
        desk=desk,
        meanings={key: symbol_for(key).meaning for key in (*desk.ways, *desk.heights)},
        links=links,
    )
    yield Page(f"desks/{name}.html", text)
