"""The address of an author's figures, among those of the authors' pages."""

from __future__ import annotations

from django.urls import path

from casebank.analytics.own_cases import views

app_name = "own-cases"
urlpatterns = [path("versions/<uuid:pk>/figures/", views.figures, name="figures")]
