"""The address of an author's figures in the API."""

from __future__ import annotations

from django.urls import path

from casebank.analytics.own_cases import api

urlpatterns = [
    path(
        "cases/<uuid:case>/versions/<int:number>/figures",
        api.Figures.as_view(),
        name="case-figures",
    ),
]
