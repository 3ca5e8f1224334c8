"""Forecasts and their calibration, against scikit-learn and the published decomposition."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sklearn.calibration import calibration_curve
from sklearn.metrics import brier_score_loss

from casebank.domain.debrief.forecasts import Forecast, calibration_of, forecasts_of

steps = st.integers(0, 20).map(lambda n: n / 20)
forecasts = st.lists(st.builds(Forecast, steps, st.booleans()), min_size=1, max_size=80)


def forty():
    """40 forecasts .1/.4/.7/.9 with 1, 3, 8, 9 hits of 10."""
    return [
        Forecast(p, place < hits)
        for p, hits in ((0.1, 1), (0.4, 3), (0.7, 8), (0.9, 9))
        for place in range(10)
    ]


def test_a_conclusion_is_a_forecast_for_every_hypothesis_and_for_what_else_was_named():
    found = forecasts_of(["a", "b"], {"a": 0.7, "c": 0.2}, ["b"])
    assert found == (Forecast(0.7, False), Forecast(0.0, True), Forecast(0.2, False))


def test_murphys_parts_are_those_of_the_worked_example():
    # The project's reference sheet, section 7: REL .005, RES .111875, UNC .249375, Brier .1425.
    found = calibration_of(forty())
    assert found.parts.reliability == pytest.approx(0.005)
    assert found.parts.resolution == pytest.approx(0.111875)
    assert found.parts.uncertainty == pytest.approx(0.249375)
    assert found.parts.brier == pytest.approx(0.1425)
    assert found.bias == pytest.approx(0.525 - 0.525)


@given(forecasts)
def test_the_brier_score_is_scikit_learns(given_forecasts):
    p = [one.probability for one in given_forecasts]
    y = [int(one.was_so) for one in given_forecasts]
    found = calibration_of(given_forecasts)
    assert found.parts.brier == pytest.approx(brier_score_loss(y, p, pos_label=1, labels=[0, 1]))
    parts = found.parts
    assert parts.brier == pytest.approx(parts.reliability - parts.resolution + parts.uncertainty)


def test_the_bins_are_scikit_learns():
    # Off the bin edges, where scikit-learn closes bins on the other side.
    given_forecasts = [Forecast(p / 100 + 0.003, (p * 7) % 10 < 5) for p in range(0, 99, 2)]
    rate, mean = calibration_curve(
        [one.was_so for one in given_forecasts], [one.probability for one in given_forecasts]
    )
    bins = calibration_of(given_forecasts).bins
    assert np.array([one.observed for one in bins]) == pytest.approx(rate)
    assert np.array([one.mean_forecast for one in bins]) == pytest.approx(mean)


def test_below_twenty_forecasts_there_are_no_bins_and_below_a_hundred_they_are_thin():
    assert calibration_of(forty()[:19]).bins == ()
    assert len(calibration_of(forty()[:20]).bins) == 2
    assert calibration_of(forty()).is_thin
    assert not calibration_of(forty() * 3).is_thin


def test_no_forecast_gives_no_calibration():
    assert calibration_of([]) is None
