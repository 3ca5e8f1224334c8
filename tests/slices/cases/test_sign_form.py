"""Setting a sign by fields: what they hold, what is kept, rows, errors beside fields."""

from __future__ import annotations

import json
import re

import pytest
from django.http import QueryDict
from hypothesis import given, settings
from hypothesis import strategies as st

from casebank.cases.forms.sign_document import ROOT, controls, pieces, typed_over
from casebank.cases.forms.sign_shape import MODELS, every_leaf, part_of
from casebank.cases.forms.sign_words import KINDS, WORDS
from casebank.cases.forms.signs import SignForm, examples
from casebank.cases.signs import KINDS as KNOWN_KINDS
from casebank.cases.signs import read_spec
from tests.factories.people import cast
from tests.slices.cases.sign_pages import PAGE, form_of, pressed, sent_by, spec_in

pytestmark = pytest.mark.django_db
MURMUR = {"kind": "heart-sound", "lesions": [{"type": "mitral-regurgitation", "grade": 3}]}
ZONES = {"kind": "breath-sound", "zones": [{"sites": ["back-lower-zone"]}]}


@pytest.fixture(autouse=True)
def shelf_of_its_own(settings, tmp_path):
    settings.MEDIA_SHELF = tmp_path / "media"


@pytest.fixture
def client(client):
    client.force_login(cast().author)
    return client


def values_of(leaf):
    """Any value that the specification takes for a field."""
    if leaf.shape == "ticks":
        return st.lists(st.sampled_from(leaf.options), min_size=leaf.is_required, max_size=4)
    if leaf.shape == "truth":
        return st.booleans()
    if leaf.shape == "choice":
        return st.sampled_from(leaf.options)
    if leaf.shape == "whole":
        return st.integers(int(leaf.low), int(leaf.high))
    return st.floats(leaf.low, leaf.high)


def specs_of(part):
    """Any data of a part: fields set or not, groups and lists filled or not."""
    wanted = {leaf.key: values_of(leaf) for leaf in part.leaves if leaf.is_required}
    free = {leaf.key: values_of(leaf) for leaf in part.leaves if not leaf.is_required}
    free |= {one.key: specs_of(one.of) for one in part.groups}
    free |= {one.key: st.lists(specs_of(one.of), max_size=3) for one in part.lists}
    return st.fixed_dictionaries(wanted, optional=free)


ANY_SPEC = st.sampled_from(sorted(MODELS)).flatmap(
    lambda kind: specs_of(part_of(kind)).map(lambda spec: {"kind": kind, **spec})
)


def as_sent(found):
    """The controls as a browser's post."""
    data = QueryDict(mutable=True)
    for name, value in found.items():
        data.setlist(name, value if isinstance(value, list) else [value])
    return data


@settings(max_examples=150)
@given(spec=ANY_SPEC)
def test_what_a_form_shows_and_is_sent_back_untouched_is_the_same_sign(spec):
    read_spec(json.dumps(spec))
    shape = part_of(spec["kind"])
    sent = as_sent(controls(pieces(shape, spec)))
    assert typed_over(spec, shape, sent) == spec


@settings(max_examples=150)
@given(spec=ANY_SPEC)
def test_a_sign_typed_anew_into_empty_fields_is_the_same_sign(spec):
    shape = part_of(spec["kind"])
    bare = {key: [{} for _ in spec[key]] for key in (one.key for one in shape.lists) if key in spec}
    for row, given_row in zip(bare.get("zones", []), spec.get("zones", []), strict=True):
        row["added"] = [{} for _ in given_row.get("added", [])]
    made = typed_over({"kind": spec["kind"], **bare}, shape, as_sent(controls(pieces(shape, spec))))
    assert as_read(made) == as_read(spec)


def as_read(spec):
    """The specification, without regard to order and repetition where they mean nothing."""
    read = read_spec(json.dumps(spec)).model_dump(mode="json")
    for holder, key in [(read, "signs")] + [(one, "sites") for one in read.get("zones", [])] + [
        (one, "unmoved") for one in read.get("lesions", [])
    ]:  # fmt: skip
        if key in holder:
            holder[key] = sorted(set(holder[key]))
    return read


