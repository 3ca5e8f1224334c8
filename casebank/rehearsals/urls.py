"""Addresses of rehearsals, among those of the authors' pages."""

from __future__ import annotations

from django.urls import path

from casebank.rehearsals import views

app_name = "rehearsals"
urlpatterns = [
    path("versions/<uuid:pk>/rehearsals/", views.start, name="start"),
    path("rehearsals/<uuid:pk>/", views.rehearsal, name="rehearsal"),
]
