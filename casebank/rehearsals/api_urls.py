"""Addresses of rehearsals in the API."""

from __future__ import annotations

from django.urls import path

from casebank.rehearsals import api

urlpatterns = [
    path(
        "cases/<uuid:case>/versions/<int:number>/rehearsals",
        api.Rehearsals.as_view(),
        name="case-rehearsals",
    ),
    path("rehearsals/<uuid:pk>", api.OneRehearsal.as_view(), name="rehearsal"),
]