@pytest.mark.parametrize("name", examples())
def test_an_example_sent_back_by_its_page_is_the_same_example(client, name):
    example = examples()[name]
    controls = sent_by(client.get(PAGE, {"example": name}))
    del controls["spec"]  # the fields alone
    answer = client.post(PAGE, controls)
    assert answer.status_code == 200
    assert spec_in(answer) == example["spec"]
    assert answer.context["form"].tried.parameters == example["spec"]
    assert dict(answer.context["form"].tried.technique) == example["technique"]


@pytest.mark.parametrize("kind", MODELS)
def test_every_field_of_the_specification_is_shown_and_put_into_words(kind):
    shape = part_of(kind)
    assert [leaf.path for leaf in every_leaf(shape) if leaf.path not in WORDS] == []
    known = {leaf.key for leaf in shape.leaves} | {one.key for one in (*shape.groups, *shape.lists)}
    assert known | {"kind"} == set(MODELS[kind].model_fields)
    assert tuple(dict(KINDS)) == tuple(MODELS) == KNOWN_KINDS


def test_a_number_tells_its_unit_its_range_and_what_is_usual(client):
    page = client.get(PAGE).content.decode()
    assert "24 to 200 beats a minute. Empty: 72." in page
    assert 'min="24"' in page
    assert 'max="200"' in page
    assert "−40 to 12 dB" in page


def test_a_field_that_is_set_sets_the_parameter_and_an_emptied_one_unsets_it(client):
    controls = form_of(client, MURMUR)
    answer = pressed(client, controls, patient__rate="96", lesions__0__grade="5", split="fixed")
    lesion = {"type": "mitral-regurgitation", "grade": 5}
    assert spec_in(answer) == {"kind": "heart-sound", "lesions": [lesion], "patient": {"rate": 96},
                               "split": "fixed"}  # fmt: skip
    answer = pressed(client, sent_by(answer), patient__rate="", lesions__0__grade="", split="")
    assert spec_in(answer) == {"kind": "heart-sound", "lesions": [{"type": "mitral-regurgitation"}]}


@pytest.mark.parametrize(
    ("typed", "set_to"), [("12,5", 12.5), ("12.50", 12.5), (" 12 ", 12), ("1.6e1", 16)]
)
def test_a_number_may_be_typed_as_people_do(client, typed, set_to):
    answer = pressed(client, form_of(client, MURMUR), patient__breath_rate=typed)
    assert spec_in(answer)["patient"] == {"breath_rate": set_to}


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("patient__rate", "500", "Must be 200 or less."),
        ("rhythm__pr_ms", "1" + "0" * 38, "Must be 400 or less."),
        ("patient__age", "40.5", "Must be a whole number."),
        ("patient__rate", "fast", "Must be a number, written in digits."),
        ("patient__rate", "nan", "Must be a number, written in digits."),
        ("lesions__0__grade", "0", "Must be 1 or more."),
        ("split", "sideways", "Must be 'single'"),
    ],
)
def test_a_wrong_value_is_said_beside_its_field_and_everything_typed_is_kept(
    client, field, typed, said
):
    controls = form_of(client, MURMUR, site="axilla")
    answer = pressed(client, controls, **{field: typed, "first_db": "3"})
    assert answer.status_code == 422
    form, name = answer.context["form"], f"of-{field}".replace("__", "-")
    assert list(form.errors) == [name]
    assert form.errors[name][0].startswith(said)
    assert form[name].value() == typed
    again = sent_by(answer)
    assert (again[name], again["of-first_db"], again["site"]) == ([typed], ["3"], ["axilla"])
    assert re.search(rf'aria-describedby="[^"]*id_{name}_error"', answer.content.decode())


def test_a_zone_without_places_and_a_site_that_cannot_be_had_are_said_there(client):
    answer = pressed(client, form_of(client, ZONES), zones__0__sites=[])
    assert answer.context["form"].errors == {"of-zones-0-sites": ["Needs at least 1 (it has 0)."]}
    answer = client.post(PAGE, {**form_of(client, MURMUR), "site": "trachea"})
    assert "choose one of aortic-area" in answer.context["form"].errors["site"][0]


def test_a_murmur_is_added_heard_at_once_and_removed_again_without_scripts(client):
    answer = pressed(client, form_of(client, MURMUR), "add:of-lesions", lesions__0__grade="2")
    assert answer.status_code == 200
    assert [one["type"] for one in spec_in(answer)["lesions"]] == [
        "mitral-regurgitation", "aortic-stenosis"
    ]  # fmt: skip
    assert answer.context["form"].words
    answer = pressed(client, sent_by(answer), "remove:of-lesions-0")
    assert spec_in(answer)["lesions"] == [{"type": "aortic-stenosis"}]


