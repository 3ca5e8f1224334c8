"""The editor's fields of evidence: intervals, accuracies, and several diseases at once."""

from __future__ import annotations

import pytest

from tests.factories.browser import Fields
from tests.factories.cases import draft, small_document
from tests.slices.cases.author_pages import page, stored

pytestmark = pytest.mark.django_db


def sent_to_finding(ada, version, **typed):
    url = page("finding", version.pk, 0)
    sent = Fields(ada.get(url).content.decode()).sent
    assert ada.post(url, sent | typed).status_code == 302
    return stored(version).document["findings"][0]["evidence"]


def test_a_published_interval_is_typed_as_it_is_printed(people, ada):
    version = draft(people.author)
    evidence = sent_to_finding(
        ada, version, positive_interval="3.0–9,72", negative_interval="0.1 to 0.5"
    )
    assert evidence["ratios"]["positive_interval"] == [3, 9.72]
    assert evidence["ratios"]["negative_interval"] == [0.1, 0.5]
    assert 'value="3 to 9.72"' in ada.get(page("finding", version.pk, 0)).content.decode()
    evidence = sent_to_finding(ada, version, positive_interval="about 4")
    assert evidence["ratios"]["positive_interval"] == ["about 4"]
    again = ada.get(page("finding", version.pk, 0)).content.decode()
    assert 'value="about 4"' in again
    assert "interval of LR+" in again


def test_sensitivity_and_specificity_take_the_place_of_ratios(people, ada):
    version = draft(people.author)
    evidence = sent_to_finding(
        ada, version, positive="", negative="", sensitivity="68 %", specificity="83.3",
        sensitivity_interval="53.3 to 80.5 %", specificity_interval="58.6-96.4",
        assumed="Alike in mild and severe disease.",
    )  # fmt: skip
    assert "ratios" not in evidence
    assert evidence["assumed"] == "Alike in mild and severe disease."
    assert evidence["accuracy"] == {
        "targets": ["mitral-regurgitation"],
        "sensitivity": 0.68,
        "specificity": 0.833,
        "sensitivity_interval": [0.533, 0.805],
        "specificity_interval": [0.586, 0.964],
    }
    # Sent back as it came, nothing changes.
    assert sent_to_finding(ada, version) == evidence


def test_several_diseases_at_once_are_ticked_and_get_a_name(people, ada):
    version = draft(people.author)
    url = page("section", version.pk, "hypotheses")
    sent = Fields(ada.get(url).content.decode()).sent
    both = ["mitral-regurgitation", "aortic-stenosis"]
    typed = {"hypotheses-0-prior": "50", "together-0-diagnoses": both, "together-0-prior": "12.5"}
    assert ada.post(url, sent | typed).status_code == 302
    (together,) = stored(version).document["together"]
    assert together == {
        "id": "mitral-regurgitation-with-aortic-stenosis", "diagnoses": both, "prior": 0.125
    }  # fmt: skip
    # The table of the other finding has a column for them now.
    finding = ada.get(page("finding", version.pk, 1)).content.decode()
    assert "% if Mitral regurgitation with Aortic stenosis" in finding
    assert stored(version).document["presentation"] == small_document()["presentation"]
