"""The condition language: which technique meets which conditions, and what is complained of."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.conditions import condition_problems, meets, named_values

SITES = ("apex", "axilla", "carotid")
EFFORTS = ("light", "moderate", "firm")
TEXT = """
system = "trial"
[[step]]
slug = "listen"
label = "Listen"
region = "chest"
method = "auscultate"
minutes = 1
looks_for = "Sounds."
how = "Listen."
synonyms = ["a", "b", "c", "d", "e", "f"]
normal = [{ text = "Nothing." }]
technique = { site = ["apex", "axilla", "carotid"], effort = ["firm", "moderate", "light"] }
""" + "".join(
    [f'[[value]]\nslot = "site"\nslug = "{site}"\nlabel = "{site}"\n' for site in SITES]
    + [
        f'[[value]]\nslot = "effort"\nslug = "{effort}"\nlabel = "{effort}"\nrank = {rank}\n'
        for rank, effort in enumerate(EFFORTS, 1)
    ]
)
CATALOGUE = parse_catalogue({"trial.toml": TEXT})
LISTEN = CATALOGUE.steps["listen"]

sites = st.sampled_from(SITES)
efforts = st.sampled_from(EFFORTS)
options = st.lists(sites, min_size=1, unique=True)


def met(conditions: dict[str, str], **technique: str) -> bool:
    return meets(technique, conditions, CATALOGUE)


def problems(**conditions: str) -> list[str]:
    return list(condition_problems(conditions, LISTEN, CATALOGUE))


def test_no_conditions_are_met_by_anything() -> None:
    assert met({})
    assert met({}, site="apex")


@pytest.mark.parametrize(
    ("condition", "site", "expected"),
    [
        ("apex", "apex", True),
        ("apex", "axilla", False),
        ("apex | axilla", "axilla", True),
        ("  apex|axilla ", "apex", True),
        ("not apex", "axilla", True),
        ("not apex", "apex", False),
        ("not apex | axilla", "carotid", True),
        ("not apex | axilla", "axilla", False),
        ("*", "carotid", True),
    ],
)
def test_a_condition_of_names_is_read(condition: str, site: str, expected: bool) -> None:
    assert met({"site": condition}, site=site) is expected


@pytest.mark.parametrize(
    ("condition", "effort", "expected"),
    [
        (">= moderate", "light", False),
        (">= moderate", "moderate", True),
        (">=moderate", "firm", True),
        ("<= moderate", "firm", False),
        ("<= moderate", "light", True),
    ],
)
def test_a_graded_condition_is_read(condition: str, effort: str, expected: bool) -> None:
    assert met({"effort": condition}, effort=effort) is expected


def test_a_graded_condition_on_an_ungraded_slot_is_never_met() -> None:
    assert not met({"site": ">= apex"}, site="apex")


@pytest.mark.parametrize("condition", ["apex", "not apex", ">= firm", "<= firm"])
def test_a_slot_that_was_not_taken_fails_every_condition_but_the_star(condition: str) -> None:
    assert not met({"posture": condition}, site="apex")
    assert met({"posture": "*"}, site="apex")


def test_every_condition_must_be_met() -> None:
    both = {"site": "apex", "effort": ">= moderate"}
    assert met(both, site="apex", effort="firm")
    assert not met(both, site="axilla", effort="firm")
    assert not met(both, site="apex", effort="light")


@given(site=sites, named=options)
def test_not_is_the_opposite_of_naming(site: str, named: list[str]) -> None:
    condition = " | ".join(named)
    assert met({"site": condition}, site=site) is not met({"site": f"not {condition}"}, site=site)


@given(site=sites, named=options, more=options)
def test_naming_more_values_never_loses_a_technique(
    site: str, named: list[str], more: list[str]
) -> None:
    if met({"site": " | ".join(named)}, site=site):
        assert met({"site": " | ".join([*named, *more])}, site=site)


@given(have=efforts, want=efforts)
def test_at_least_and_at_most_together_mean_exactly(have: str, want: str) -> None:
    at_least = met({"effort": f">= {want}"}, effort=have)
    at_most = met({"effort": f"<= {want}"}, effort=have)
    assert at_least or at_most
    assert (at_least and at_most) is (have == want) is met({"effort": want}, effort=have)


@given(have=efforts, low=efforts, high=efforts)
def test_whoever_meets_a_high_demand_meets_every_lower_one(have: str, low: str, high: str) -> None:
    if EFFORTS.index(low) <= EFFORTS.index(high) and met({"effort": f">= {high}"}, effort=have):
        assert met({"effort": f">= {low}"}, effort=have)


@given(site=sites, effort=efforts, named=options, want=efforts)
def test_more_conditions_never_let_more_techniques_through(
    site: str, effort: str, named: list[str], want: str
) -> None:
    one = {"site": " | ".join(named)}
    if meets({"site": site, "effort": effort}, {**one, "effort": f">= {want}"}, CATALOGUE):
        assert meets({"site": site, "effort": effort}, one, CATALOGUE)


def test_conditions_that_can_be_asked_have_no_problem() -> None:
    assert problems(site="apex | axilla", effort=">= moderate") == []
    assert problems(site="not apex", effort="*") == []


def test_a_slot_the_step_does_not_take_is_a_problem() -> None:
    assert problems(posture="supine") == ["listen takes no posture"]


def test_a_value_the_step_does_not_take_is_a_problem_that_names_those_it_takes() -> None:
    assert problems(site="apex | heel") == [
        "listen has no site 'heel'; it has apex, axilla, carotid"
    ]
    assert problems(site="not heel") == ["listen has no site 'heel'; it has apex, axilla, carotid"]


def test_grading_an_ungraded_value_is_a_problem() -> None:
    assert problems(site=">= apex") == ["site 'apex' is not graded, so >= cannot be asked of it"]


@given(named=options)
def test_the_named_values_are_those_written_whatever_stands_before_them(named: list[str]) -> None:
    text = " | ".join(named)
    assert named_values(text) == named_values(f"not {text}") == set(named)
    assert named_values("*") == set()
    assert named_values(f">= {named[0]}") == {named[0]}


@given(
    site=st.one_of(st.none(), st.sampled_from([*SITES, "heel"])),
    prefix=st.sampled_from(["", "not ", ">= ", "<= "]),
    value=st.sampled_from([*SITES, "heel"]),
)
def test_a_condition_without_problems_can_be_met_by_some_technique_of_the_step(
    site: str | None, prefix: str, value: str
) -> None:
    condition = f"{prefix}{value}"
    if not problems(site=condition):
        taken = LISTEN.slot("site")
        assert taken is not None
        assert any(met({"site": condition}, site=each) for each in taken.values)
    if site is None:
        assert not met({"site": condition})
