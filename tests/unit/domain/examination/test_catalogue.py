"""The parser of the catalogue: what it builds and every complaint it can make."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.examination.catalogue import (
    AGES,
    CatalogueError,
    catalogue_problems,
    parse_catalogue,
)
from casebank.domain.examination.model import Method, Need, NormalFinding

SYNONYMS = '["a", "b", "c", "d", "e", "f"]'
VALUES = """
[[value]]
slot = "effort"
slug = "light"
label = "light touch"
phrases = ["lightly"]
rank = 1
[[value]]
slot = "effort"
slug = "firm"
label = "firm pressure"
rank = 3
[[value]]
slot = "site"
slug = "apex"
label = "apex"
"""


def step_text(slug: str = "press", *, extra: str = "", **changed: str) -> str:
    """One step as TOML; ``changed`` replaces raw TOML values, ``extra`` is appended."""
    fields = {
        "slug": f'"{slug}"',
        "label": '"Press"',
        "region": '"chest"',
        "method": '"palpate"',
        "minutes": "0.5",
        "looks_for": '"Pain."',
        "how": '"Press."',
        "synonyms": SYNONYMS,
        "normal": '[{ text = "Nothing." }]',
        **changed,
    }
    lines = [f"{name} = {value}" for name, value in fields.items() if value]
    return "\n".join(["[[step]]", *lines, extra, ""])


def system(*steps: str) -> str:
    return "\n".join(['system = "trial"', *steps])


def parse(*steps: str):
    return parse_catalogue({"trial.toml": system(*steps), "values.toml": VALUES})


def complaint(*steps: str) -> str:
    with pytest.raises(CatalogueError) as caught:
        parse(*steps)
    return str(caught.value)


def test_a_step_is_read_with_every_field() -> None:
    step = parse(
        step_text(
            extra='technique = { effort = ["firm", "light"] }',
            discomfort="2",
            resource="1.5",
            needs='["hygiene", "consent"]',
            provides='"chaperone"',
            cautions='"Ask first."',
        )
    ).steps["press"]
    assert (step.system, step.method, step.minutes) == ("trial", Method.PALPATE, 0.5)
    assert step.needs == {Need.HYGIENE, Need.CONSENT}
    assert step.provides is Need.CHAPERONE
    assert step.cautions == "Ask first."
    assert step.synonyms == ("a", "b", "c", "d", "e", "f")
    assert step.price == 0.5 + 2 * 2 + 1.5


def test_the_first_value_of_a_slot_is_its_default_and_is_used_when_nothing_is_said() -> None:
    step = parse(step_text(extra='technique = { effort = ["firm", "light"] }')).steps["press"]
    assert step.full_technique({}) == {"effort": "firm"}
    assert step.full_technique({"effort": "light"}) == {"effort": "light"}
    assert step.slot("effort") is not None
    assert step.slot("site") is None


def test_what_a_step_says_of_a_slot_it_does_not_take_is_left_out_of_the_technique() -> None:
    step = parse(step_text()).steps["press"]
    assert step.full_technique({"effort": "firm"}) == {}


def test_values_and_diagnoses_are_read_and_ranks_found() -> None:
    names = '[[diagnosis]]\nslug = "gout"\nlabel = "Gout"\nsynonyms = ["podagra"]\n'
    catalogue = parse_catalogue({"v.toml": VALUES, "d.toml": names})
    assert catalogue.value("effort", "light").phrases == ("lightly",)
    assert catalogue.rank("effort", "firm") == 3
    assert catalogue.rank("site", "apex") is None
    assert catalogue.rank("site", "nowhere") is None
    assert catalogue.diagnoses["gout"].synonyms == ("podagra",)
    with pytest.raises(KeyError):
        catalogue.value("site", "nowhere")


def test_systems_are_listed_once_in_the_order_of_the_files() -> None:
    texts = {
        "b.toml": 'system = "second"',
        "a.toml": 'system = "first"',
        "c.toml": 'system = "first"',
    }
    assert parse_catalogue(texts).systems == ("first", "second")


def test_the_checksum_names_the_content_and_not_the_layout() -> None:
    one = parse_catalogue({"t.toml": system(step_text())})
    spaced = parse_catalogue({"t.toml": "# a comment\n\n" + system(step_text())})
    other = parse_catalogue({"t.toml": system(step_text(minutes="1"))})
    turned = step_text(normal="", extra='normal = [{ text = "Nothing." }]', label="")
    turned = turned.replace("[[step]]", '[[step]]\nlabel = "Press"')
    assert one.checksum == spaced.checksum
    assert one.checksum == parse_catalogue({"t.toml": system(turned)}).checksum
    assert one.checksum != other.checksum
    assert len(one.checksum) == 64


def test_bad_toml_is_reported_with_the_name_of_its_file() -> None:
    with pytest.raises(CatalogueError, match=r"broken\.toml: not valid TOML"):
        parse_catalogue({"broken.toml": "[[step]"})


@pytest.mark.parametrize("field", ["label", "region", "method", "minutes", "how", "synonyms"])
def test_a_missing_field_is_reported_with_its_step(field: str) -> None:
    message = complaint(step_text(**{field: ""}))
    assert "trial.toml: press" in message
    assert field in message


@pytest.mark.parametrize(
    "changed",
    [
        {"method": '"sniff"'},
        {"needs": '["luck"]'},
        {"provides": '"luck"'},
        {"minutes": '"long"'},
        {"normal": '[{ wording = "Nothing." }]'},
    ],
)
def test_a_value_of_the_wrong_kind_is_reported_with_its_step(changed: dict[str, str]) -> None:
    assert "trial.toml: press" in complaint(step_text(**changed))


def test_a_step_without_a_system_is_reported() -> None:
    with pytest.raises(CatalogueError, match="system"):
        parse_catalogue({"t.toml": step_text()})


def test_a_step_written_twice_is_reported_with_both_files() -> None:
    with pytest.raises(CatalogueError, match=r"b\.toml: step press already stands in a\.toml"):
        parse_catalogue({"a.toml": system(step_text()), "b.toml": system(step_text())})


def test_a_value_written_twice_is_reported_but_the_same_slug_in_two_slots_is_not() -> None:
    same = '[[value]]\nslot = "{}"\nslug = "deep"\nlabel = "deep"\n'
    parse_catalogue({"v.toml": same.format("breathing") + same.format("effort")})
    with pytest.raises(CatalogueError, match="value deep already stands"):
        parse_catalogue({"v.toml": same.format("breathing") * 2})


def test_a_diagnosis_written_twice_is_reported() -> None:
    with pytest.raises(CatalogueError, match="diagnosis gout already stands"):
        parse_catalogue({"d.toml": '[[diagnosis]]\nslug = "gout"\nlabel = "Gout"\n' * 2})


def test_an_unknown_slot_is_reported() -> None:
    with pytest.raises(CatalogueError, match="there is no slot 'mood'"):
        parse_catalogue({"v.toml": '[[value]]\nslot = "mood"\nslug = "good"\nlabel = "good"'})


def test_a_slot_value_outside_the_lexicon_is_reported() -> None:
    message = complaint(step_text(extra='technique = { effort = ["firm", "brutal"] }'))
    assert "press: effort value 'brutal' is not in the lexicon" in message


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"synonyms": '["a", "b", "c", "d", "e"]'}, "at least 6 different synonyms"),
        ({"synonyms": '["a", "a", "a", "a", "a", "a"]'}, "at least 6 different synonyms"),
        ({"discomfort": "4"}, "discomfort must be 0 to 3"),
        ({"discomfort": "-1"}, "discomfort must be 0 to 3"),
        ({"minutes": "0"}, "minutes must be above 0"),
        ({"how": '""'}, "label, how and looks_for must be written"),
        ({"looks_for": '""'}, "label, how and looks_for must be written"),
        ({"label": '""'}, "label, how and looks_for must be written"),
        ({"normal": "[]"}, "no normal finding for female aged 0"),
    ],
)
def test_a_step_out_of_bounds_is_reported(changed: dict[str, str], message: str) -> None:
    assert message in complaint(step_text(**changed)).removeprefix("press: ")


@pytest.mark.parametrize(
    ("normal", "gap"),
    [
        ('[{ age_min = 1, text = "x" }]', "female aged 0"),
        ('[{ age_max = 40, text = "x" }, { age_min = 42, text = "y" }]', "male aged 41"),
        ('[{ sex = "female", text = "x" }]', "male aged 0"),
        ('[{ sex = "male", text = "x" }, { age_max = 109, text = "y" }]', "female aged 110"),
    ],
)
def test_an_age_or_sex_without_a_normal_finding_is_reported(normal: str, gap: str) -> None:
    assert f"no normal finding for {gap}" in complaint(step_text(normal=normal))


def test_every_problem_is_listed_and_not_the_first_alone() -> None:
    message = complaint(step_text(minutes="0", discomfort="9"), step_text("other", how='""'))
    assert len(message.splitlines()) == 3


def test_a_composite_needs_no_normal_finding() -> None:
    whole = step_text("whole", normal="", extra='parts = ["press"]')
    assert parse(step_text(), whole).steps["whole"].parts == ("press",)


def test_a_composite_may_not_name_an_unknown_step_nor_another_composite() -> None:
    whole = step_text("whole", normal="", extra='parts = ["press", "nowhere"]')
    outer = step_text("outer", normal="", extra='parts = ["whole"]')
    message = complaint(step_text(), whole, outer)
    assert "whole: part 'nowhere' is not a simple step" in message
    assert "outer: part 'whole' is not a simple step" in message


def test_the_first_wording_that_fits_is_given() -> None:
    step = parse(
        step_text(
            normal='[{ age_max = 5, text = "small" }, { sex = "male", text = "man" }, { text = "rest" }]'
        )
    ).steps["press"]
    assert [
        step.normal_for(5, "male"),
        step.normal_for(6, "male"),
        step.normal_for(6, "female"),
    ] == [
        "small",
        "man",
        "rest",
    ]


bounds = st.tuples(st.integers(0, 110), st.integers(0, 110)).map(sorted)


@given(spans=st.lists(st.tuples(bounds, st.sampled_from([None, "female", "male"])), max_size=6))
def test_a_gap_is_reported_exactly_when_some_person_has_no_wording(spans) -> None:
    normal = tuple(NormalFinding("x", low, high, sex) for (low, high), sex in spans)
    written = ", ".join(
        f'{{ text = "x", age_min = {n.age_min}, age_max = {n.age_max}'
        + (f', sex = "{n.sex}" }}' if n.sex else " }")
        for n in normal
    )
    covered = {
        (age, sex)
        for age in range(111)
        for sex in ("female", "male")
        if any(low <= age <= high and only in (None, sex) for (low, high), only in spans)
    }
    text = system(step_text(normal=f"[{written}]"))
    if len(covered) == 2 * len(AGES):
        assert list(catalogue_problems(parse_catalogue({"t.toml": text}))) == []
    else:
        with pytest.raises(CatalogueError, match="no normal finding for"):
            parse_catalogue({"t.toml": text})
