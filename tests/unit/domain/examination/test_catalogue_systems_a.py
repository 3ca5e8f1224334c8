"""Chest, abdomen, thyroid and neck, limb vessels and history: complete, and true to sources."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.core.fixtures import load_resolver
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.model import Method, Need, Step

FOLDER = Path(__file__).parents[4] / "fixtures" / "catalogue"
TEXTS = {path.name: path.read_text(encoding="utf-8") for path in sorted(FOLDER.glob("*.toml"))}
CATALOGUE = parse_catalogue(TEXTS)
RESOLVER = load_resolver()
LEAST = {
    "respiratory": 55,
    "abdominal": 70,
    "thyroid and neck": 33,
    "peripheral vascular": 35,
    "history": 85,
}
STEPS = [step for step in CATALOGUE.steps.values() if step.system in LEAST]
TOUCHES = {Method.PALPATE, Method.PERCUSS, Method.AUSCULTATE}
INTIMATE = {
    "rectal-examination",
    "perianal-inspect",
    "anal-tone-sensation",
    "male-genitalia",
    "female-external-genitalia",
    "cremasteric-reflex",
    "vaginal-bimanual",
    "speculum",
    "hernia-orifices",
    "gynaecomastia",
    "proctoscopy",
}


def slug_of(step: Step) -> str:
    return step.slug


def everything_said(slug: str) -> str:
    step = CATALOGUE.steps[slug]
    return f"{step.looks_for} {step.how} {step.cautions}"


def sources_above(slug: str) -> str:
    """The comment lines directly above a step, where its sources stand."""
    for text in TEXTS.values():
        place = text.find(f'[[step]]\nslug = "{slug}"\n')
        if place >= 0:
            return text[:place].rsplit("\n\n", 1)[-1]
    raise AssertionError(f"no step {slug} in any file")


def test_every_system_has_its_steps() -> None:
    counts = Counter(step.system for step in STEPS)
    assert {system: counts[system] >= least for system, least in LEAST.items()} == dict.fromkeys(
        LEAST, True
    )


@pytest.mark.parametrize("step", STEPS, ids=slug_of)
def test_a_step_is_written_in_full(step: Step) -> None:
    assert len({synonym.casefold() for synonym in step.synonyms}) >= 8
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", step.slug)
    assert len(step.slug) <= 64
    if not step.parts:
        assert 0.25 <= step.minutes <= 5
        assert len(re.findall(r"[.;:?]( |$)", step.how)) >= 2
    assert step.looks_for.endswith(".")
    assert step.how.endswith(".")


@pytest.mark.parametrize("step", [s for s in STEPS if s.method in TOUCHES], ids=slug_of)
def test_touching_wants_clean_hands(step: Step) -> None:
    if step.slug != "stridor-listen":  # done with the unaided ear
        assert Need.HYGIENE in step.needs


@pytest.mark.parametrize("slug", sorted(INTIMATE))
def test_an_intimate_step_wants_consent_and_a_chaperone(slug: str) -> None:
    assert {Need.CONSENT, Need.CHAPERONE} <= CATALOGUE.steps[slug].needs


@pytest.mark.parametrize("step", [s for s in STEPS if s.parts], ids=slug_of)
def test_a_composite_costs_the_time_of_its_parts_and_needs_what_they_need(step: Step) -> None:
    parts = [CATALOGUE.steps[part] for part in step.parts]
    assert step.minutes == pytest.approx(sum(part.minutes for part in parts))
    assert step.discomfort == max(part.discomfort for part in parts)
    assert step.needs == frozenset().union(*(part.needs for part in parts))


@given(st.sampled_from(STEPS), st.integers(0, 110), st.sampled_from(["female", "male"]))
def test_health_has_an_answer_at_every_age(step: Step, age: int, sex: str) -> None:
    if not step.parts:
        assert step.normal_for(age, sex).endswith(".")


@pytest.mark.parametrize("slug", ["psa", "male-genitalia", "cremasteric-reflex"])
def test_a_man_s_step_says_so_for_a_woman(slug: str) -> None:
    assert "female" in CATALOGUE.steps[slug].normal_for(40, "female")
    assert "female" not in CATALOGUE.steps[slug].normal_for(40, "male")


@pytest.mark.parametrize(
    "slug", ["pregnancy-test", "vaginal-bimanual", "speculum", "female-external-genitalia"]
)
def test_a_woman_s_step_says_so_for_a_man(slug: str) -> None:
    assert "patient is male" in CATALOGUE.steps[slug].normal_for(40, "male")
    assert "patient is male" not in CATALOGUE.steps[slug].normal_for(40, "female")


def test_the_systems_review_asks_each_symptom_by_itself() -> None:
    symptoms = [
        "sputum-detail",
        "haemoptysis-detail",
        "wheeze",
        "dysphagia",
        "nausea",
        "vomiting",
        "haematemesis",
        "bowel-habit",
        "rectal-bleeding",
        "jaundice",
        "dysuria-frequency",
        "haematuria",
        "headache",
        "vision",
        "weakness",
        "numbness",
        "vertigo",
        "falls",
        "joint-pain",
        "rash",
        "fever-pattern",
        "night-sweats",
        "mood",
        "sleep",
    ]
    assert [s for s in symptoms if f"ask-{s}" not in CATALOGUE.steps] == []


def test_a_complaint_is_taken_apart_into_its_parts() -> None:
    wanted = [
        "site",
        "onset",
        "character",
        "radiation",
        "associated",
        "timing",
        "worse",
        "better",
        "severity",
    ]
    assert CATALOGUE.steps["complaint-in-full"].parts == tuple(f"complaint-{w}" for w in wanted)


@pytest.mark.parametrize("step", STEPS, ids=slug_of)
def test_no_words_of_a_step_are_read_as_another_step(step: Step) -> None:
    # The words may be asked back where two steps share them; they may not be taken wrongly.
    for synonym in step.synonyms:
        taken = {request.step for request in RESOLVER.resolve(synonym).requests}
        assert taken <= {step.slug}, synonym


FACTS = [
    # slug, what the step says, the source named above it
    ("cricosternal-distance", "4 cm or less", "Straus et al., JAMA 2000"),
    ("peak-flow", "33-50% is severe and under 33% life-threatening", "BTS/SIGN 158"),
    ("voice-and-speech-breath", "finished in one breath", "BTS/SIGN 158"),
    ("limb-girth", "more than 3 cm counts", "Wells et al., Lancet 1997"),
    ("ctpa", "score above 4 makes embolism likely", "Wells et al., Thromb Haemost 2000"),
    ("aortic-ultrasound", "3.0 cm or more", "Lederle & Simel, JAMA 1999"),
    ("deep-vein-tenderness", "Tenderness along the deep veins", "Wells et al., Lancet 1997"),
]


@pytest.mark.parametrize(("slug", "fact", "source"), FACTS, ids=[row[0] for row in FACTS])
def test_a_rule_stands_beside_its_source(slug: str, fact: str, source: str) -> None:
    assert fact in everything_said(slug)
    assert source in sources_above(slug)


RATIOS = [
    # slug, number as published, publication
    ("cricosternal-distance", "LR+ 2.8", "Straus et al., JAMA 2000"),
    ("ask-pack-years", "LR+ 8.3", "Straus et al., JAMA 2000"),
    ("breath-sounds", "LR+ 2.7", "Straus et al., JAMA 2000"),
    ("breath-sounds", "LR+ 12", "Holleman et al., J Gen Intern Med 1993"),
    ("ask-wheeze", "LR+ 3.1", "Holleman et al., J Gen Intern Med 1993"),
    ("egophony", "LR+ 6.17", "Ebell et al., Acad Emerg Med 2020"),
    ("chest-percussion", "LR+ 2.62", "Ebell et al., Acad Emerg Med 2020"),
    ("chest-percussion", "LR+ 8.7", "Wong et al., JAMA 2009"),
    ("tactile-fremitus", "LR- 0.21", "Wong et al., JAMA 2009"),
    ("ask-haemoptysis-detail", "LR+ 1.62", "West et al., QJM 2007"),
    ("abdomen-shape", "LR- 0.12", "Simel et al., J Gen Intern Med 1988"),
    ("fluid-thrill", "LR+ 9.6", "Simel et al., J Gen Intern Med 1988"),
    ("ask-bloating", "LR+ 4.16", "Williams & Simel, JAMA 1992"),
    ("spider-naevi", "LR+ 4.3", "Udell et al., JAMA 2012"),
    ("murphy-sign", "interval 0.8-8.6, crosses 1", "Trowbridge et al., JAMA 2003"),
    ("spleen-percuss", "LR+ 1.48", "Barkun et al., Am J Med 1991"),
    ("spleen-percuss", "LR+ 1.97", "Tamayo et al., J Gen Intern Med 1993"),
    ("ankle-jerk-relaxation", "LR+ 3.75", "Indra et al., J Postgrad Med 2004"),
    ("limb-skin-trophic", "LR+ 5.9", "Khan et al., JAMA 2006"),
    ("limb-bruits", "LR+ 5.6", "Khan et al., JAMA 2006"),
]


@pytest.mark.parametrize(("slug", "number", "source"), RATIOS)
def test_a_published_number_is_quoted_with_its_source(slug: str, number: str, source: str) -> None:
    assert number in sources_above(slug)
    assert source in sources_above(slug)


@pytest.mark.parametrize("slug", ["lid-lag", "lid-retraction", "hand-tremor", "psoas-sign"])
def test_a_number_that_was_not_seen_in_print_says_so(slug: str) -> None:
    assert "from memory" in sources_above(slug)


def test_homans_sign_is_no_step() -> None:
    assert not any("homan" in s.casefold() for step in STEPS for s in (step.slug, *step.synonyms))


@pytest.mark.parametrize(
    ("text", "step", "technique"),
    [
        ("percuss the left side, posterior lower zone", "chest-percussion",
         {"side": "left", "site": "back-lower-zone"}),
        ("deep palpation in the right iliac fossa", "deep-palpation-abdomen",
         {"site": "right-iliac-fossa"}),
        ("palpate the neck nodes in the supraclavicular fossa", "neck-nodes",
         {"site": "supraclavicular-fossa"}),
        ("listen for bowel sounds for a full minute", "bowel-sounds", {"timing": "seconds-60"}),
        ("look between the toes of the left foot", "foot-inspect-webs", {"side": "left"}),
    ],
)  # fmt: skip
def test_a_place_said_is_the_place_examined(
    text: str, step: str, technique: dict[str, str]
) -> None:
    (request,) = RESOLVER.resolve(text).requests
    assert request.step == step
    assert technique.items() <= dict(request.technique).items()


@pytest.mark.parametrize("name", ["respiratory", "abdominal", "thyroid-neck"])
def test_the_files_of_one_system_name_that_system(name: str) -> None:
    data = tomllib.loads(TEXTS[f"{name}.toml"])
    assert data["system"] in LEAST
    assert not any("system" in step for step in data["step"])
