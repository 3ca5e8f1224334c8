"""Where every address leads."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver, include, path
from drf_spectacular.views import SpectacularAPIView

from accounts.views import home

api: list[URLPattern | URLResolver] = [
    path("schema", SpectacularAPIView.as_view(), name="schema"),
    path("", include("casebank.cases.api_urls")),
    path("", include("casebank.cases.catalogue_api_urls")),
    path("", include("casebank.reviews.api_urls")),
    path("", include("casebank.rehearsals.api_urls")),
    path("", include("casebank.encounters.api_urls")),
    path("", include("casebank.analytics.api_urls")),
    path("", include("casebank.analytics.own_cases.api_urls")),
]

urlpatterns = [
    path("", home, name="home"),
    path("account/", include("allauth.urls")),
    path("people/", include("accounts.urls")),
    # Before the cases' own: their sections would take these addresses for names of sections.
    path("cases/", include("casebank.rehearsals.urls")),
    path("cases/", include("casebank.analytics.own_cases.urls")),
    path("cases/", include("casebank.cases.urls")),
    path("examination/", include("casebank.cases.catalogue_urls")),
    path("reviews/", include("casebank.reviews.urls")),
    path("patients/", include("casebank.encounters.urls")),
    path("cohorts/", include("casebank.analytics.urls")),
    path("jobs/", include("casebank.core.jobs.urls")),
    path("api/v1/", include((api, "api"))),
    path("", include("casebank.core.health_urls")),
]
handler400 = "casebank.core.http.errors.bad_request"
handler403 = "casebank.core.http.errors.forbidden"
handler404 = "casebank.core.http.errors.not_found"
handler500 = "casebank.core.http.errors.server_error"
