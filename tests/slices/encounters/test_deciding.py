"""Signs as the right technique finds them: in the debrief, after the conclusion, for its readers."""

from __future__ import annotations

import re
from uuid import UUID, uuid4

import pytest
from django.core import signing
from django.urls import reverse

from casebank.core.media.sign_files import RENDITIONS, sign_file
from casebank.domain.debrief.signs import deciding_sign
from casebank.encounters import deciding, media
from casebank.encounters.actions import begin, read_finding
from casebank.encounters.debriefing import debrief_of
from casebank.encounters.deciding import SignPlace, place_of, token_of
from casebank.encounters.models import Encounter
from casebank.encounters.pdf.content import content_of
from casebank.encounters.queries import case_of
from tests.factories.encounters import asked, concluded
from tests.factories.heard import APEX, AXILLA, CLEAN, NOTHING_HEARD, heard_begun
from tests.factories.people import person
from tests.factories.teaching import cohort_of

pytestmark = pytest.mark.django_db
TYPES = [("flac", "audio/flac"), ("wav", "audio/wav"), ("svg", "image/svg+xml")]


@pytest.fixture(autouse=True)
def shelf(settings, tmp_path):
    settings.MEDIA_SHELF = tmp_path / "media"


@pytest.fixture
def running(people):
    """Listened to at the axilla, which gives one of two signs, and not yet concluded."""
    return asked(heard_begun(people), CLEAN, AXILLA, by=people.student)


@pytest.fixture
def ended(people, running):
    return concluded(running, by=people.student)


def heard_finding(encounter):
    """The place in the document of the first sign that is heard."""
    findings = case_of(encounter).document.findings
    return next(n for n, one in enumerate(findings) if any(a.sign for a in one.answers))


def address(encounter, ending="wav", finding=None, **kwargs):
    place = SignPlace(encounter.pk, heard_finding(encounter) if finding is None else finding)
    return reverse("encounters:deciding", args=[token_of(place, **kwargs), ending])


def page_of(client, encounter):
    return client.get(reverse("encounters:debrief", args=[encounter.pk])).content.decode()


def linked(page):
    return set(re.findall(r'(?:src|href)="([^"]*/deciding/[^"]+)"', page))


# ---- what it is
@pytest.mark.parametrize(("ending", "kind"), TYPES)
def test_its_student_hears_it_under_a_neutral_name(student, ended, ending, kind):
    answer = student.get(address(ended, ending))
    assert (answer.status_code, answer["Content-Type"]) == (200, kind)
    assert answer["Content-Disposition"] == f'inline; filename="finding.{ending}"'
    assert answer["Cache-Control"] == "private, max-age=3600"


def test_it_is_the_sign_under_the_technique_that_decides(student, ended):
    case = case_of(ended)
    sign = deciding_sign(case, case.document.findings[heard_finding(ended)])
    got = student.get(address(ended)).content
    assert got == sign_file(sign.spec, sign.technique, "wav")
    assert got != sign_file(sign.spec, dict(sign.technique) | {"posture": "supine"}, "wav")


def test_a_sign_told_in_words_alone_and_a_place_that_is_none_are_unknown(student, ended):
    findings = case_of(ended).document.findings
    told = [n for n, one in enumerate(findings) if not any(a.sign for a in one.answers)]
    for place in (*told, len(findings), -1):
        assert student.get(address(ended, finding=place)).status_code == 404, place


def test_an_ending_it_has_not_is_unknown_and_it_is_only_read(student, ended):
    assert student.get(address(ended, "mp3")).status_code == 404
    assert student.post(address(ended)).status_code == 405


# ---- who, and when
def test_before_the_conclusion_there_is_nothing_even_at_the_true_address(student, running):
    assert student.get(address(running)).status_code == 404
    concluded(running, by=running.student)
    assert student.get(address(running)).status_code == 200


