"""A worked solution as content for a package: steps with their reasons and lines, checks, what a bench would show."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from tutor.solution.solution import Check, Solution, WorkedStep
from tutor.views.package.markup import children, element, told, worked_line
from tutor.views.plain import verdict


def worked_content(solution: Solution) -> list[Element]:
    """The content of a worked solution, from its first step to what is expected on a bench."""
    content = [children("ol", {}, [_step(step) for step in solution.steps])]
    if solution.checks:
        content += [element("p", None, element("strong", None, "Checks")), _checks(solution.checks)]
    if solution.bench:
        content.append(told("p", solution.bench, lead="On the bench: "))
    return content


def _step(step: WorkedStep) -> Element:
    parts = [element("p", None, told("strong", step.title))]
    parts += [told("p", step.why)] * bool(step.why)
    parts += [worked_line(chain) for chain in step.chains]
    parts += [told("p", step.text)] * bool(step.text)
    if step.band:
        parts.append(told("p", step.band, lead=f"{step.band_lead}: "))
    return children("li", {}, parts)


def _checks(checks: tuple[Check, ...]) -> Element:
    return children("ul", {}, [told("li", check.text, f": {verdict(check)}.") for check in checks])
