"""Every phrasing of the evaluation set names steps, slots and values that the catalogue holds."""

from __future__ import annotations

from collections import Counter

import pytest

from casebank.core.fixtures import load_catalogue
from casebank.domain.examination.model import Catalogue
from tests.evaluation.entries import (
    COUNTED_ONLY,
    KEYS,
    NEVER_READ,
    Phrasing,
    Wanted,
    load_phrasings,
    raw_entries,
)


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="module")
def phrasings() -> list[Phrasing]:
    return load_phrasings()


def _wanted(phrasing: Phrasing) -> list[Wanted]:
    return [*phrasing.requests, *([phrasing.after] if phrasing.after else [])]


def _said(wanted: Wanted) -> list[tuple[str, str]]:
    may = [(slot, value) for slot, values in wanted.may.items() for value in values]
    return [*wanted.technique.items(), *may]


def test_no_entry_has_a_key_that_nothing_reads():
    strange = [(row["text"], set(row) - KEYS) for _, row in raw_entries() if set(row) - KEYS]

    assert strange == []


def test_every_step_named_is_in_the_catalogue(catalogue, phrasings):
    named = {wanted.step for each in phrasings for wanted in _wanted(each)}
    accepted = {step for each in phrasings for step in each.accept}

    assert (named | accepted) - set(catalogue.steps) == set()


def test_every_slot_and_value_named_is_allowed_by_its_step(catalogue, phrasings):
    wrong = [
        (each.text, wanted.step, slot, value)
        for each in phrasings
        for wanted in _wanted(each)
        for slot, value in _said(wanted)
        if (found := catalogue.steps[wanted.step].slot(slot)) is None or value not in found.values
    ]

    assert wrong == []


def test_an_ambiguous_text_lists_the_steps_it_may_mean_and_its_own_is_one(phrasings):
    wrong = [
        each.text
        for each in phrasings
        if each.ambiguous and (len(each.accept) < 2 or each.requests[0].step not in each.accept)
    ]

    assert wrong == []


def test_a_text_that_accepts_other_steps_asks_for_one_itself(phrasings):
    assert [each.text for each in phrasings if each.accept and each.outside] == []


def test_no_text_stands_twice_unless_it_follows_another_request(phrasings):
    alone = Counter(each.text.casefold() for each in phrasings if each.after is None)

    assert [text for text, count in alone.items() if count > 1] == []


def test_the_set_is_large_and_reaches_most_of_the_catalogue(catalogue, phrasings):
    steps = {wanted.step for each in phrasings for wanted in each.requests}
    systems = {catalogue.steps[step].system for step in steps}

    assert len(phrasings) >= 900
    assert len(steps) >= 0.75 * len(catalogue.steps)
    assert systems == {step.system for step in catalogue.steps.values()}


def test_what_is_only_counted_is_a_whole_batch_and_large(phrasings):
    counted = [each for each in phrasings if each.half == "report"]

    assert {each.batch for each in counted} == set(COUNTED_ONLY)
    assert len(counted) >= 1500


def test_a_text_that_names_were_written_from_is_not_called_unread(phrasings):
    read = {each.batch for each in phrasings if not each.is_unread}

    assert {"first", "third", "sixth"} <= read
    assert read.isdisjoint(NEVER_READ)