def test_nobody_else_gets_it(client, people, ended):
    for other in (person("Una Other", "student"), people.tutor, people.author, people.stranger):
        client.force_login(other)
        assert client.get(address(ended)).status_code == 404, other.name
    client.logout()
    assert client.get(address(ended)).status_code == 302


def test_a_tutor_of_the_student_hears_it_after_the_conclusion_only(client, people, running):
    cohort_of("second", tutors=[people.tutor], students=[people.student])
    client.force_login(people.tutor)
    before = client.get(address(running)).status_code
    concluded(running, by=people.student)
    assert (before, client.get(address(running)).status_code) == (404, 200)


def test_another_who_concluded_the_same_patient_has_addresses_of_their_own(client, people, ended):
    other = person("Una Other", "student")
    theirs = concluded(asked(begin(version=ended.version, by=other), CLEAN, by=other), by=other)
    client.force_login(other)
    assert client.get(address(theirs)).status_code == 200
    assert client.get(address(ended)).status_code == 404
    assert address(theirs) != address(ended)


def test_a_second_attempt_at_the_same_patient_gives_nothing_away_itself(student, people, ended):
    again = asked(begin(version=ended.version, by=people.student), CLEAN, by=people.student)
    assert student.get(address(again)).status_code == 404
    assert student.get(address(ended)).status_code == 200


# ---- addresses
def test_a_place_and_its_token_lead_to_each_other(ended):
    places = [SignPlace(ended.pk, 1, one) for one in RENDITIONS]
    tokens = [token_of(place) for place in places]
    assert len(set(tokens)) == len(RENDITIONS)
    assert [place_of(token) for token in tokens] == places


def test_a_forged_token_is_unknown(student, ended):
    finding, token = heard_finding(ended), token_of(SignPlace(ended.pk, heard_finding(ended)))
    value = [ended.pk.hex, finding]
    forged = [
        "nonsense",
        token[:-1] + ("A" if token[-1] != "A" else "B"),
        signing.Signer(key="guessed", salt=deciding.SALT).sign_object(value),
        signing.Signer(salt=media.SALT).sign_object([*value, 0]),
        signing.Signer(salt=deciding.SALT).sign_object(["no-uuid", finding]),
        signing.Signer(salt=deciding.SALT).sign_object([7, finding]),
        signing.Signer(salt=deciding.SALT).sign_object({"encounter": ended.pk.hex}),
        signing.Signer(salt=deciding.SALT).sign_object([ended.pk.hex, finding, "louder"]),
    ]
    for one in forged:
        url = reverse("encounters:deciding", args=[one, "wav"])
        assert student.get(url).status_code == 404, one


def test_an_address_of_the_bed_is_none_of_the_debrief_and_the_other_way_round(student, ended):
    bed = media.token_of(media.Place(ended.pk, 2, 0))
    assert student.get(reverse("encounters:media", args=[bed, "wav"])).status_code == 200
    assert student.get(reverse("encounters:deciding", args=[bed, "wav"])).status_code == 404
    here = token_of(SignPlace(ended.pk, heard_finding(ended)))
    assert student.get(reverse("encounters:media", args=[here, "wav"])).status_code == 404


def test_a_token_of_no_encounter_is_unknown(student, ended):
    token = token_of(SignPlace(uuid4(), 0))
    assert student.get(reverse("encounters:deciding", args=[token, "wav"])).status_code == 404


# ---- the debrief
def test_the_debrief_offers_the_deciding_sound_beside_what_the_technique_gave(student, ended):
    page = page_of(student, ended)
    section = page[page.index('id="signs-title"') : page.index('id="teaching-title"')]
    found = linked(section)
    assert found
    for one in found:
        assert student.get(one).status_code == 200, one
    assert re.search(r'src="[^"]*/patients/media/[^"]+\.wav"', section)
    assert "Not named." in section
    assert "to be named" not in section


