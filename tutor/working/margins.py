"""A learner's own design at its worst corners: every demand of the problem with the choices made so far.

Place in the data flow: Ground with choices -> Checks, one a demand -> terminal, pages, JSON.
"""

from __future__ import annotations

from tutor.solution.requirement import requirement_told, weakest_told
from tutor.solution.solution import Check
from tutor.working.ground import Ground
from tutor.working.world import answer_of

LARGEST = 1e30  # of a value that is worth a margin: a choice may be of any size


def margins_in(ground: Ground) -> tuple[Check, ...]:
    """One check for each demand; what is not chosen yet is the model's. Empty before anything is chosen."""
    sheet = ground.sheet
    taken = {choice.key: ground.choices.get(choice.key, choice.model) for choice in sheet.choices}
    if not any(key in ground.choices for key in taken):
        return ()
    view = ground.world_with(taken).views[0]
    rows: list[Check] = []
    for demand in sheet.demands:
        found, limit = answer_of(demand.ask, view), view.get(demand.limit)
        value = None if found is None else found[0][demand.ask.quantity]
        if value is not None and limit is not None and max(abs(value), abs(limit)) < LARGEST:
            row = requirement_told(
                demand.words, demand.ask.quantity, demand.ask.relation, value, limit, demand.part
            )
            rows.append(row)
    return (*rows, *weakest_told(rows))
