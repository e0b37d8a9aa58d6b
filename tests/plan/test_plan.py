"""Steps made ready to be written: once, and anew where they are sent."""

from __future__ import annotations

import pickle

import pytest

from tutor.plan.plan import Step
from tutor.quantities.expression import Equation, Num, Sym
from tutor.quantities.formula import read_expression


def test_a_step_can_be_sent_to_another_process_once_it_has_been_written():
    """What was made ready of it is functions, which cannot; the step arrives without and makes them anew."""
    right = read_expression("(V_I - V_Z)/R")
    step = Step("I_R", "R.ohm", "Ohm's law", "", Equation(Sym("I_R"), right), right)
    assert step.form is step.form
    sent = pickle.loads(pickle.dumps(step))
    assert sent == step and sent.form.letters({}) == right


def test_a_step_without_a_closed_form_has_none_to_write():
    """Its root is chosen and shown otherwise."""
    step = Step("I_Z", "", "", "", Equation(Sym("I_Z"), Num(0.0)), None)
    with pytest.raises(ValueError, match="the step that finds I_Z has no closed form"):
        _ = step.form
