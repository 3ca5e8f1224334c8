"""The floor: the least a Django view can do that locks a row, inserts, updates and answers HTML.

Same session, CSRF check, person, row lock, insert, update and a small fragment as a request at a
bed; no words read, no rules, no log.
"""

from __future__ import annotations

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.template import engines
from django.urls import path

from casebank.encounters.models import Encounter, Entry

FRAGMENT = engines["django"].from_string(
    '<form id="request"><input name="text"></form><li id="entry-{{ seq }}">{{ text }}</li>'
)


@login_required
def floor(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Lock, insert, update, answer."""
    text = request.POST.get("text", "")
    with transaction.atomic():
        row = Encounter.objects.select_for_update().get(pk=pk, student_id=request.user.pk)
        row.last_seq += 1
        Entry.objects.create(
            encounter=row, seq=row.last_seq, kind="request", payload={"text": text}
        )
        row.save(update_fields=["last_seq"])
    return HttpResponse(FRAGMENT.render({"seq": row.last_seq, "text": text}, request))


urlpatterns = [path("floor/<uuid:pk>", floor)]
