"""People, roles, cohorts and tokens."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from accounts import actions
from accounts.models import ApiToken, Cohort, Membership, Role, User
from accounts.permissions import ROLES, Permission
from accounts.policies import may_report_on, reportable_cohorts
from casebank.audit.models import Event
from tests.factories.people import PASSWORD, Cast, cast, person

pytestmark = pytest.mark.django_db


@pytest.fixture
def people() -> Cast:
    return cast()


@pytest.fixture
def coordinator(client, people):
    client.force_login(people.coordinator)
    return client


def test_loading_the_roles_twice_changes_nothing():
    actions.load_roles()
    actions.load_roles()
    assert Role.objects.count() == len(ROLES)


def test_every_permission_is_held_by_some_role():
    assert frozenset().union(*(role.permissions for role in ROLES)) == frozenset(Permission)


def test_a_closed_account_may_nothing(people):
    people.author.is_active = False
    assert not people.author.may(Permission.WRITE_CASES)


def test_one_address_is_one_person_whatever_its_case():
    User.objects.create_user("Mixed@Example.org", name="One")
    with pytest.raises(IntegrityError), transaction.atomic():
        User.objects.create_user("mixed@example.ORG", name="Two")


def test_signing_in_reads_person_and_roles_in_one_query(client, people, django_assert_num_queries):
    client.force_login(people.student)
    with django_assert_num_queries(2):  # the session, the person
        client.get(reverse("home"))


def test_a_person_signs_in_by_e_mail(client):
    user = person("Key Holder", "student", password=PASSWORD)
    answer = client.post(reverse("account_login"), {"login": user.email, "password": PASSWORD})
    assert answer.status_code == 302


def test_nobody_signs_up_alone(client):
    page = client.post(
        "/account/signup/", {"email": "new@example.org", "password1": "a long enough phrase"}
    )
    assert not User.objects.filter(email="new@example.org").exists()
    assert page.status_code in (200, 302, 404)


def test_passwords_are_hashed_with_argon2(settings):
    from django.contrib.auth.hashers import make_password

    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
    assert make_password(PASSWORD).startswith("argon2$argon2id$")


def test_a_coordinator_makes_an_account_with_roles(coordinator):
    coordinator.post(
        reverse("accounts:new-person"),
        {
            "name": "Nell Newcomer",
            "email": "Nell@example.org",
            "password": "a long enough phrase",
            "roles": ["student"],
        },
    )
    assert User.objects.get(email="nell@example.org").role_slugs == {"student"}
    assert Event.objects.filter(name="person_created", subject_label="Nell Newcomer").exists()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"email": "not an address"}, "valid email"),
        ({"email": "sol.student@example.org"}, "Somebody has this address"),
        ({"password": "short"}, "too short"),
    ],
)
def test_a_wrong_field_says_what_to_do_and_keeps_the_rest(coordinator, change, words):
    data = {"name": "Nell", "email": "nell@example.org", "password": "a long enough phrase"}
    answer = coordinator.post(reverse("accounts:new-person"), data | change)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page
    assert 'value="Nell"' in page


def test_a_coordinator_cannot_lock_themselves_out(coordinator, people):
    url = reverse("accounts:person", args=[people.coordinator.pk])
    assert coordinator.post(url, {"roles": ["author"], "active": "on"}).status_code == 422
    assert "coordinator" in User.objects.get(pk=people.coordinator.pk).role_slugs


def test_roles_are_given_and_taken(coordinator, people):
    url = reverse("accounts:person", args=[people.stranger.pk])
    coordinator.post(url, {"roles": ["tutor", "reviewer"], "active": "on"})
    coordinator.post(url, {"roles": ["tutor"], "active": "on"})
    assert User.objects.get(pk=people.stranger.pk).role_slugs == {"tutor"}
    names = list(Event.objects.order_by("pk").values_list("name", flat=True))
    assert names.count("role_granted") == 2
    assert names.count("role_withdrawn") == 1


def test_a_cohort_takes_people_in_and_out(coordinator, people):
    coordinator.post(reverse("accounts:new-cohort"), {"name": "Year", "slug": "year"})
    url = reverse("accounts:cohort", args=["year"])
    coordinator.post(url, {"email": people.student.email, "role": "student"})
    assert Membership.objects.get().user == people.student
    coordinator.post(reverse("accounts:leave", args=["year", people.student.pk]))
    assert not Membership.objects.exists()


def test_only_somebody_with_the_role_joins_in_that_role(coordinator, people):
    Cohort.objects.create(slug="year", name="Year")
    url = reverse("accounts:cohort", args=["year"])
    answer = coordinator.post(url, {"email": people.author.email, "role": "tutor"})
    assert "does not hold this role" in answer.content.decode()


def test_a_membership_is_as_student_or_tutor_in_the_database_too(people):
    cohort = Cohort.objects.create(slug="year", name="Year")
    with pytest.raises(IntegrityError), transaction.atomic():
        Membership.objects.create(cohort=cohort, user=people.author, role_id="author")


def test_the_rule_for_one_cohort_and_for_the_list_agree(people):
    mine = Cohort.objects.create(slug="mine", name="Mine")
    Cohort.objects.create(slug="other", name="Other")
    actions.join_cohort(cohort=mine, user=people.tutor, role="tutor", by=None)
    actions.join_cohort(cohort=mine, user=people.student, role="student", by=None)
    for user in people.everyone():
        listed = set(reportable_cohorts(user))
        assert listed == {c for c in Cohort.objects.all() if may_report_on(user, c)}


def test_a_token_works_is_kept_as_a_digest_and_ends(client, people):
    token = actions.make_token(user=people.student, name="laptop")
    assert token not in str(ApiToken.objects.values())
    headers = {"Authorization": f"Bearer {token}"}
    assert client.get("/api/v1/patients", headers=headers).status_code == 200
    actions.revoke_token(token=ApiToken.objects.get(), by=people.student)
    refused = client.get("/api/v1/patients", headers=headers)
    assert refused.status_code == 401
    assert refused.json()["type"] == "urn:casebank:problem:not-signed-in"


def test_somebody_elses_token_cannot_be_ended(client, people):
    actions.make_token(user=people.student, name="laptop")
    client.force_login(people.tutor)
    url = reverse("accounts:revoke-token", args=[ApiToken.objects.get().pk])
    assert client.post(url).status_code == 404


@pytest.mark.parametrize("role", ["author", "reviewer", "tutor", "coordinator", "student"])
def test_the_home_page_says_of_every_place_what_is_there(client, people, role):
    client.force_login(getattr(people, role))
    page = client.get("/")
    places = page.context["places"]
    assert places
    assert all(place.about for place in places)
    assert all(place.about in page.content.decode() for place in places)