def test_what_was_named_stands_under_what_the_technique_gave(student, people, running):
    read_finding(encounter_id=running.pk, entry=2, medium=0, text="a murmur", by=people.student)
    page = page_of(student, concluded(running, by=people.student))
    section = page[page.index('id="signs-title"') : page.index('id="teaching-title"')]
    assert "“a murmur”" in section
    assert "Not named." not in section


def test_where_nothing_was_heard_the_debrief_says_so_beside_the_sound(people):
    quiet = asked(heard_begun(people), CLEAN, NOTHING_HEARD, by=people.student)
    found = debrief_of(concluded(quiet, by=people.student)).side_by_side
    assert {one.given for one in found} == {None}
    assert {one.sign.medium.kind for one in found} == {"sound"}
    assert all(one.words for one in found)


def test_signs_heard_in_one_sound_have_one_address(people):
    quiet = asked(heard_begun(people), CLEAN, NOTHING_HEARD, by=people.student)
    found = debrief_of(concluded(quiet, by=people.student)).side_by_side
    assert len(found) == 2
    assert len({one.sign.medium.address for one in found}) == 1


def test_a_step_never_done_comes_with_its_sound(student, people):
    idle = concluded(asked(heard_begun(people), CLEAN, by=people.student), by=people.student)
    missed = debrief_of(idle).missed
    assert any(sign.medium for one in missed for sign in one.found)
    assert linked(page_of(student, idle))


def test_what_was_got_as_it_should_be_is_not_offered_again(student, people):
    well = asked(heard_begun(people), CLEAN, APEX, by=people.student)
    assert linked(page_of(student, concluded(well, by=people.student))) == set()


def test_the_api_gives_the_same_addresses_after_the_conclusion_only(student, running):
    url = reverse("api:debrief", args=[running.pk])
    assert student.get(url).status_code == 409
    concluded(running, by=running.student)
    (beside,) = student.get(url).json()["technique"]
    assert beside["given"]["kind"] == beside["sign"]["medium"]["kind"] == "sound"
    for one in (*beside["given"]["addresses"], *beside["sign"]["medium"]["addresses"]):
        assert student.get(one).status_code == 200, one
    for several in beside["sign"]["medium"]["renditions"].values():
        assert all(student.get(one).status_code == 200 for one in several)


def test_no_page_of_an_unfinished_encounter_holds_such_an_address(student, running):
    for name in ("sheet", "steps", "conclude"):
        page = student.get(reverse(f"encounters:{name}", args=[running.pk])).content.decode()
        assert "/deciding/" not in page, name
    assert student.get(reverse("encounters:debrief", args=[running.pk])).status_code != 200


def test_an_unfinished_encounter_has_no_deciding_medium_at_all(running):
    case = case_of(running)
    sign = deciding_sign(case, case.document.findings[heard_finding(running)])
    assert deciding.as_decided(running, case, sign) is None


def test_no_file_holds_the_names_of_what_is_in_it(student, ended):
    for ending in ("flac", "wav", "svg"):
        data = student.get(address(ended, ending)).content.lower()
        for hidden in (b"murmur", b"regurgitation", b"third", b"grade", b"lesion", b"mitral"):
            assert hidden not in data, (ending, hidden)


def test_a_token_names_no_finding(ended):
    token = token_of(SignPlace(ended.pk, heard_finding(ended)))
    value = signing.Signer(salt=deciding.SALT).unsign_object(token)
    assert (UUID(value[0]), value[1:]) == (ended.pk, [heard_finding(ended)])


def test_paper_says_in_words_what_is_heard(ended):
    content = content_of(ended)
    (beside,) = content["beside"]
    (mine,) = debrief_of(ended).side_by_side
    assert mine.given.alternative in beside["got"]
    assert mine.sign.medium.alternative in beside["says"]
    assert any("Not named." in text for row in content["sheet"] for text in row["found"])


def test_reading_a_debrief_changes_nothing(student, ended):
    before = Encounter.objects.values().get(pk=ended.pk)
    student.get(address(ended))
    page_of(student, ended)
    assert Encounter.objects.values().get(pk=ended.pk) == before
