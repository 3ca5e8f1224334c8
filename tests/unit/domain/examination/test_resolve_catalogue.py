"""Every name in the shipped catalogue leads to its own step or to a question, never elsewhere."""

from __future__ import annotations

from casebank.core.fixtures import load_catalogue, load_resolver
from casebank.domain.examination.model import SLOTS
from casebank.domain.examination.resolution import Status


def test_every_label_and_synonym_finds_its_step_or_asks_back():
    wrong, asked, said = [], 0, 0
    for step in load_catalogue().steps.values():
        for text in (step.label, *step.synonyms):
            found = load_resolver().resolve(text)
            said += 1
            asked += found.status is Status.ASK_BACK
            is_right = {one.step for one in found.requests} == {step.slug}
            if not is_right and found.status is not Status.ASK_BACK:
                wrong.append((step.slug, text, [one.step for one in found.requests]))
    assert wrong == []
    assert asked / said <= 0.02


def test_every_technique_value_is_understood_by_its_label_after_a_step_that_takes_it():
    resolver, missed = load_resolver(), []
    for slug in ("auscultate-heart", "blood-pressure", "jvp-height", "ankle-oedema", "thrills"):
        step = load_catalogue().steps[slug]
        name = {"jvp-height": "JVP", "ankle-oedema": "ankle oedema", "thrills": "thrills"}.get(
            slug, step.label
        )
        for slot in step.slots:
            for value in slot.values:
                label = load_catalogue().value(slot.slot, value).label.partition(" (")[0]
                found = resolver.resolve(f"{name}, {label}")
                offered = (*found.requests, *found.alternatives)
                told = [dict(one.technique) for one in offered if one.step == slug]
                if not any(technique.get(slot.slot) == value for technique in told):
                    missed.append((slug, value, [one.step for one in offered]))
    # The venous pressure in inspiration is a sign with a name of its own.
    assert missed == [("jvp-height", "inspiration", ["kussmaul-sign"])]


def test_every_general_value_has_phrases():
    for (slot, slug), value in load_catalogue().values.items():
        assert slot in SLOTS
        if slot != "site":
            assert value.phrases, f"{slot} {slug} has no phrases"
