"""One small site with everything in it: people, cases in their states, encounters, a cohort's report.

``World.objects`` names each thing and gives the parts of addresses that lead to it.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from accounts import actions as people_actions
from accounts.models import ApiToken, User
from casebank.analytics.actions import ask_for_report
from casebank.cases.models import CaseVersion
from casebank.encounters.actions import begin
from casebank.rehearsals.actions import rehearse
from casebank.reviews.actions import add_comment
from tests.factories.cases import draft, published, small_document, small_release, submitted
from tests.factories.encounters import CLEAN, WELL, asked, concluded
from tests.factories.people import PASSWORD, Cast, cast, person

Parts = dict[str, Any]


@dataclass
class World:
    """The people, by their part in what stands here, and the things with their addresses."""

    people: dict[str, User]
    objects: dict[str, Parts] = field(default_factory=dict)


def small_world(run_jobs: Callable[[], int]) -> World:
    """The site; the cohort's report is compiled, the draft rehearsed."""
    small_release()
    cast_ = cast()
    people = {
        "nobody": cast_.stranger,
        "author": cast_.author,
        "other_author": cast_.other_author,
        "reviewer": cast_.reviewer,
        "tutor": cast_.tutor,
        "other_tutor": person("Tove Tutor", "tutor"),
        "student": cast_.student,
        "other_student": person("Sia Student", "student"),
        "coordinator": cast_.coordinator,
    }
    for user in people.values():
        user.set_password(PASSWORD)
        user.save()
    world = World(people, {"nothing": {}, "step": {"slug": "heart-auscultate"}})
    world.objects["system"] = {"slug": "cardiovascular"}
    world.objects["region"] = {"slug": "chest"}
    _add_cases(world, cast_)
    _add_encounters(world)
    _add_people(world)
    _add_jobs(world, run_jobs)
    return world


def _add_cases(world: World, people: Cast) -> None:
    drafted = draft(people.author)
    waiting = submitted(people.author, slug="waiting", title="Waiting")
    add_comment(version=waiting, text="A question.", by=people.reviewer)
    shown = published(people.author, people.reviewer, slug="shown", title="Shown")
    for name, version in (("draft", drafted), ("submitted", waiting), ("published", shown)):
        world.objects[name] = _parts_of(version)
        world.objects[f"{name}-case"] = {"pk": version.case_id}


def _parts_of(version: CaseVersion) -> Parts:
    return {
        "pk": version.pk,
        "version": version.pk,
        "case": version.case_id,
        "number": version.number,
        "lock": version.lock,
        "place": 0,
        "slug": "opening",
    }


def _add_encounters(world: World) -> None:
    student = world.people["student"]
    version = CaseVersion.objects.get(pk=world.objects["published"]["pk"])
    ended = asked(begin(version=version, by=student), CLEAN, WELL, by=student)
    concluded(ended, by=student)
    running = asked(begin(version=version, by=student), CLEAN, by=student)
    for name, encounter in (("concluded", ended), ("encounter", running)):
        world.objects[name] = {
            "pk": encounter.pk, "slug": "heart-auscultate", "seq": 1,
            "index": 0, "token": "forged", "ending": "wav",
        }  # fmt: skip


def _add_people(world: World) -> None:
    for slug, tutor, student in (
        ("year", "tutor", "student"),
        ("other-year", "other_tutor", "other_student"),
    ):
        cohort = people_actions.create_cohort(slug=slug, name=f"The {slug}", by=None)
        for role, name in (("tutor", tutor), ("student", student)):
            user = world.people[name]
            people_actions.join_cohort(cohort=cohort, user=user, role=role, by=None)
        world.objects[slug] = {"slug": slug, "pk": world.people[student].pk}
    owner = world.people["student"]
    people_actions.make_token(user=owner, name="laptop")
    world.objects["token"] = {"pk": ApiToken.objects.get(user=owner).pk}
    world.objects["person"] = {"pk": owner.pk}


def _add_jobs(world: World, run_jobs: Callable[[], int]) -> None:
    tutor = world.people["tutor"]
    report = ask_for_report(cohort=tutor.cohort_set.get(), by=tutor)
    author = world.people["author"]
    drafted = CaseVersion.objects.get(pk=world.objects["draft"]["pk"])
    rehearsal = rehearse(version=drafted, by=author)
    run_jobs()
    world.objects["rehearsal"] = {"pk": rehearsal.pk}
    world.objects["report"] = {"pk": report.pk}
    world.objects["job"] = {"job_id": report.job_id}


def another_document() -> str:
    """The text of a document that nobody has brought yet."""
    return json.dumps(small_document(slug="brought", title="Brought"))