def test_a_button_keeps_what_was_typed_wrong_elsewhere(client):
    answer = pressed(client, form_of(client, MURMUR), "add:of-extras", patient__rate="999")
    assert answer.context["form"]["of-patient-rate"].value() == "999"
    assert len(spec_in(answer)["extras"]) == 1


def test_a_sound_is_added_within_a_zone_and_the_page_goes_on_from_it(client):
    answer = pressed(client, form_of(client, ZONES), "add:of-zones-0-added")
    assert spec_in(answer)["zones"][0]["added"] == [{"type": "wheeze"}]
    page = answer.content.decode()
    assert page.count(" autofocus") == page.count(" data-focus") == 1
    assert 'name="of-zones-0-added-0-type" autofocus' in page
    answer = pressed(client, sent_by(answer), "remove:of-zones-0-added-0")
    assert 'value="add:of-zones-0-added" autofocus' in answer.content.decode()


def test_no_more_rows_are_added_than_the_specification_takes(client):
    full = {"kind": "heart-sound", "lesions": [{"type": "innocent"}] * 4}
    answer = client.post(PAGE, {"spec": json.dumps(full)})
    assert "No more than 4 fit here." in answer.content.decode()
    assert 'value="add:of-lesions"' not in answer.content.decode()
    assert spec_in(pressed(client, sent_by(answer), "add:of-lesions")) == full


@pytest.mark.parametrize(
    "action",
    ["add:", "add:of", "add:of-split", "add:of-lesions-0-type", "remove:of-lesions-9",
     "remove:of-lesions-x", "remove:lesions", "remove:", "add:of-lesions-²-a", "dance"],
)  # fmt: skip
def test_a_button_that_is_not_there_changes_nothing(client, action):
    assert spec_in(pressed(client, form_of(client, MURMUR), action)) == MURMUR


@pytest.mark.parametrize("kind", MODELS)
def test_another_kind_keeps_the_patient_and_is_perceived_at_once(client, kind):
    patient = {"age": 30, "rate": 80, "seed": 5}
    controls = form_of(client, {**MURMUR, "patient": patient}, site="apex")
    answer = client.post(PAGE, {**controls, "kind": kind})
    assert answer.status_code == 200
    assert spec_in(answer)["kind"] == kind
    assert kind == "picture" or spec_in(answer)["patient"] == patient
    assert ("lesions" in spec_in(answer)) is (kind == "heart-sound")


@pytest.mark.parametrize(
    "spec",
    [
        {
            "kind": "breath-sound",
            "zones": [{"sites": ["elsewhere", "back-lower-zone", "elsewhere"]}],
        },
        {"kind": "breath-sound", "site": "somewhere-new"},
        {"kind": "heart-sound", "first_db": 0.1234567890123, "patient": {"seed": 2147483648}},
        {"kind": "heart-sound", "rhythm": {}, "lesions": []},
        {
            "kind": "heart-sound",
            "lesions": [{"type": "innocent", "unmoved": ["left-lateral", "x"]}],
        },
    ],
)
def test_what_the_fields_do_not_offer_is_kept_to_the_letter(client, spec):
    controls = form_of(client, spec, site="" if spec["kind"] == "heart-sound" else "trachea")
    assert spec_in(pressed(client, controls)) == spec


@settings(max_examples=100)
@given(
    before=st.one_of(st.text(), st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
        lambda one: st.lists(one, max_size=3) | st.dictionaries(
            st.sampled_from(["kind", "patient", "lesions", "zones", "sites", "type"]), one),
    ).map(json.dumps)),
    do=st.sampled_from(["", "add:of-lesions", "remove:of-lesions-0", "add:of-zones-0-added"]),
    typed=st.sampled_from(["fast", "1 0", "--", "nan", "1e999"]),
)  # fmt: skip
def test_no_post_is_an_accident_and_what_stood_is_not_dropped(before, do, typed):
    form = SignForm({"before": before, "spec": before, "do": do, "of-patient-rate": typed})
    form.is_valid()
    assert form.tried or form.errors
    assert (
        form[f"{ROOT}-patient-rate"].value() == typed
        or form.asked.kind == "picture"
        or (not isinstance(form.asked.spec.get("patient", {}), dict))
    )
