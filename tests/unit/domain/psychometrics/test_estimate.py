"""No estimate is ever a bare NaN: a value, or a status with its reason."""

import math

import pytest

from casebank.domain.psychometrics import Estimate, hold_back, suppress

GOOD = Estimate(0.5, 0.3, 0.7, 12, 4, "a method")


@pytest.mark.parametrize(
    "made",
    [
        lambda: Estimate(math.nan, None, None, 5, 1, "m"),
        lambda: Estimate(0.5, -math.inf, 0.6, 5, 1, "m"),
        lambda: Estimate(None, None, None, 5, 1, "m"),
        lambda: Estimate(0.5, None, None, 5, 1, "m", "undefined", "because"),
        lambda: Estimate(None, None, None, 5, 1, "m", "undefined"),
    ],
)
def test_an_estimate_that_hides_its_trouble_cannot_be_made(made):
    with pytest.raises(ValueError, match=r"finite|status"):
        made()


def test_a_group_below_the_floor_is_suppressed_and_its_size_not_told():
    found = suppress(GOOD, smallest_group=9)
    assert (found.status, found.value, found.ci_low, found.n_used) == ("suppressed", None, None, 0)
    assert suppress(GOOD, smallest_group=10) is GOOD


def test_the_floor_is_never_below_five():
    assert suppress(GOOD, smallest_group=4, floor=1).status == "suppressed"
    assert suppress(GOOD, smallest_group=5, floor=1) is GOOD


def test_an_estimate_of_too_few_is_held_back_and_says_how_many_it_needs():
    found = hold_back(GOOD, at_least=30)
    assert (found.status, found.value) == ("too_small", None)
    assert "30" in found.reason
    assert hold_back(GOOD, at_least=12) is GOOD
    assert GOOD.is_ok
    assert not found.is_ok
