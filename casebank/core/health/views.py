"""The addresses that machines ask: /livez, /readyz, /metrics."""

from __future__ import annotations

from dataclasses import asdict

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe
from prometheus_client import CONTENT_TYPE_LATEST

from casebank.core.health.metrics import metrics_text
from casebank.core.health.readiness import readiness


@never_cache
@require_safe
def livez(request: HttpRequest) -> JsonResponse:
    """This process answers; nothing else is asked."""
    return JsonResponse({"live": True})


@never_cache
@require_safe
def readyz(request: HttpRequest) -> JsonResponse:
    """200 when the site can serve; 503 with the reasons when not."""
    found = readiness()
    body = {"ready": found.is_ready, **asdict(found)}
    return JsonResponse(body, status=200 if found.is_ready else 503)


@never_cache
@require_safe
def metrics(request: HttpRequest) -> HttpResponse:
    """Prometheus text."""
    return HttpResponse(metrics_text(), content_type=CONTENT_TYPE_LATEST)
