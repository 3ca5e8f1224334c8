"""Free words read as what a perceived sign is said to be, and what they are worth."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.domain.examination.readings import SignReader
from casebank.domain.examination.statements import told
from casebank.domain.examination.vocabulary import SIGN
from casebank.domain.marking.naming import naming_of
from tests.factories.records import shipped_catalogue

VOCABULARY = shipped_catalogue().vocabulary
READER = SignReader(VOCABULARY)
HEART = ("heart-sound", "murmur")
LUNGS = ("breath-sound",)


def stated(text, families=HEART):
    found = READER.read(text, families)
    assert not found.choices, found.choices
    return [{name: set(values) for name, values in one.features.items()} for one in found.stated]


@pytest.mark.parametrize(
    ("words", "sign"),
    [
        ("third heart sound", "third-heart-sound"),
        ("S3", "third-heart-sound"),
        ("I think I can hear a third sound", "third-heart-sound"),
        ("opening snap", "opening-snap"),
        ("ESM", "ejection-systolic-murmur"),
        ("holosystolic murmur", "pansystolic-murmur"),
        ("pan-systolic murmurs", "pansystolic-murmur"),
        ("paradoxical splitting of S2", "reversed-splitting"),
        ("no added sounds", "normal-heart-sounds"),
        ("absent second sound", "soft-second-sound"),
    ],
)
def test_a_sign_is_read_by_any_of_its_names(words, sign):
    (one,) = stated(words)
    assert one[SIGN] == {sign}


@pytest.mark.parametrize("words", ["ejecton systolic murmer", "EJECTION SYSTOLIC MURMUR!"])
def test_spelling_and_capitals_do_not_matter(words):
    assert stated(words) == stated("ejection systolic murmur")


def test_a_full_reading_gives_every_feature():
    words = "ejection systolic murmur, 3/6, loudest at the aortic area, radiating to the carotids"
    assert stated(words) == [
        {
            SIGN: {"ejection-systolic-murmur"},
            "grade": {"3"},
            "site": {"aortic-area"},
            "radiation": {"carotid"},
            "timing": {"mid-systolic"},
            "shape": {"crescendo-decrescendo"},
        }
    ]


def test_a_reading_is_told_without_saying_a_feature_twice():
    (one,) = READER.read("pansystolic murmur grade 3 at the apex", HEART).stated
    said = told(one, VOCABULARY)
    assert "grade 3 of 6" in said
    assert "grade grade" not in said


@pytest.mark.parametrize("grade", ["grade 4", "4/6", "IV/VI", "grade IV", "grade 4 out of 6"])
def test_a_grade_is_read_however_it_is_written(grade):
    (one,) = stated(f"murmur {grade}")
    assert one["grade"] == {"4"}


def test_a_description_makes_a_broad_name_exact():
    (one,) = stated("a systolic murmur that rises and falls")
    assert one[SIGN] == {"ejection-systolic-murmur"}
    (lungs,) = stated("fine crackles", LUNGS)
    assert lungs[SIGN] == {"fine-crackles"}


def test_two_signs_keep_their_own_features():
    first, second = stated("a low-pitched S3 and a high-pitched pansystolic murmur")
    assert (first[SIGN], first["pitch"]) == ({"third-heart-sound"}, {"low"})
    assert (second[SIGN], second["pitch"]) == ({"pansystolic-murmur"}, {"high"})


def test_what_is_denied_is_not_stated():
    assert stated("no murmur") == []
    assert [one[SIGN] for one in stated("not a third sound, but a fourth sound")] == [
        {"fourth-heart-sound"}
    ]


def test_a_name_of_several_signs_is_asked_back_with_whole_texts():
    found = READER.read("gallop", HEART)
    assert found.stated == ()
    assert {stated(choice)[0][SIGN].pop() for choice in found.choices} == {
        "third-heart-sound",
        "fourth-heart-sound",
    }


@pytest.mark.parametrize("words", ["S3 or S4", "systolic or diastolic murmur"])
def test_either_or_is_asked_back(words):
    found = READER.read(words, HEART)
    assert found.stated == ()
    assert len(found.choices) == 2
    first, second = (stated(choice) for choice in found.choices)
    assert first != second


def test_words_not_understood_are_said():
    found = READER.read("frobnicate", HEART)
    assert (found.stated, found.choices, found.unused) == ((), (), ("frobnicate",))
    partly = READER.read("a wibbling murmur", HEART)
    assert partly.stated[0].signs == ("murmur",)
    assert partly.unused == ("wibbling",)


def test_names_of_another_family_are_not_understood_there():
    assert READER.read("wheeze", HEART).stated == ()
    assert READER.read("wheeze", HEART).unused == ("wheeze",)
    assert stated("wheeze", LUNGS)[0][SIGN] == {"wheeze"}


def test_every_sign_is_read_by_its_own_label():
    read_as = {
        sign.slug: [one.get(SIGN) for one in stated(sign.label, (sign.family,))]
        for sign in VOCABULARY.signs.values()
    }
    assert {slug: names for slug, names in read_as.items() if names != [{slug}]} == {}


@given(st.text(max_size=120))
def test_no_text_breaks_the_reader_and_the_same_text_reads_the_same(text):
    assert READER.read(text, HEART) == READER.read(text, HEART)


# ---- what a reading is worth
EXPECTED = {
    SIGN: "ejection-systolic-murmur",
    "timing": "mid-systolic",
    "grade": "3",
    "radiation": "carotid | right-clavicle",
}


def score(statements, expects=EXPECTED, others=()):
    return naming_of(expects, statements, VOCABULARY, others).score


def score_of(text, expects=EXPECTED, others=()):
    found = READER.read(text, HEART)
    return score([one.features for one in found.stated], expects, others)


MURMUR_FEATURES = {
    name: sorted(feature.terms)
    for name, feature in VOCABULARY.features.items()
    if name != SIGN and "murmur" in feature.families
} | {SIGN: sorted(s.slug for s in VOCABULARY.signs.values() if s.family in HEART)}
STATEMENT = st.dictionaries(st.sampled_from(sorted(MURMUR_FEATURES)), st.none()).flatmap(
    lambda keys: st.fixed_dictionaries(
        {
            name: st.lists(
                st.sampled_from(MURMUR_FEATURES[name]), min_size=1, max_size=4, unique=True
            )
            for name in keys
        }
    )
)
STATEMENTS = st.lists(STATEMENT, max_size=4)


@given(STATEMENTS)
def test_credit_lies_between_nought_and_one(statements):
    found = naming_of(EXPECTED, statements, VOCABULARY)
    assert 0 <= found.score <= 1
    assert all(0 <= credit <= 1 for credit in found.credits.values())


@given(STATEMENTS, st.randoms(use_true_random=False))
def test_the_order_of_signs_and_values_does_not_matter(statements, random):
    shuffled = [
        {name: random.sample(values, len(values)) for name, values in one.items()}
        for one in random.sample(statements, len(statements))
    ]
    assert score(shuffled) == score(statements)


@given(STATEMENT, st.sampled_from(sorted(EXPECTED)))
def test_a_right_feature_never_lowers_the_score(statement, feature):
    right = EXPECTED[feature].split(" | ")[0]
    values = statement.get(feature, [])
    better = {**statement, feature: [*values, *([] if right in values else [right])]}
    assert score([better]) >= score([statement])


def test_features_said_in_another_order_are_worth_the_same():
    parts = ["ejection systolic murmur", "grade 3", "radiating to the carotids"]
    forward, backward = ", ".join(parts), ", ".join([parts[1], parts[0], parts[2]])
    assert score_of(forward) == score_of(backward) == 1


@pytest.mark.parametrize(
    ("grade", "credit"), [("1", 0), ("2", 1), ("3", 1), ("4", 1), ("5", 0), ("6", 0)]
)
def test_a_grade_within_one_is_right(grade, credit):
    found = naming_of(EXPECTED, [{"grade": [grade]}], VOCABULARY)
    assert found.credits["grade"] == credit


def test_a_broader_name_earns_half_and_a_narrower_all():
    assert score([{SIGN: ["murmur"]}], {SIGN: "ejection-systolic-murmur"}) == 0.5
    assert score([{SIGN: ["ejection-systolic-murmur"]}], {SIGN: "systolic-murmur"}) == 1
    assert score([{SIGN: ["diastolic-murmur"]}], {SIGN: "ejection-systolic-murmur"}) == 0


def test_any_accepted_value_is_right():
    for value in ("carotid", "right-clavicle"):
        assert naming_of(EXPECTED, [{"radiation": [value]}], VOCABULARY).credits["radiation"] == 1


def test_naming_everything_is_no_way_to_score():
    everything = sorted(MURMUR_FEATURES[SIGN])
    expects = {SIGN: "third-heart-sound"}
    assert score([{SIGN: [name]} for name in everything], expects) < 0.1
    assert score([{SIGN: ["third-heart-sound"]}, {SIGN: ["opening-snap"]}], expects) == 0.5


def test_the_name_of_another_finding_of_the_same_sound_is_not_wrong():
    both = [{SIGN: ["third-heart-sound"]}, {SIGN: ["pansystolic-murmur"]}]
    expects, other = {SIGN: "third-heart-sound"}, {SIGN: "pansystolic-murmur"}
    assert score(both, expects, [other]) == 1
    assert score(both, expects) == 0.5


def test_nothing_said_is_worth_nothing():
    assert score([]) == 0
    assert score_of("third sound") == 0


@pytest.mark.parametrize(
    ("words", "phase"),
    [
        ("crackles breathing in", "inspiratory"),
        ("crackles breathing out", "expiratory"),
        ("crackles breathing in and out", "both-phases"),
        ("crackles in inspiration", "inspiratory"),
    ],
)
def test_in_and_out_are_told_apart(words, phase):
    (stated,) = READER.read(words).stated
    assert stated.features["phase"] == (phase,)


def test_a_place_is_where_it_radiates_to_only_when_that_is_said():
    (here,) = READER.read("murmur in the axilla").stated
    (there,) = READER.read("murmur radiating into the axilla").stated
    assert (here.features.get("site"), here.features.get("radiation")) == (("axilla",), None)
    assert (there.features.get("site"), there.features.get("radiation")) == (None, ("axilla",))
